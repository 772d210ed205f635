"""What cannot be together: raised with a key, worded where the form is known."""

from __future__ import annotations


class Unfit(ValueError):
    """Things that make no sense together; `why` is a key for the edge to word."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why
