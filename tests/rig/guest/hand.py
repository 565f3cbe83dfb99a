"""A scripted hand: reads the one large sentence, as a player does, and moves the stick.

It knows the sentences that tests/browser/lib/player.mjs knows, and does the same.
"""
import math, re, time

WAYS = {"right": (1, 0), "left": (-1, 0), "up": (0, -1), "down": (0, 1)}
DONE = "That is enough"


def way_of(sentence):
    """Where a sentence asks to push: right and down, of length 1."""
    named = [way for word, way in WAYS.items() if re.search(rf"\b{word}\b", sentence)]
    x, y = (sum(parts) for parts in zip(*named))
    length = math.hypot(x, y)
    return x / length, y / length


class Hand:
    def __init__(self, page, stick, reach, effort=2):
        """`reach`: how far this person goes to each side, by its word; shares of the travel."""
        self.page, self.stick, self.reach, self.effort = page, stick, reach, effort
        self.heard = []

    def far(self, way):
        """How far it goes that way: an ellipse through the reach of the two sides it lies between."""
        x, y = way
        across = self.reach["right" if x > 0 else "left"]
        along = self.reach["down" if y > 0 else "up"]
        return 1 / math.hypot(x / across, y / along)

    def to(self, way, share, seconds, stay=0.0):
        length = share * self.far(way)
        self.stick.move((way[0] * length, way[1] * length), seconds, stay)

    def back(self, seconds=0.35):
        self.stick.move((0, 0), seconds)

    def changed(self, sentence, seconds):
        """Waits until something else is asked, so long at most."""
        end = time.monotonic() + seconds
        while (same := self.page.sentence() == sentence) and time.monotonic() < end:
            time.sleep(0.04)
        return not same

    def act(self):
        """Does what is asked now."""
        sentence = self.page.sentence()
        if not self.heard or self.heard[-1] != sentence:
            self.heard.append(sentence)
        if re.match(r"Push .*, as far as is comfortable", sentence):
            self.to(way_of(sentence), 1, 0.45, stay=1.0)
            self.back()
            self.changed(sentence, 3)
        elif re.match(r"Push .*, into the ring", sentence):
            # Outwards in small steps until the ring is met, as by sight.
            for step in range(3, 21):
                self.to(way_of(sentence), step / 20, 0.06, stay=0.12)
                if self.page.sentence() != sentence:
                    break
        elif sentence.startswith("Stay in the ring"):
            self.changed(sentence, 25)
        elif sentence.startswith("Move any way"):
            for way in WAYS.values():
                self.to(way, 0.8, 0.35, stay=0.35)
                self.back(0.3)
                time.sleep(0.4)
        elif found := re.match(r"Button (\d+): (.*)", sentence):
            button, how = int(found[1]), found[2]
            time.sleep(0.25)
            if "twice" in how:
                self.stick.press(button, 0.09)
            self.stick.press(button, 0.5 if "hold" in how else 0.09)
            self.changed(sentence, 3)
        elif sentence.startswith("How hard"):
            self.back(0.25)
            self.page.press(f"{self.effort} of 10")
            self.changed(sentence, 3)
        else:
            # Let go, come back, wait, good, rest: the hand is off.
            self.back(0.25)
            self.changed(sentence, 1)
        return sentence

    def play(self, seconds=300):
        """Plays the task that was begun to its end, and goes on to what comes next."""
        end = time.monotonic() + seconds
        while not self.act().startswith(DONE):
            if time.monotonic() > end:
                raise TimeoutError(f"the task did not end; it said: {self.heard[-5:]}")
        if not self.page.may_press("Next: "):
            self.page.press("Done")

    def play_plan(self, before=lambda task: None):
        """Plays whatever the plan asks until nothing is left; the tasks that were played.

        `before` is called with the name of each before it is begun.
        """
        played, end = [], time.monotonic() + 500
        while time.monotonic() < end:
            if self.page.has("Everything in the plan is there"):
                return played
            task = self.page.step()
            if task and self.page.has("Begin"):
                before(task)
                self.page.press("Begin", exact=True)
                played.append(task)
                self.play()
            else:
                self.page.may_press("Start: ")
                time.sleep(0.3)
        raise TimeoutError(f"the plan did not end after {played}")
