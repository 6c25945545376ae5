"""The commands. Each works without a screen; only the bare one opens the window where there is one.

Exit codes: 0 done, 1 the file or the numbers are refused, 2 wrong usage.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence

APART = "--doubt-apart"
"""`linkviz.analysis.doubt.apart.WORD`, here so that no command waits for that module."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; no error leaves as a traceback."""
    words = sys.argv[1:] if argv is None else argv
    if words[:1] == [APART]:
        from linkviz.analysis.doubt.apart import main as work_apart

        work_apart()
        return 0
    from linkviz.commands.run import run

    return run(argv)
