#!/usr/bin/python3
"""scenarios.py NAME OUTDIR: plays one scenario of the long proof inside the small Linux.

Each is a function below: it plugs sticks in, uses the page by its names, and holds what came of it
against the truth, which is known because the hand is scripted. OUTDIR/bars.json says what was
measured and its bar; problems.txt says what went wrong, page.png how the page looked at the end.
"""
import json, os, re, shutil, sys, time, traceback

from browser import ADDRESS, DOWNLOADS, Browser, until
from hand import Hand
from page import Page
from stick import Stick

REACH = {"right": 0.6, "up": 0.5, "left": 0.6, "down": 0.35}
GONE = "The stick is gone"


class Rig:
    def __init__(self, scenario, out):
        self.scenario, self.out = scenario, out
        self.bars, self.problems, self.page = [], [], None

    def bar(self, what, measured, side, bar):
        self.bars.append({"name": f"{self.scenario}: {what}", "measured": measured, "side": side, "bar": bar})
        print("bar", self.bars[-1], flush=True)

    def at_most(self, what, measured, bar):
        self.bar(what, measured, "at_most", bar)

    def at_least(self, what, measured, bar):
        self.bar(what, measured, "at_least", bar)

    def open(self, policies=None):
        self.browser = Browser(policies or {})
        print("browser", self.browser.version, flush=True)
        self.page = Page(self.browser)
        self.page.press("Go on to the stick")
        self.page.see("Which stick?")
        return self.page

    def run(self):
        try:
            SCENARIOS[self.scenario](self)
        except Exception:
            self.problems.append(traceback.format_exc())
        if self.page:
            self.problems += self.browser.errors()
            self.browser.picture(f"{self.out}/page.png")
            with open(f"{self.out}/page.txt", "w") as file:
                file.write(self.browser.evaluate("document.body.innerText"))
        self.at_most("problems", len(self.problems), 0)
        saved = [os.path.join(DOWNLOADS, name) for name in os.listdir(DOWNLOADS)]
        for file in ["/tmp/chromium.log", "/tmp/Xorg.0.log"] + saved:
            shutil.copy(file, self.out)
        for name, text in (("problems.txt", "\n".join(self.problems)), ("bars.json", json.dumps(self.bars, indent=2))):
            with open(f"{self.out}/{name}", "w") as file:
                file.write(text)
                file.flush(), os.fsync(file.fileno())


def sides_of(reach):
    """The four sides whose reach was found, with it."""
    known = {one["asked"]: one["reach"]["known"]["value"] for one in reach if "known" in one["reach"]}
    return {side: value for side, value in known.items() if side in REACH}


def farthest_off(reach, truth):
    """How far the reach that was found lies from the truth, on the worst of the four sides."""
    found = sides_of(reach)
    print("reach", found, "true", truth, flush=True)
    return max(abs(found.get(side, 0.0) - true) for side, true in truth.items())


def summary(page):
    page.go("hand-over")
    page.see("Kept in this browser at", 60)
    # For whoever looks into a bar that was missed.
    page.save("Save the fitting with its recordings")
    return page.save("Save the summary as a file")["body"]


# --- the scenarios


def measure(rig):
    """The main job: plugged in, shown by a button, taken, measured by a short plan."""
    page, stick = rig.open(), Stick()
    page.see("No stick has shown itself yet")
    stick.plug()
    stick.press()
    rig.at_least("a lone stick is taken by itself", int(page.take(stick)), 1)
    stick.move((0.6, 0), 0.3)
    page.see("% right")
    stick.move((0, 0), 0.3)
    page.plan(3)

    def hand_for(task):
        # Outside the hidden middle now and then: only so does the page see anything of it.
        stick.rest_on_it(0.2 if task.startswith(("Quiet rest", "Busy rest")) else 0.0)

    hand = Hand(page, stick, REACH)
    played = hand.play_plan(hand_for)
    rig.at_least("tasks of the plan", len(played), 3)
    page.press("See the settings")
    page.see("Settings to try")
    said = summary(page)
    truth = {side: stick.shown_to(side, share) for side, share in REACH.items()}
    rig.at_most("reach off the truth as shown, share of the travel", farthest_off(said["reach"], truth), 0.02)
    shown = stick.shown(0.2)
    dead_zone = said["dead_zone"].get("known", {}).get("radius", {}).get("value", -1.0)
    print("dead zone", dead_zone, "a resting hand goes to", shown, said["dead_zone"], flush=True)
    rig.at_least("dead zone over where a resting hand goes to, share of the travel", dead_zone - shown, -0.002)
    # A third of a minute of rest is little: the upper end of what it may be is suggested.
    rig.at_most("dead zone beyond that, share of the travel", dead_zone - shown, 0.06)


