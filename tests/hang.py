"""A limit on how long a file may take."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

LIMIT_S = 2.0
"""How long one file may take before it counts as a hang, s of the processor."""


@contextmanager
def no_hang(limit: float = LIMIT_S) -> Iterator[None]:
    """Fail when what is inside takes more of the processor than some seconds."""

    def late(_: int, frame: FrameType | None) -> None:
        raise TimeoutError(f"still at work after {limit} s")

    before = signal.signal(signal.SIGVTALRM, late)
    signal.setitimer(signal.ITIMER_VIRTUAL, limit)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)
