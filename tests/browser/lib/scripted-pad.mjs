// A scripted device in place of `navigator.getGamepads`, whose every state is known.
//
// It behaves as the open gamepad interface says and as was observed in Chromium 156 on Linux:
//  - the list has empty places; a device keeps its place until it goes;
//  - a device is hidden until one of its buttons was pressed;
//  - its object changes only when a value changes, and `timestamp` is the time of that change;
//  - it tells that devices came and went from within `getGamepads()`, and only there: what listens
//    runs inside the look of whoever looks first;
//  - values change on a fixed beat: 4 ms, or that of the frames;
//  - the page can be refused the interface (SecurityError), or not have it at all.
//
// What it shows is a function of the clock alone, so that a busy page loses states exactly as it
// would from a real device. The test moves it through `window.scriptedStick`, which exists only
// where this script was put in.

/**
 * Runs inside the page, before its own scripts. `options`:
 * - `slots` (8): length of the list; `period` (4): milliseconds between states;
 * - `phase` (0): milliseconds by which the beat is shifted;
 * - `missing`, `refused`: no interface, or a refusing one.
 */
export function scriptedPad(options = {}) {
  const { slots = 8, period = 4, phase = 0, missing = false, refused = false } = options;
  const define = (value) =>
    Object.defineProperty(navigator, "getGamepads", { configurable: true, value });
  if (missing) return void define(undefined);
  if (refused) {
    return void define(() => {
      throw new DOMException("Access to the feature is disallowed", "SecurityError");
    });
  }

  const devices = new Map();
  const beatAt = (time) => Math.floor((time - phase) / period);
  const timeOf = (beat) => phase + beat * period;

  /** A number in 0..1 from two whole numbers, the same every time (an integer hash). */
  function scatter(seed, number) {
    let h = (Math.imul(seed | 0, 0x9e3779b1) ^ Math.imul(number | 0, 0x85ebca77)) >>> 0;
    h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d) >>> 0;
    h = Math.imul(h ^ (h >>> 12), 0x297a2d39) >>> 0;
    return ((h ^ (h >>> 15)) >>> 0) / 4294967296;
  }

  /** Normally spread, standard deviation 1 (Box and Muller 1958). */
  function normal(seed, number) {
    const u = 1 - scatter(seed, 2 * number);
    return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * scatter(seed, 2 * number + 1));
  }

  /** Where the hand is at a time: along straight ways with a smooth start and end. */
  function along(ways, time) {
    let at = ways[0].to;
    for (const way of ways) {
      if (time < way.begins) break;
      const share = way.ends > way.begins ? Math.min(1, (time - way.begins) / (way.ends - way.begins)) : 1;
      const smooth = share * share * (3 - 2 * share);
      at = way.to.map((to, axis) => way.from[axis] + (to - way.from[axis]) * smooth);
    }
    return at;
  }

  function axesAt(device, beat) {
    const time = timeOf(beat);
    if (device.counting) {
      // Every state differs from its neighbours and tells its own number, for counting.
      const number = ((beat % 4096) + 4096) % 4096;
      return device.axes.map((_, axis) => (axis === 0 ? number / 2048 - 1 : 0));
    }
    const at = along(device.ways, time);
    const { noise, step, tremor } = device;
    return at.map((value, axis) => {
      let shown = value + (device.offset[axis] ?? 0);
      if (axis < 2 && noise > 0) shown += noise * normal(device.seed + axis, beat);
      if (axis < 2 && tremor) {
        const turn = (2 * Math.PI * tremor.hertz * time) / 1000 + axis * (tremor.lag ?? 0);
        shown += tremor.size * Math.sin(turn);
      }
      if (step > 0) shown = Math.round(shown / step) * step;
      // A hat of 0..7 as one axis: its null state 8 lies outside (W3C Gamepad's formula).
      if (axis === device.hat) return value === 0 ? 9 / 7 : value;
      return Math.max(-1, Math.min(1, shown));
    });
  }

  const same = (a, b) => a.length === b.length && a.every((value, at) => value === b[at]);

  /** The object for the present beat: the old one unless a value has changed since. */
  function present(device) {
    const beat = beatAt(performance.now());
    if (device.object && beat <= device.beat) return device.object;
    // When the state shown now came up: on a beat since the last look, never one before it.
    const axes = axesAt(device, beat);
    const pressedNow = device.buttons.slice();
    if (device.object && same(axes, device.shownAxes) && same(pressedNow, device.shownButtons)) {
      let missed = false;
      for (let b = Math.max(device.beat + 1, beat - 50); b < beat && !missed; b += 1) {
        missed = !same(axesAt(device, b), axes);
      }
      if (!missed) {
        device.beat = beat;
        return device.object;
      }
    }
    let changed = beat;
    const before = device.object ? device.beat : beat - 1;
    while (changed > before + 1 && same(axesAt(device, changed - 1), axes)) changed -= 1;
    device.beat = beat;
    device.shownAxes = axes;
    device.shownButtons = pressedNow;
    device.object = {
      id: device.id,
      index: device.index,
      connected: true,
      mapping: device.mapping,
      timestamp: timeOf(changed),
      axes: Object.freeze(axes.slice()),
      buttons: Object.freeze(
        pressedNow.map((value) => Object.freeze({ pressed: value > 0.5, touched: value > 0, value })),
      ),
      vibrationActuator: null,
    };
    return device.object;
  }

  /** What the page was shown when it looked last, by place. */
  let told = new Map();

  function tell(name, gamepad) {
    const event = new Event(name);
    Object.defineProperty(event, "gamepad", { value: gamepad });
    window.dispatchEvent(event);
  }

  /** Tells what has changed since the last look. Another look from within finds nothing new. */
  function tellChanges() {
    const shown = [...devices.values()].filter(({ shown, index }) => shown && index < slots);
    const before = told;
    told = new Map(shown.map((found) => [found.index, { device: found, object: present(found) }]));
    for (const [index, { device, object }] of before) {
      if (told.get(index)?.device !== device) {
        tell("gamepaddisconnected", { ...object, connected: false });
      }
    }
    for (const [index, { device, object }] of told) {
      if (before.get(index)?.device !== device) tell("gamepadconnected", object);
    }
  }

  function device(index) {
    const found = devices.get(index);
    if (!found) throw new Error(`there is no scripted device at ${index}`);
    return found;
  }

  window.scriptedStick = {
    /** Plugs a device in. It stays hidden until a button is pressed, unless `shown`. */
    connect(index = 0, wish = {}) {
      const axes = wish.axes ?? 2;
      devices.set(index, {
        index,
        id: wish.id ?? "Scripted stick (Vendor: 0001 Product: 0002)",
        mapping: wish.mapping ?? "",
        axes: new Array(axes).fill(0),
        buttons: new Array(wish.buttons ?? 4).fill(0),
        offset: wish.offset ?? new Array(axes).fill(0),
        noise: wish.noise ?? 0,
        tremor: wish.tremor ?? null,
        step: wish.step ?? 0,
        hat: wish.hat ?? null,
        seed: wish.seed ?? 1,
        counting: wish.counting ?? false,
        ways: [{ begins: 0, ends: 0, from: new Array(axes).fill(0), to: new Array(axes).fill(0) }],
        beat: -Infinity,
        object: null,
        shown: wish.shown ?? false,
      });
    },
    /** Pulls it out. */
    disconnect(index = 0) {
      devices.delete(device(index).index);
    },
    /** Presses and releases a button; the first press of any button also reveals the device. */
    async press(index = 0, button = 0, milliseconds = 120) {
      const found = device(index);
      found.buttons[button] = 1;
      found.shown = true;
      await new Promise((done) => setTimeout(done, milliseconds));
      found.buttons[button] = 0;
    },
    /** Moves the hand to `to` (one number an axis) in so many milliseconds, beginning now. */
    moveTo(to, milliseconds = 0, index = 0) {
      const found = device(index);
      const now = performance.now();
      const from = along(found.ways, now);
      const whole = found.axes.map((_, axis) => to[axis] ?? 0);
      // Ways that had not begun yet are given up: the hand does the new thing.
      found.ways = found.ways.filter((way) => way.begins <= now);
      found.ways.push({ begins: now, ends: now + milliseconds, from, to: whole });
    },
    /** The hand stays where it is now. */
    stop(index = 0) {
      this.moveTo(along(device(index).ways, performance.now()), 0, index);
    },
    /** Changes how it behaves from now on: noise, tremor, step, offset, counting. */
    change(wish, index = 0) {
      Object.assign(device(index), wish);
    },
    /** The beat of a time on the page's clock, in milliseconds. */
    beatAt,
  };

  define(() => {
    tellChanges();
    const list = new Array(slots).fill(null);
    for (const found of devices.values()) {
      if (found.shown && found.index < slots) list[found.index] = present(found);
    }
    return list;
  });
}
