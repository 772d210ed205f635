"""Finding the servers that `hosts` has lines for, or getting them: tests run each by its lines."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from site_build import machine
from site_build.steps import say

# The command of each of `hosts.SERVERS`, and the Debian package that brings it.
PROGRAMS = {
    "nginx": ("nginx", "nginx"),
    "apache": ("apache2", "apache2-bin"),
    "caddy": ("caddy", "caddy"),
}
_PATH = os.pathsep.join([os.environ.get("PATH", ""), "/usr/sbin"])  # there Debian keeps them


def find(server: str) -> Path | None:
    """The program of a server, if it is here."""
    found = shutil.which(PROGRAMS[server][0], path=_PATH)
    return Path(found) if found else None


def for_tests() -> None:
    """Install what is missing, where CI may install Debian packages; else say what is left out.

    Raises Trouble when a package can't be had.
    """
    missing = [server for server in PROGRAMS if find(server) is None]
    packages = [PROGRAMS[server][1] for server in missing]
    if packages and os.environ.get("CI") and machine.can_apt():
        machine.apt_install(*packages)
    elif missing:
        say(f"No {', '.join(missing)} here: the tests of their lines are left out.")
