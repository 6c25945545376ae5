"""What the set-up says: plain words on standard error."""

from __future__ import annotations

import sys


class SetUpFailed(Exception):
    """A set-up that cannot go on; the text says what, where and what to do."""


def say(text: str) -> None:
    """Print one line of progress."""
    print(text, file=sys.stderr, flush=True)
