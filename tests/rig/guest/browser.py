"""An X server, a web server and Chromium in front of it, driven over the DevTools pipe."""
import base64, json, os, subprocess, sys, threading, time

HERE = os.path.dirname(os.path.abspath(__file__))
PORT = 8080
ADDRESS = f"http://localhost:{PORT}/"
DOWNLOADS = "/tmp/downloads"


def until(look, seconds, what, pause=0.02):
    """Looks again and again until there is something, and gives it."""
    end = time.monotonic() + seconds
    while not (found := look()):
        if time.monotonic() > end:
            raise TimeoutError("never came true: " + what)
        time.sleep(pause)
    return found


class Browser:
    def __init__(self, policies):
        os.makedirs("/run/managed", exist_ok=True)
        os.makedirs(DOWNLOADS, exist_ok=True)
        with open("/run/managed/rig.json", "w") as file:
            json.dump(policies, file)
        subprocess.run(["/bin/busybox", "mount", "-o", "bind", "/run/managed", "/etc/chromium/policies/managed"],
                       check=True)
        quiet = dict(stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        subprocess.Popen(["Xorg", ":0", "-config", HERE + "/xorg.conf", "-nolisten", "tcp", "-novtswitch",
                          "-keeptty", "-logfile", "/tmp/Xorg.0.log", "-s", "0", "-dpms", "vt7"], **quiet)
        subprocess.Popen([sys.executable, "-m", "http.server", str(PORT), "--bind", "127.0.0.1", "--directory", "/web"],
                         **quiet)
        until(lambda: os.path.exists("/tmp/.X11-unix/X0"), 60, "the X server")
        self.number, self.answers, self.events, self.session = 0, {}, [], None
        self.wake = threading.Condition()
        self.launch()
        self.version = self.call("Browser.getVersion", seconds=120)["product"]
        self.call("Browser.setDownloadBehavior", {"behavior": "allow", "downloadPath": DOWNLOADS})
        page = until(lambda: next((target for target in self.call("Target.getTargets")["targetInfos"]
                                   if target["type"] == "page"), None), 60, "a page")
        self.session = self.call("Target.attachToTarget", {"targetId": page["targetId"], "flatten": True})["sessionId"]
        for method in ("Page.enable", "Runtime.enable", "Page.bringToFront"):
            self.call(method)
        self.prefer_pages()

    def prefer_pages(self):
        """The one processor of the small Linux serves the page first, as one of several would.

        The browser gives its own threads more than the page's, which on a single slow processor are then
        late so often that the page calls the machine too slow to measure on.
        """
        for process in filter(str.isdigit, os.listdir("/proc")):
            try:
                with open(f"/proc/{process}/cmdline") as file:
                    is_page = "--type=renderer" in file.read()
                if is_page:
                    for thread in os.listdir(f"/proc/{process}/task"):
                        os.setpriority(os.PRIO_PROCESS, int(thread), -15)
            except FileNotFoundError:
                pass

    def launch(self):
        read_commands, write_commands = os.pipe()
        read_answers, write_answers = os.pipe()

        def pipes():  # the browser reads commands on 3 and writes answers on 4
            commands, answers = os.dup(read_commands), os.dup(write_answers)
            os.dup2(commands, 3), os.dup2(answers, 4)
        arguments = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
                     "--disable-component-update", "--disable-sync", "--disable-default-apps", "--disable-extensions",
                     "--no-default-browser-check", "--password-store=basic", "--noerrdialogs",
                     "--user-data-dir=/tmp/profile", "--remote-debugging-pipe", "--enable-logging=stderr",
                     "--window-position=0,0", "--window-size=480,640", "--force-prefers-reduced-motion",
                     "--in-process-gpu", "about:blank"]
        log = open("/tmp/chromium.log", "w")
        subprocess.Popen(["/usr/lib/chromium/chromium"] + arguments, stdout=log, stderr=log, preexec_fn=pipes,
                         close_fds=False, env={**os.environ, "DISPLAY": ":0"})
        os.close(read_commands), os.close(write_answers)
        self.commands, self.replies = os.fdopen(write_commands, "wb", 0), os.fdopen(read_answers, "rb", 0)
        threading.Thread(target=self.read, daemon=True).start()

    def read(self):
        waiting = b""
        while got := self.replies.read(1 << 20):
            *messages, waiting = (waiting + got).split(b"\0")
            with self.wake:
                for message in map(json.loads, messages):
                    if "id" in message:
                        self.answers[message["id"]] = message
                    else:
                        self.events.append(message)
                self.wake.notify_all()

    def call(self, method, params=None, seconds=30):
        with self.wake:
            self.number += 1
            number = self.number
        message = {"id": number, "method": method, "params": params or {}}
        if self.session:
            message["sessionId"] = self.session
        self.commands.write(json.dumps(message).encode() + b"\0")
        with self.wake:
            if not self.wake.wait_for(lambda: number in self.answers, seconds):
                raise TimeoutError("no answer to " + method)
            answer = self.answers.pop(number)
        if "error" in answer:
            raise RuntimeError(f"{method}: {answer['error'].get('message')}")
        return answer["result"]

    def go(self, address):
        before = len(self.events)
        self.call("Page.navigate", {"url": address})
        until(lambda: any(event["method"] == "Page.loadEventFired" for event in self.events[before:]), 60, address)

    def evaluate(self, code, *given):
        """What a function of the page's own language gives for these values, pressed by a person."""
        if given:
            code = f"({code})({', '.join(map(json.dumps, given))})"
        result = self.call("Runtime.evaluate", {"expression": code, "awaitPromise": True, "returnByValue": True,
                                                "userGesture": True})
        if "exceptionDetails" in result:
            details = result["exceptionDetails"]
            raise RuntimeError("page: " + (details.get("exception", {}).get("description") or details["text"]))
        return result["result"].get("value")

    def errors(self):
        """What the page threw and nobody caught, and what it wrote to the console as an error."""
        for event in self.events:
            if event["method"] == "Runtime.exceptionThrown":
                details = event["params"]["exceptionDetails"]
                yield details.get("exception", {}).get("description") or details["text"]
            elif event["method"] == "Runtime.consoleAPICalled" and event["params"]["type"] == "error":
                yield " ".join(str(part.get("value", part.get("description"))) for part in event["params"]["args"])

    def picture(self, path):
        shot = self.call("Page.captureScreenshot", {"format": "png", "captureBeyondViewport": True})
        with open(path, "wb") as file:
            file.write(base64.b64decode(shot["data"]))
