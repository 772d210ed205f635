"""For all tests."""

from __future__ import annotations

import importlib
import pkgutil

from hypothesis import settings

import calc
import site_build

# No test may fail because the machine is busy: the bench measures time, tests don't. In CI this
# rests on hypothesis' own profile for CI, which draws the same examples each time.
settings.register_profile("unhurried", settings(deadline=None))
settings.load_profile("unhurried")

# Hypothesis draws from the constants of the modules that are loaded, too: with some loaded by one
# test and not before another, examples hung on which tests a process had run before.
for package in (calc, site_build):
    for module in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
