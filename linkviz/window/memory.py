"""Memory that is free goes back to the system: the C library of Linux would keep about half of what it ever had."""

from __future__ import annotations

import sys
from collections.abc import Callable

LARGE = 256 * 1024
"""Blocks from this size on, bytes, come from the system one by one and go back to it one by one."""
POOLS = 2
"""Pools of smaller blocks: one for the painting thread, one for those that work beside it."""
_TRIM, _MMAP, _ARENAS = -1, -3, -8
"""Names of the options, from ``malloc.h`` of the GNU C library."""


def give_back() -> bool:
    """Ask the C library to give free memory back early; return whether it took that.

    Notes
    -----
    Left alone, glibc raises its limit for large blocks to the largest one ever freed, up to 32 MiB, and makes up to
    eight pools a core, each with holes of its own (``man 3 mallopt``). A window that is worked with for hours keeps
    as much in holes as it uses. Elsewhere than on Linux with glibc nothing is done.
    """
    set_option = _function("mallopt")
    options = ((_ARENAS, POOLS), (_MMAP, LARGE), (_TRIM, LARGE))
    return set_option is not None and all(set_option(name, value) == 1 for name, value in options)


def give_back_holes() -> bool:
    """Give the free pages between blocks that are in use back now, some milliseconds' work; return whether any were.

    For a window at rest: what an hour of work leaves in holes is a tenth of what the program holds (``man 3
    malloc_trim``).
    """
    trim = _function("malloc_trim")
    return trim is not None and bool(trim(0))


def _function(name: str) -> Callable[..., int] | None:
    """Return a function of the C library of Linux; None elsewhere, and in another C library."""
    if sys.platform != "linux":
        return None
    import ctypes

    try:
        function: Callable[..., int] = getattr(ctypes.CDLL(None), name)
    except (AttributeError, OSError):
        return None
    return function
