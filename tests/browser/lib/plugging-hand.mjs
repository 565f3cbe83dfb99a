// A hand at a scripted stick that does at once whatever is asked, and a stick that comes out of its
// socket at the very change to each thing that is asked for the first time.

/**
 * Runs inside the page, after the scripted gamepad's script. `window.plugging` follows the large
 * sentence of the running task:
 * - `begin(place)`: the stick is in `place`; every sentence not met since then unplugs it as soon as
 *   it is there, and another device comes or goes at the same moment;
 * - `plug(place)`: it is back, in this place;
 * - `met`: what has unplugged it since `begin`, directions left out;
 * - `wentOn`: how many times the task went on after it was plugged in.
 */
export function pluggingHand() {
  const STICK = { id: "Scripted stick (Vendor: 0001 Product: 0002)", axes: 2, buttons: 4, noise: 0.001, shown: true };
  const OTHER = { id: "Another stick", axes: 4, buttons: 2, shown: true };
  const OTHER_PLACE = 7;
  const AWAY = { right: [1, 0], left: [-1, 0], up: [0, -1], down: [0, 1] };
  const plugging = { place: 0, out: true, pulls: false, other: false, met: [], wentOn: 0 };
  window.plugging = plugging;
  const stick = () => window.scriptedStick;
  const move = (to, milliseconds) => stick().moveTo(to, milliseconds, plugging.place);

  plugging.begin = (place) => Object.assign(plugging, { place, out: false, pulls: true, met: [] });
  plugging.end = () => Object.assign(plugging, { pulls: false });
  plugging.plug = (place) => {
    Object.assign(plugging, { place, out: false });
    stick().connect(place, STICK);
  };
  plugging.unplug = () => {
    plugging.out = true;
    stick().disconnect(plugging.place);
  };

  /** Another device comes, or goes. */
  function other() {
    plugging.other = !plugging.other;
    if (plugging.other) stick().connect(OTHER_PLACE, OTHER);
    else stick().disconnect(OTHER_PLACE);
  }

  let acted = "";
  let since = 0;
  let rested = false;
  function act(text) {
    acted = text;
    since = performance.now();
    const named = Object.keys(AWAY).filter((way) => text.includes(way));
    const to = named.reduce(([x, y], way) => [x + AWAY[way][0], y + AWAY[way][1]], [0, 0]);
    if (/into the ring/.test(text)) move([to[0] * 0.8, to[1] * 0.8], 3000);
    else if (/as far as is comfortable/.test(text)) {
      move([to[0] * 0.6, to[1] * 0.6], 300);
      setTimeout(() => acted === text && !plugging.out && move([0, 0], 300), 1200);
    } else if (/^Stay/.test(text)) {
      stick().stop(plugging.place);
      setTimeout(() => acted === text && !plugging.out && move([0, 0], 300), 4000);
    } else if (/^Button/.test(text)) {
      // A stick that comes out while its button is down is not there to let go.
      const press = (milliseconds) =>
        stick().press(plugging.place, Number(text.match(/\d+/)[0]), milliseconds).catch(() => {});
      press(/hold/.test(text) ? 500 : 90).then(() => /twice/.test(text) && !plugging.out && setTimeout(() => press(90), 120));
    } else if (/^Move/.test(text)) move([0.6, 0.3], 400);
    else move([0, 0], 250);
  }

  function look() {
    const text = document.querySelector("main h1.prompt")?.textContent ?? "";
    if (!text || text === "Resting." || plugging.out) {
      acted = "";
      rested ||= text === "Resting.";
      return;
    }
    if (rested) plugging.wentOn += 1;
    rested = false;
    const plain = text.replace(/\b(up|down|left|right|and|\d+)\b\s?/g, "");
    if (plugging.pulls && !plugging.met.includes(plain)) {
      plugging.met.push(plain);
      other();
      plugging.unplug();
    } else if (text !== acted || performance.now() - since > 6000) act(text);
  }
  new MutationObserver(look).observe(document, { subtree: true, childList: true, characterData: true });
  setInterval(look, 50);
}
