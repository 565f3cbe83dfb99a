"""The page as its people use it: by names and headings, never by its insides."""
import json, os, time

from browser import ADDRESS, DOWNLOADS, until

PRESS = """(name, exact) => {
  const named = (control) => (control.getAttribute("aria-label") ?? control.labels?.[0]?.textContent
    ?? control.textContent).replace(/\\s+/g, " ").trim();
  const all = [...document.querySelectorAll("button, a[href], summary, input[type=radio]")]
    .filter((control) => control.checkVisibility() && !control.disabled);
  const found = all.find((control) => named(control) === name)
    ?? (exact ? null : all.find((control) => named(control).startsWith(name)));
  found?.click();
  return Boolean(found);
}"""


class Stopped(Exception):
    """The page says that the program has stopped."""


class Page:
    def __init__(self, browser):
        self.browser = browser
        browser.go(ADDRESS)
        self.see("Before anything moves", 120)

    def look(self, code, *given):
        """Asks the page; a program that has stopped is the end of everything."""
        if self.browser.evaluate("Boolean(document.querySelector('#rescue'))"):
            raise Stopped(self.browser.evaluate("document.querySelector('#rescue').innerText"))
        return self.browser.evaluate(code, *given)

    def until(self, what, code, *given, seconds=30):
        return until(lambda: self.look(code, *given), seconds, what, 0.05)

    def text(self):
        return self.look("document.body.innerText")

    def see(self, words, seconds=30):
        self.until(f"“{words}” on the page", "(words) => document.body.innerText.includes(words)", words,
                   seconds=seconds)

    def see_no_more(self, words, seconds=30):
        self.until(f"“{words}” gone", "(words) => !document.body.innerText.includes(words)", words, seconds=seconds)

    def press(self, name, exact=False, seconds=30):
        """Presses the control of this name, or the first whose name begins so, once it is there."""
        self.until(f"a control named {name}", PRESS, name, exact, seconds=seconds)

    def may_press(self, name):
        """Presses it if it is there, and says whether it was."""
        return self.look(PRESS, name, False)

    def has(self, words):
        return words in self.text()

    def go(self, screen):
        self.look("(screen) => void (location.hash = `#/${screen}`)", screen)

    def sentence(self):
        """The one large sentence."""
        return self.look("document.querySelector('main h1')?.textContent ?? ''")

    def step(self):
        """The line above it."""
        return self.look("document.querySelector('main .step')?.textContent ?? ''")

    def save(self, button):
        """Presses something that saves a file, and gives what is in it."""
        # What is saved once more takes the place of what was saved under the same name.
        for name in os.listdir(DOWNLOADS):
            os.remove(os.path.join(DOWNLOADS, name))
        self.press(button)

        def saved():
            # Under its name the file is empty at first.
            for name in os.listdir(DOWNLOADS):
                if not name.endswith(".crdownload"):
                    with open(os.path.join(DOWNLOADS, name)) as file:
                        return file.read()
        return json.loads(until(saved, 60, "a saved file"))

    # --- the way to a measurement

    def sticks(self):
        """The connected sticks that are listed, each with whether it is the chosen one."""
        return self.look("""[...document.querySelectorAll("section[aria-labelledby=real] .choices button")]
            .map((button) => [button.querySelector("strong").textContent, button.getAttribute("aria-pressed") === "true"])""")

    def take(self, stick):
        """Waits for a stick in the list; chooses it unless the page did so by itself, and says whether it did."""
        until(lambda: any(name == stick.name for name, _ in self.sticks()), 20, f"{stick.name} in the list", 0.05)
        time.sleep(1)
        by_itself = [stick.name, True] in self.sticks()
        if not by_itself:
            self.press(stick.name)
            until(lambda: [stick.name, True] in self.sticks(), 10, f"{stick.name} is chosen", 0.05)
        return by_itself

    def plan(self, minutes):
        self.press("Go on to measuring")
        self.press(f"{minutes} minutes")
        self.see("The plan")

    def begin(self, task):
        """Opens a task from the plan or from the further ones, and begins it."""
        def open_it():
            return (self.may_press(f"Start: {task}") or self.may_press(f"Measure again: {task}")
                    or (self.may_press("More tasks") and None))
        until(open_it, 20, f"a way to start {task}", 0.3)
        self.press("Begin", exact=True)

    def stop_and_keep(self):
        self.press("Rest", exact=True)
        self.press("Stop this task and keep it")
        # With the last task of the plan there is nothing left of it.
        over = ("The plan", "Everything in the plan is there")
        until(lambda: self.sentence() in over, 60, "the plan after a stopped task")
