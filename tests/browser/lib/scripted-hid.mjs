// A scripted `navigator.hid` (WICG, WebHID) beside the scripted gamepad: one stick, both ways.
//
// The stick is moved here; its reports come on a fixed beat with the full travel, and the scripted
// gamepad shows what a system makes of them: a hidden middle and cut ends. The collections have the
// form that was observed in Chromium 156 on Linux: inner collections repeat.

/**
 * Runs inside the page, after the scripted gamepad's script. `options`:
 * - `missing`: no interface; `denied`: asking throws; `cancelled`: nobody is chosen;
 * - `allowed`: the device was allowed before; `shut`: it does not open;
 * - `bits` (8): of each axis; `period` (8): milliseconds between reports;
 * - `middle`, `end` (0.125): what the system hides, share of travel to each side;
 * - `hostile`: a device that claims what no device is.
 */
export function scriptedHid(options = {}) {
  const { missing = false, denied = false, cancelled = false, allowed = false, shut = false } = options;
  const { bits = 8, period = 8, middle = 0.125, end = 0.125, hostile = null } = options;
  const define = (value) => Object.defineProperty(navigator, "hid", { configurable: true, value });
  if (missing) return void define(undefined);

  const most = 2 ** bits - 1;
  const item = (wish) => ({
    isAbsolute: true, isArray: false, isBufferedBytes: false, isConstant: false, isLinear: true,
    isRange: false, isVolatile: false, hasNull: false, hasPreferredState: true, wrap: false,
    usages: [], usageMinimum: undefined, usageMaximum: undefined,
    reportSize: 1, reportCount: 1, unitExponent: 0, unitSystem: "none",
    unitFactorLengthExponent: 0, unitFactorMassExponent: 0, unitFactorTimeExponent: 0,
    unitFactorTemperatureExponent: 0, unitFactorCurrentExponent: 0,
    unitFactorLuminousIntensityExponent: 0,
    logicalMinimum: 0, logicalMaximum: 1, physicalMinimum: 0, physicalMaximum: 0, strings: [],
    ...wish,
  });
  // Y stands before X in the report: the order of usages is not that of the report.
  const axes = item({ usages: [0x10031, 0x10030], reportSize: bits, reportCount: 2, logicalMaximum: most });
  const buttons = item({ isRange: true, usages: undefined, usageMinimum: 0x90001, usageMaximum: 0x90004, reportCount: 4 });
  const padding = item({ isConstant: true, reportSize: 4 });
  const report = (items) => ({ reportId: 0, items });
  const collection = (wish) => ({ children: [], inputReports: [], outputReports: [], featureReports: [], ...wish });
  const collections = [
    collection({
      usagePage: 1, usage: 4, type: 1,
      children: [collection({ usagePage: 1, usage: 1, type: 0, inputReports: [report([axes])] })],
      inputReports: [report([axes, buttons, padding])],
      outputReports: [report([item({ reportSize: 8 })])],
    }),
  ];

  const state = { at: [0, 0], buttons: 0, sent: 0, timer: null, ways: null, asked: [] };

  class Device extends EventTarget {
    opened = false;
    vendorId = 1;
    productId = 2;
    productName = "Scripted stick";
    collections = collections;
    async open() {
      if (shut) throw new DOMException("Failed to open the device.", "NotAllowedError");
      this.opened = true;
      window.scriptedHid.opened += 1;
      state.timer = setInterval(() => tick(this), 1);
    }
    async close() {
      this.opened = false;
      window.scriptedHid.closed += 1;
      clearInterval(state.timer);
    }
    sendReport() { window.scriptedHid.written += 1; throw new Error("nothing may be sent"); }
    sendFeatureReport() { window.scriptedHid.written += 1; throw new Error("nothing may be sent"); }
    receiveFeatureReport() { window.scriptedHid.written += 1; throw new Error("nothing may be asked"); }
  }

  /** Where the stick is at a time: straight ways at an even pace. */
  function along(time) {
    const way = state.ways;
    if (!way) return state.at;
    const share = Math.min(1, (time - way.begins) / way.long);
    state.at = way.from.map((from, axis) => from + (way.to[axis] - from) * share);
    return state.at;
  }

  let beat = -1;
  const shownWays = [];
  function tick(device) {
    const now = performance.now();
    const due = Math.floor(now / period);
    if (due === beat) return;
    beat = due;
    const time = due * period;
    const codes = along(time).map((share) => Math.round(((share + 1) / 2) * most));
    const bytes = new Uint8Array(Math.ceil((2 * bits + 8) / 8));
    const view = new DataView(bytes.buffer);
    [codes[1], codes[0]].forEach((code, place) => {
      if (bits === 8) view.setUint8(place, code);
      else view.setUint16(place * 2, code, true);
    });
    bytes[bytes.length - 1] = state.buttons;
    // The system's joystick layer, as the page sees it.
    const to = codes.map((code) => {
      const raw = (2 * code) / most - 1;
      const shown = Math.min(1, Math.max(0, (Math.abs(raw) - middle) / (1 - middle - end)));
      return Math.sign(raw) * shown;
    });
    // The last quarter of a second is enough for looks that come late.
    shownWays.push({ begins: now, ends: now, from: to, to });
    if (shownWays.length > 32) shownWays.shift();
    window.scriptedStick.change({ ways: shownWays });
    const event = new Event("inputreport");
    Object.defineProperties(event, {
      device: { value: device }, reportId: { value: 0 }, data: { value: view }, timeStamp: { value: time },
    });
    state.sent += 1;
    device.dispatchEvent(event);
  }

  function hostileDevice() {
    const device = new Device();
    device.productName = "<img src=x onerror=alert(1)>\u202e\u2066".repeat(300) + "x".repeat(10_000);
    const thrower = { get: () => { throw new Error("a getter that throws"); } };
    if (hostile === "many") {
      const inner = collection({ usagePage: 1, usage: 4, type: 1 });
      device.collections = new Array(100_000).fill(inner);
    } else if (hostile === "cycle") {
      const inner = collection({ usagePage: 1, usage: 4, type: 1 });
      inner.children = [inner, inner];
      device.collections = [inner];
    } else if (hostile === "throws") {
      const inner = { usagePage: 1, usage: 4, type: 1 };
      Object.defineProperty(inner, "children", thrower);
      Object.defineProperty(inner, "inputReports", thrower);
      device.collections = [inner, null, 7, "text", { inputReports: { length: Infinity } }];
      Object.defineProperty(device, "vendorId", thrower);
    }
    // "name": a plain stick with that name.
    return device;
  }

  const device = hostile ? hostileDevice() : new Device();

  class Hid extends EventTarget {
    async getDevices() { return allowed ? [device] : []; }
    async requestDevice(wish) {
      state.asked.push(wish);
      if (!navigator.userActivation.isActive) throw new DOMException("no press", "SecurityError");
      if (denied) throw new DOMException("Access is disallowed by permissions policy.", "SecurityError");
      return cancelled ? [] : [device];
    }
  }
  const hid = new Hid();
  define(hid);

  window.scriptedHid = {
    opened: 0,
    closed: 0,
    /** How often somebody tried to send something to the device. */
    written: 0,
    asked: () => state.asked,
    sent: () => state.sent,
    /** Moves the stick to `to`, right and down, in so many milliseconds, at an even pace. */
    move(to, milliseconds) {
      const now = performance.now();
      state.ways = { begins: now, long: Math.max(1, milliseconds), from: along(now), to };
      return new Promise((done) => setTimeout(done, milliseconds + 20));
    },
    press(buttons) { state.buttons = buttons; },
    /** A report of any bytes. */
    report(reportId, bytes) {
      const event = new Event("inputreport");
      const data = bytes ? new DataView(new Uint8Array(bytes).buffer) : null;
      Object.defineProperties(event, { device: { value: device }, reportId: { value: reportId }, data: { value: data } });
      device.dispatchEvent(event);
    },
    /** Pulls it out. */
    disconnect() {
      clearInterval(state.timer);
      device.opened = false;
      const event = new Event("disconnect");
      Object.defineProperty(event, "device", { value: device });
      hid.dispatchEvent(event);
    },
  };
}