TASKS = ["Hands off", "Quiet rest", "Busy rest", "Free movement", "Reach", "Hold", "Longer hold", "Return", "Presses"]


def unplugged_in_tasks(rig):
    """Pulled out in the middle of every kind of task, and plugged in again."""
    page, stick = rig.open(), Stick()
    stick.plug()
    stick.press()
    page.take(stick)
    page.plan(3)
    hand = Hand(page, stick, REACH)
    went_on = 0
    for task in TASKS:
        print("task", task, flush=True)
        page.begin(task)
        if task in ("Hands off", "Quiet rest", "Busy rest"):
            time.sleep(1.5)
        else:
            # Half-way out, in the middle of what is asked.
            hand.act()
            stick.tell(move=(0.4, -0.2), ms=300)
            time.sleep(0.15)
        stick.unplug()
        page.see(GONE)
        assert page.sentence() == "Resting.", page.sentence()
        time.sleep(1.5)
        stick.plug()
        stick.press()
        page.see_no_more(GONE)
        # By itself: nobody presses anything of the page.
        until(lambda: page.sentence() != "Resting.", 10, f"{task} goes on")
        went_on += 1
        end = time.monotonic() + 3
        while time.monotonic() < end and not hand.act().startswith("That is enough"):
            pass
        stick.move((0, 0), 0.2)
        page.stop_and_keep()
    rig.at_least("kinds of task that went on by themselves", went_on, len(TASKS))
    page.go("hand-over")
    page.see("Kept in this browser at", 60)
    records = [task["body"]["record"] for task in page.save("Save the fitting with its recordings")["tasks"]]
    rig.at_least("tasks kept", len(records), len(TASKS))

    def whole(record):
        """A pause while it was gone, recorded before it and after it, and nothing in between."""
        gone = max(record["pauses"], key=lambda pause: pause["to_seconds"] - pause["from_seconds"], default=None)
        if gone is None or gone["to_seconds"] - gone["from_seconds"] < 1.5:
            return False
        polled = record["recording"]["polled"]
        return (any(span["to_seconds"] <= gone["from_seconds"] + 0.05 for span in polled)
                and any(span["from_seconds"] >= gone["to_seconds"] - 0.3 for span in polled))
    rig.at_least("of these with what was before and after, and the pause", sum(map(whole, records)), len(TASKS))


def another_one(rig):
    """On the screen of the sticks: a second one comes and goes, and the chosen one does, many times."""
    page, first, second = rig.open(), Stick(), Stick("Other stick", 0xA002)
    first.plug()
    first.press()
    page.take(first)
    names = lambda: {name for name, _ in page.sticks()}
    times = 12
    for turn in range(times):
        print("turn", turn, flush=True)
        second.plug()
        second.press()
        until(lambda: names() == {first.name, second.name}, 20, "both in the list", 0.05)
        # Some go while they move: the list of devices then changes in the middle of a look.
        if turn % 2:
            second.tell(move=(0.9, 0.9), ms=400)
        second.unplug()
        until(lambda: names() == {first.name}, 20, "one in the list", 0.05)
        assert [first.name, True] in page.sticks(), "the chosen one stays chosen"
        if turn % 3 == 2:
            first.unplug()
            page.see(GONE)
            first.plug()
            first.press()
            page.see_no_more(GONE)
            until(lambda: [first.name, True] in page.sticks(), 10, "it is the chosen one again", 0.05)
    rig.at_least("comings and goings of a second stick", times, 12)


