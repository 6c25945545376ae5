"""Memory that is free goes back to the system: the C library of Linux would keep about half of what it ever had."""

from __future__ import annotations

import sys

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
    if sys.platform != "linux":
        return False
    import ctypes

    try:
        set_option = ctypes.CDLL(None).mallopt
    except (AttributeError, OSError):  # another C library
        return False
    return all(set_option(name, value) == 1 for name, value in ((_ARENAS, POOLS), (_MMAP, LARGE), (_TRIM, LARGE)))
