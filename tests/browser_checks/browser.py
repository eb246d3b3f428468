"""Chromium without a window, spoken to over a pipe by its own protocol. Without Chromium these checks fail."""

from __future__ import annotations

import base64
import itertools
import json
import os
import shutil
import subprocess
import tempfile
from pathlib import Path
from typing import Any

Answer = dict[str, Any]
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run",
    "--hide-scrollbars", "--disable-dev-shm-usage", "--remote-debugging-pipe",
)  # fmt: skip
NAMES = ("chromium", "chromium-browser", "google-chrome")
A4, LETTER = (210 / 25.4, 297 / 25.4), (8.5, 11.0)
"""Paper in inches, as the protocol wants it."""


class Browser:
    """One Chromium with one page. `events`: what it has told unasked, such as requests and console messages."""

    def __init__(self) -> None:
        program = next((found for name in NAMES if (found := shutil.which(name))), None)
        assert program is not None, "no Chromium on this machine: apt-get install chromium"
        # The browser may still write as it ends; what it leaves is nobody's.
        self._home = tempfile.TemporaryDirectory(ignore_cleanup_errors=True)
        to_chromium, self._write = os.pipe()
        self._read, from_chromium = os.pipe()
        start = f'exec "$0" "$@" 3<&{to_chromium} 4>&{from_chromium}'
        self._process = subprocess.Popen(
            ["bash", "-c", start, program, *FLAGS, f"--user-data-dir={self._home.name}", "about:blank"],
            pass_fds=(to_chromium, from_chromium), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        os.close(to_chromium)
        os.close(from_chromium)
        self._numbers = itertools.count(1)
        self._rest = b""
        self._session: str | None = None
        self.events: list[Answer] = []
        pages = self.call("Target.getTargets")["targetInfos"]
        page = next(one["targetId"] for one in pages if one["type"] == "page")
        self._session = self.call("Target.attachToTarget", targetId=page, flatten=True)["sessionId"]
        for domain in ("Page", "Network", "Runtime", "Log"):
            self.call(f"{domain}.enable")

    def close(self) -> None:
        """End the process that was started."""
        self._process.kill()
        self._process.wait()
        os.close(self._write)
        os.close(self._read)
        self._home.cleanup()

    def call(self, method: str, **given: Any) -> Answer:
        """Ask, and wait for the answer to that."""
        number = next(self._numbers)
        asked: Answer = {"id": number, "method": method, "params": given}
        if self._session is not None:
            asked["sessionId"] = self._session
        os.write(self._write, json.dumps(asked).encode() + b"\0")
        while True:
            told = self._next()
            if told.get("id") == number:
                assert "error" not in told, told["error"]
                answer: Answer = told["result"]
                return answer
            self.events.append(told)

    def open(self, file: Path, wide: int = 1280, *, dark: bool = False) -> None:
        """Load a file at a width, on light or dark ground, and wait until it is there."""
        self.width(wide)
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self.call("Emulation.setEmulatedMedia", media="", features=[scheme])
        self.events.clear()
        self.call("Page.navigate", url=file.as_uri())
        while not any(event.get("method") == "Page.loadEventFired" for event in self.events):
            self.events.append(self._next())

    def width(self, wide: int) -> None:
        """The width of the window."""
        self.call("Emulation.setDeviceMetricsOverride", width=wide, height=900, deviceScaleFactor=1, mobile=False)

    def value(self, script: str) -> Any:
        """What a script of the test finds on the page, waited for if it takes its time."""
        told = self.call("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        assert "exceptionDetails" not in told, told
        return told["result"].get("value")

    def pdf(self, paper: tuple[float, float]) -> bytes:
        """The page printed, with the margins that it asks for."""
        told = self.call("Page.printToPDF", paperWidth=paper[0], paperHeight=paper[1], preferCSSPageSize=False)
        return base64.b64decode(told["data"])

    def _next(self) -> Answer:
        while b"\0" not in self._rest:
            read = os.read(self._read, 1 << 20)
            assert read, "Chromium has ended"
            self._rest += read
        one, _, self._rest = self._rest.partition(b"\0")
        told: Answer = json.loads(one)
        return told
