"""What stops a start before anything turns: what the pages on its guards find of this boat."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ...frame.asking import Answered, asking, plain, settle
from ...frame.report import FAILS, UNKNOWN, Line, Option, Report, line, linked

PAGES = ("pressure", "running")
"""The pages whose answers must hold before a first start, most urgent first."""


@dataclass(frozen=True)
class Stop:
    """A page that finds this boat unfit, by its title; its answer, and what of it decides."""

    title: str
    answered: Answered
    part: Option

    @property
    def way(self) -> Line | None:
        """What that page would do first, with the way there."""
        ways = self.answered.remedies
        if not ways:
            return None
        told = line("{page}: {way}", page=self.title, way=plain(ways[0]))
        return linked(told, self.answered.name, self.answered.link, self.part.verdict)


def judge(show: Report) -> tuple[Stop, ...]:
    """What those pages find unfit, or can't tell, counts here as it does there."""
    ask, found, stops = asking(show), Option("", ""), []
    for name in PAGES:
        answered, title = ask(name, {}), ask.guide.get(name).title
        part = answered.part(name, title)
        if part.verdict in (FAILS, UNKNOWN):
            settle(found, part, title)
        if part.verdict == FAILS:
            stops.append(Stop(title, answered, part))
    show.take(found)
    return tuple(stops)


def headline(stops: Sequence[Stop], show: Report) -> None:
    """Where to go first."""
    titles = {f"page_{number}": stop.title for number, stop in enumerate(stops, 1)}
    show.headline(
        "Don't start it yet: settle first what the page “{page_1}” finds. The steps come then."
        if len(stops) == 1
        else "Don't start it yet: settle first what the pages “{page_1}” and “{page_2}” find. The "
        "steps come then.",
        **titles,
    )


def remedies(stops: Sequence[Stop], show: Report) -> None:
    """What each of those pages would do first."""
    show.remedies += [way for stop in stops if (way := stop.way) is not None]
