#!/usr/bin/python3
"""One process = one stick on the bus: a HID device that the kernel makes from a report descriptor
(/dev/uhid) and that sends its input reports on a fixed beat, as a stick on USB does.

argv[1]: JSON {name, product, bits}
stdin:   one JSON command a line:
         {"move": [right, down], "ms": n}    the hand goes there on a smooth way, shares of the travel
         {"press": button, "ms": n}
         {"circle": radius, "hertz": n}      goes round a circle beside all that; radius 0 ends it
         {"quit": 1}                         is pulled out; so does the end of stdin
stdout:  one JSON event a line: started
"""
import json, math, os, select, struct, sys, threading, time

DESTROY, START = 1, 2
GET_REPORT, GET_REPORT_REPLY, CREATE2, INPUT2, SET_REPORT, SET_REPORT_REPLY = 9, 10, 11, 12, 13, 14
EVENT_SIZE = 4 + 4372  # struct uhid_event of linux/uhid.h
BUS_USB = 3
VENDOR = 0x1209  # pid.codes, for tests
PERIOD_S = 0.008
BUTTONS = 12


def descriptor(bits):
    """A joystick: X and Y of so many bits, a hat, twelve buttons (HID 1.11, section 6.2.2)."""
    most = {8: "26 ff 00", 16: "27 ff ff 00 00"}[bits]
    return bytes.fromhex(
        "05 01 09 04 a1 01"                                # generic desktop, joystick
        "09 01 a1 00 09 30 09 31 15 00" + most +           # pointer: X, Y from 0 to the most
        f"75 {bits:02x} 95 02 81 02 c0"
        "09 39 15 00 25 07 35 00 46 3b 01 65 14"           # hat: 0 to 7, in degrees, null state
        "75 04 95 01 81 42 65 00 45 00"
        "75 04 95 01 81 03"                                # four bits of nothing
        "05 09 19 01 29 0c 15 00 25 01 75 01 95 0c 81 02"  # buttons 1 to 12
        "75 04 95 01 81 03 c0")                            # four bits of nothing


def code(share, bits):
    """What a stick at a share of its travel (-1 to 1) reports."""
    most = 2 ** bits - 1
    return min(most, max(0, round((share + 1) / 2 * most)))


def say(event, **more):
    os.write(1, (json.dumps(dict(event=event, **more)) + "\n").encode())


class Stick:
    def __init__(self, wish):
        self.bits = wish["bits"]
        self.start = self.to = (0.0, 0.0)
        self.began = self.ends = 0.0
        self.pressed_until = {}
        self.radius, self.hertz = 0.0, 1.0
        self.file = os.open("/dev/uhid", os.O_RDWR)
        described = descriptor(self.bits)
        text = lambda value, size: value.encode()[:size - 1].ljust(size, b"\0")
        os.write(self.file, struct.pack("<I", CREATE2) + text(wish["name"], 128) + text("rig/uhid", 64)
                 + text("", 64) + struct.pack("<HHIIII", len(described), BUS_USB, VENDOR, wish["product"], 0x101, 0)
                 + described)

    def answer_kernel(self):
        """Without an answer to GET_REPORT and SET_REPORT whoever asks waits for five seconds."""
        while True:
            try:
                event = os.read(self.file, EVENT_SIZE)
            except OSError:
                return
            kind = struct.unpack_from("<I", event)[0]
            if kind == START:
                say("started")
            elif kind in (GET_REPORT, SET_REPORT):
                number = struct.unpack_from("<I", event, 4)[0]
                no = {GET_REPORT: struct.pack("<IIHH", GET_REPORT_REPLY, number, 5, 0),
                      SET_REPORT: struct.pack("<IIH", SET_REPORT_REPLY, number, 5)}
                os.write(self.file, no[kind])

    def hand(self, now):
        share = 1.0 if now >= self.ends else (now - self.began) / (self.ends - self.began)
        smooth = share * share * (3 - 2 * share)
        return tuple(a + (b - a) * smooth for a, b in zip(self.start, self.to))

    def obey(self, wish, now):
        if "move" in wish:
            self.start, self.to = self.hand(now), tuple(wish["move"])
            self.began, self.ends = now, now + wish["ms"] / 1e3
        elif "press" in wish:
            self.pressed_until[wish["press"]] = now + wish["ms"] / 1e3
        elif "circle" in wish:
            self.radius, self.hertz = wish["circle"], wish.get("hertz", 1.0)

    def report(self, now):
        x, y = self.hand(now)
        turn = 2 * math.pi * self.hertz * now
        x, y = x + self.radius * math.cos(turn), y + self.radius * math.sin(turn)
        buttons = sum(1 << button for button, until in self.pressed_until.items() if now < until)
        form = {8: "<BBBH", 16: "<HHBH"}[self.bits]
        data = struct.pack(form, code(x, self.bits), code(y, self.bits), 0x0F, buttons)
        os.write(self.file, struct.pack("<IH", INPUT2, len(data)) + data)

    def run(self):
        """Sends a report on every beat until somebody pulls it out."""
        beat, waiting = time.monotonic(), b""
        while True:
            beat += PERIOD_S
            while (left := beat - time.monotonic()) > 0:
                if select.select([0], [], [], left)[0]:
                    read = os.read(0, 65536)
                    *lines, waiting = (waiting + read).split(b"\n")
                    for line in lines:
                        wish = json.loads(line)
                        if "quit" in wish:
                            return
                        self.obey(wish, time.monotonic())
                    if not read:
                        return
            now = time.monotonic()
            if now - beat > 0.1:  # the machine stood still: no burst afterwards
                beat = now
            self.report(now)


def main():
    try:
        os.sched_setscheduler(0, os.SCHED_FIFO, os.sched_param(10))
    except OSError:
        pass
    stick = Stick(json.loads(sys.argv[1]))
    threading.Thread(target=stick.answer_kernel, daemon=True).start()
    stick.run()
    os.write(stick.file, struct.pack("<I", DESTROY))
    os.close(stick.file)


if __name__ == "__main__":
    main()
