"""A stick of the rig as the scenarios hold it, and what the system's joystick layer makes of it."""
import json, math, subprocess, sys, threading, time

from browser import HERE, until
from uhid import code


class Stick:
    """One stick: plugged in and pulled out as often as one likes."""

    def __init__(self, name="Rig stick", product=0xA001, bits=8):
        # The browser hands the page the name with the numbers of maker and product, which the page takes off.
        self.name, self.bits = name, bits
        self.wish = {"name": name, "product": product, "bits": bits}
        self.process = None

    def plug(self):
        self.process = subprocess.Popen([sys.executable, "-u", HERE + "/uhid.py", json.dumps(self.wish)],
                                        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        self.events = []
        threading.Thread(target=self.read, args=(self.process,), daemon=True).start()
        until(lambda: self.events or self.process.poll() is not None, 10, "the kernel takes the stick")
        if self.process.poll() is not None:
            raise RuntimeError("the kernel did not take the stick")
        subprocess.run(["udevadm", "settle", "-t", "5"])
        # The browser opens the device some time after that; what is pressed before is lost.
        time.sleep(1.2)

    def read(self, process):
        for line in process.stdout:
            self.events.append(json.loads(line))

    def unplug(self):
        self.tell(quit=1)
        self.process.wait(10)

    def tell(self, **wish):
        self.process.stdin.write(json.dumps(wish) + "\n")
        self.process.stdin.flush()

    def move(self, to, seconds, stay=0.0):
        """The hand goes to a place (right, down) in so many seconds and stays there."""
        self.tell(move=to, ms=1000 * seconds)
        time.sleep(seconds + stay)

    def press(self, button=0, seconds=0.15):
        self.tell(press=button, ms=1000 * seconds)
        time.sleep(seconds + 0.1)

    def rest_on_it(self, radius, hertz=5.7):
        """From now on, whatever else moves it: a circle, as of a hand that trembles."""
        self.tell(circle=radius, hertz=hertz)

    def shown(self, share):
        """What the page is shown of a stick at a share of its travel (-1 to 1) along one axis.

        The kernel's joystick layer cuts a sixteenth of the range out of each side of the middle and
        off each end, and stretches what is left (observed, Chromium 156 on Linux: an 8-bit stick reads
        0 at 112 to 142, -1 up to 15, 1 from 239 on).
        """
        most = 2 ** self.bits - 1
        hidden, middle = most // 16, most // 2
        off = code(share, self.bits) - middle
        left = max(0, abs(off) - hidden) / (middle - 2 * hidden)
        return math.copysign(min(1.0, left), off)

    def shown_to(self, side, share):
        """The same for a push to a side, as its length."""
        return abs(self.shown(-share if side in ("left", "up") else share))