def two(rig):
    """Two of one model at once: only the chosen one counts, and only its going pauses."""
    page, used, other = rig.open(), Stick(), Stick()
    used.plug()
    used.press()
    page.take(used)
    other.plug()
    other.press()
    until(lambda: len(page.sticks()) == 2, 20, "both in the list", 0.05)
    assert [chosen for _, chosen in page.sticks()] == [True, False], page.sticks()
    page.plan(3)
    page.begin("Reach")
    hand = Hand(page, used, REACH)
    # Whatever the other one does is nobody's push.
    other.move((0.9, 0.9), 0.2)
    hand.act()
    other.unplug()
    time.sleep(1.5)
    rig.at_most("pauses while the other one goes", int(page.has(GONE)), 0)
    while not page.step().startswith("Reach · push 3"):
        hand.act()
    # The other one comes back while the used one is there, then the used one goes.
    other.plug()
    other.press()
    used.move((0.3, 0), 0.2)
    used.unplug()
    page.see(GONE)
    other.move((0.9, 0), 0.2)
    other.move((0, 0), 0.2)
    time.sleep(0.5)
    rig.at_least("pauses while the used one is gone", int(page.has(GONE) and page.sentence() == "Resting."), 1)
    used.plug()
    used.press()
    page.see_no_more(GONE)
    other.unplug()
    hand.play()
    said = summary(page)
    truth = {side: used.shown_to(side, share) for side, share in REACH.items()}
    rig.at_most("reach off the truth as shown, share of the travel", farthest_off(said["reach"], truth), 0.02)


def raw(rig, bits):
    """Raw reports: what the system hides is found, and the reach is that of the stick itself."""
    page = rig.open({"WebHidAllowAllDevicesForUrls": [ADDRESS.rstrip("/")]})
    stick = Stick(bits=bits)
    stick.plug()
    stick.press()
    page.take(stick)
    page.press("What gets through")
    page.see("The raw reports")
    page.press(f"Read {stick.name}, which was allowed before")
    page.see(f"Reading the reports of {stick.name}.")
    between = r"Between ([\d.]+)\s% \w+ .*? and ([\d.]+)\s% \w+ .*?the page sees nothing"
    # As the page asks: slowly, and again where it says that too little was seen; in steps where the reports
    # come late, as they do on one slow processor.
    for _ in range(4):
        for way in ((1, 0), (-1, 0)):
            stick.move(way, 4)
            stick.move((0, 0), 4)
        late = re.search(r"hold it still for (\d+)\ss", page.text())
        for side in (1, -1) if late else ():
            print(late[0], flush=True)
            for step in range(20, 270, 15):
                stick.move((side * step / 1000, 0), 0.1, stay=int(late[1]))
            stick.move((0, 0), 0.5)
        if middle := re.search(between, page.text()):
            break
    else:
        raise TimeoutError("never came true: a hidden middle on both sides")
    print(middle[0], flush=True)
    sides = [float(share) / 100 for share in middle.groups()]
    hidden = next(share / 1e4 for share in range(10_000) if stick.shown(share / 1e4) > 0)
    rig.at_most("hidden middle off the truth, share of the travel",
                max(abs(side - hidden) for side in sides), 0.015)
    rate = re.search(r"About (\d+) reports a second", page.text())
    print("rate", rate and rate[0], flush=True)
    if rate:
        rig.at_most("rate off 125 reports a second", abs(int(rate[1]) - 125), 15)
    else:
        page.see("Cannot tell yet: move the stick")

    page.press("Measure with the raw reports")
    page.go("stick")
    page.see(f"{stick.name}, raw reports")
    page.plan(3)
    # Again, as anybody would, where the machine looked too seldom and too little of it counts.
    for _ in range(4):
        page.begin("Reach")
        Hand(page, stick, REACH).play()
        said = summary(page)
        if len(sides_of(said["reach"])) == len(REACH):
            break
        page.go("measure")
    rig.at_most("reach off the truth, share of the travel", farthest_off(said["reach"], REACH), 0.02)
    page.go("stick")
    page.see(f"{stick.name}, raw reports")
    stick.unplug()
    page.see(GONE)


SCENARIOS = {
    "measure": measure,
    "unplugged_in_tasks": unplugged_in_tasks,
    "another_one": another_one,
    "two": two,
    "raw_8": lambda rig: raw(rig, 8),
    "raw_16": lambda rig: raw(rig, 16),
}

if __name__ == "__main__":
    Rig(*sys.argv[1:3]).run()
