"""For all tests."""

from __future__ import annotations

from hypothesis import settings

# No test may fail because the machine is busy: the bench measures time, tests don't. In CI this
# rests on hypothesis' own profile for CI, which draws the same examples each time.
settings.register_profile("unhurried", settings(deadline=None))
settings.load_profile("unhurried")
