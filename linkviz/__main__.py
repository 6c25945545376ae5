"""Start the program from a clone, with no step before it: ``python3 -m linkviz``."""

from __future__ import annotations

import sys


def main() -> int:
    """Set up if need be, then hand the command line on."""
    if sys.version_info < (3, 11):  # noqa: UP036 - an older Python is to be told so
        print(
            "Linkviz needs Python 3.11 or newer; this is {}.{} ({}).\n"  # noqa: UP032
            "Install a newer Python, then run the same command with it: python3.11 -m linkviz".format(
                sys.version_info[0], sys.version_info[1], sys.executable
            ),
            file=sys.stderr,
        )
        return 1

    from linkviz.bootstrap.start import start

    code = start("linkviz", sys.argv[1:])
    if code:
        return code

    from linkviz.commands import main as run

    return run(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
