"""Whether what is to be shown is what is shown already."""

from __future__ import annotations

from collections.abc import Sequence


def same(now: Sequence[object], before: Sequence[object]) -> bool:
    """Return whether two rows hold the very same things; arrays and findings are never compared by value."""
    return len(now) == len(before) and all(a is b for a, b in zip(now, before, strict=True))
