"""What answers leave behind to be quicker next time, and how it is forgotten."""

from __future__ import annotations

import functools
import gc

from . import asking
from .inputs import Field

_MEMO = type(functools.lru_cache(maxsize=1)(len))


def forget_answers() -> None:
    """Forgets all that was answered; what is read once and for all (`functools.cache`) stays.

    A memory that is sent to readers is a sixth smaller without it, and what it holds of a rehearsal
    spares them next to nothing.
    """
    gc.unfreeze()  # what is set aside isn't found
    asking.forget()
    for found in gc.get_objects():
        if isinstance(found, _MEMO):
            if found.cache_info().maxsize is not None:
                found.cache_clear()
        elif isinstance(found, Field):
            found.told.clear()
            found.known.clear()
    gc.collect()
