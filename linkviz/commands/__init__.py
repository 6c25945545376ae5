"""The commands. Each works without a screen; only the bare one opens the window where there is one.

Exit codes: 0 done, 1 the file or the numbers are refused, 2 wrong usage.
"""

from __future__ import annotations

from collections.abc import Sequence


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; no error leaves as a traceback."""
    from linkviz.commands.run import run

    return run(argv)
