"""Every check value under tests/published/ against our own function."""

from __future__ import annotations

import pytest

from site_build import published


@pytest.mark.parametrize("check", published.load(), ids=lambda c: c.id)
def test_ours_agrees_with_theirs(check: published.Check) -> None:
    outcome = published.run(check)
    assert outcome.holds, (
        f"{check.about}: ours {outcome.ours:.6g}, theirs {outcome.theirs:.6g}, "
        f"allowed ±{outcome.allowed:.3g} (SI); {check.source}"
    )


@pytest.mark.parametrize("check", published.load(), ids=lambda c: c.id)
def test_every_check_names_its_source(check: published.Check) -> None:
    if check.standing == "common practice":
        assert check.source == "common practice, no source"
    else:
        assert len(check.source) > 12, "a source that a reader could find"
