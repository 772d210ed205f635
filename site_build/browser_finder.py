"""Finding the browsers that the tests and the bench drive, or getting them.

The tests learn of them by environment variables, each the path of a program: BRINEBOOK_CHROMIUM,
BRINEBOOK_FIREFOX, and BRINEBOOK_WEBKIT for WebKit's driver. Set one beforehand to choose another.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from site_build import machine
from site_build.steps import Trouble, run, say

DOWNLOAD_PATIENCE = 60.0  # s of silence after which a browser's download is given up


@dataclass(frozen=True)
class Browser:
    """One browser: where to look for it, and Debian's packages that bring it."""

    name: str
    variable: str
    commands: tuple[str, ...]
    places: tuple[str, ...]  # below the folders where macOS and Windows keep programs
    packages: tuple[str, ...]
    hello: str = "--version"  # an option that only answers, to see whether it starts
    screen: bool = False  # it has no headless way to run


CHROMIUM = Browser(
    name="Chromium",
    variable="BRINEBOOK_CHROMIUM",
    # The shell has no window around the page to draw, which is a third of the work of a test.
    commands=(
        "chromium-headless-shell",
        "chromium",
        "chromium-browser",
        "google-chrome",
        "google-chrome-stable",
    ),
    places=(
        "Chromium.app/Contents/MacOS/Chromium",
        "Google Chrome.app/Contents/MacOS/Google Chrome",
        "Google/Chrome/Application/chrome.exe",
        "Microsoft/Edge/Application/msedge.exe",
    ),
    packages=("chromium-headless-shell",),
)
FIREFOX = Browser(
    name="Firefox",
    variable="BRINEBOOK_FIREFOX",
    commands=("firefox-esr", "firefox"),
    places=("Firefox.app/Contents/MacOS/firefox", "Mozilla Firefox/firefox.exe"),
    packages=("firefox-esr",),
)
WEBKIT = Browser(
    name="WebKit",
    variable="BRINEBOOK_WEBKIT",
    commands=("WebKitWebDriver",),
    places=(),
    packages=("webkit2gtk-driver", "xvfb", "xauth"),
    hello="--help",
    screen=True,
)


def for_tests(*, demand_all: bool = False) -> dict[str, str]:
    """Environment variables that tell the tests which browsers there are, and Playwright its Node.

    Chromium is demanded. Firefox and WebKit are used where they are; they are installed when all
    are demanded, or in CI where Debian's packages can be. Raises Trouble when one can't be had.
    """
    found = {CHROMIUM.variable: chromium()}
    for browser in (FIREFOX, WEBKIT):
        program = find(browser)
        if not program and (demand_all or (os.environ.get("CI") and machine.can_apt())):
            program = _from_debian(browser)
            if not program:
                raise Trouble(_please_install(browser))
        if program:
            found[browser.variable] = program
        else:
            say(f"No {browser.name} here: its tests are left out (--all-browsers demands them).")
    return {variable: str(program) for variable, program in found.items()} | playwright_env()


def chromium() -> Path:
    """A Chromium that starts: one that is there, else Playwright's download, else Debian's.

    Raises Trouble with one line on what to install.
    """
    program = find(CHROMIUM)
    if machine.PACKED.is_dir() and not program:
        raise Trouble(
            "A PDF is printed by Chromium: install it, or write a card that ends in .html"
        )
    program = program or _from_playwright() or _from_debian(CHROMIUM)
    if not program:
        raise Trouble(_please_install(CHROMIUM))
    return program


def find(browser: Browser) -> Path | None:
    """The browser where one usually finds it, if there is one that starts."""
    chosen = os.environ.get(browser.variable)
    if chosen:
        if not _starts(Path(chosen), browser.hello):
            raise Trouble(f"{browser.variable} names no program that starts: {chosen}")
        return Path(chosen)
    if browser.screen and not ("DISPLAY" in os.environ or shutil.which("Xvfb")):
        return None
    on_path = (shutil.which(command) for command in browser.commands)
    elsewhere = (folder / place for folder in _program_folders() for place in browser.places)
    candidates = [*(Path(program) for program in on_path if program), *elsewhere]
    return next((program for program in candidates if _starts(program, browser.hello)), None)


def _program_folders() -> Iterable[Path]:
    if machine.WINDOWS:
        variables = ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA")
        return [Path(os.environ[name]) for name in variables if name in os.environ]
    if sys.platform == "darwin":
        return [Path("/Applications"), Path.home() / "Applications"]
    return []


def _starts(program: Path, hello: str = CHROMIUM.hello) -> bool:
    """Whether a program is there and can run: a download may lack the libraries it needs."""
    if not program.is_file():
        return False
    if machine.WINDOWS:  # there, browsers open a window instead of telling their version
        return True
    try:
        answer = subprocess.run([program, hello], capture_output=True, timeout=60)
    except (OSError, subprocess.TimeoutExpired):
        return False
    return answer.returncode == 0


def _from_playwright() -> Path | None:
    program = _playwright_program()
    if program and _starts(program):
        return program
    try:
        run(
            "Downloading Chromium",
            [sys.executable, "-m", "playwright", "install", "chromium"],
            cwd=machine.ROOT,
            env=playwright_env(),
            note=lambda line: line if "%" in line else None,
            patience=DOWNLOAD_PATIENCE,
        )
    except Trouble as trouble:
        reasons = [line for line in str(trouble).splitlines() if line.startswith("Error")]
        say(f"  no luck: {(reasons or str(trouble).splitlines()[-1:])[0]}")
        return None
    program = _playwright_program()
    return program if program and _starts(program) else None


def _playwright_program() -> Path | None:
    """Where Playwright keeps its Chromium, whether it is there or not."""
    ask = (
        "from playwright.sync_api import sync_playwright\n"
        "with sync_playwright() as p: print(p.chromium.executable_path)"
    )
    answer = subprocess.run(
        [sys.executable, "-c", ask],
        capture_output=True,
        encoding="utf-8",
        env={**os.environ, **playwright_env()},
    )
    return Path(answer.stdout.strip()) if answer.returncode == 0 else None


def playwright_env() -> dict[str, str]:
    """Playwright runs in our Node.js: its own wants a library that a lean Linux may lack."""
    name = "PLAYWRIGHT_NODEJS_PATH"
    return {name: os.environ.get(name) or str(machine.node())}


def _from_debian(browser: Browser) -> Path | None:
    if not machine.can_apt():
        return None
    try:
        machine.apt_install(*browser.packages)
    except Trouble as trouble:
        say(str(trouble))
        return None
    return find(browser)


def _please_install(browser: Browser) -> str:
    if shutil.which("apt-get"):
        return f"The tests need {browser.name}: sudo apt-get install {' '.join(browser.packages)}"
    return (
        f"The tests need {browser.name}: install it, or set {browser.variable} "
        f"to the path of {browser.commands[0]}."
    )
