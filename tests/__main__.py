"""Set up and run every check: ``python3 -m tests``; words after it go to pytest."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def checks(arguments: list[str], keep: bool) -> dict[str, list[str]]:
    """Return the commands to run, by name.

    Parameters
    ----------
    arguments : list of str
        Extra words for pytest.
    keep : bool
        Whether caches may be written in the clone.
    """
    python = sys.executable
    tools = str(Path(python).parent)
    workers = (
        [] if any(word == "-n" or word.startswith(("-n", "--numprocesses")) for word in arguments) else ["-n", "2"]
    )
    return {
        "ruff check": [python, "-m", "ruff", "check", *([] if keep else ["--no-cache"]), "."],
        "ruff format": [python, "-m", "ruff", "format", "--check", *([] if keep else ["--no-cache"]), "."],
        "mypy": [python, "-m", "mypy", *([] if keep else ["--cache-dir", os.devnull])],
        "import-linter": [str(Path(tools) / "lint-imports"), *([] if keep else ["--no-cache"])],
        "pytest": [python, "-m", "pytest", *workers, *([] if keep else ["-p", "no:cacheprovider"]), *arguments],
    }


def main() -> int:
    """Set up if need be, run all checks, and say which failed."""
    if sys.version_info < (3, 11):  # noqa: UP036 - an older Python is to be told so
        print("The tests need Python 3.11 or newer; this is {}.{}.".format(*sys.version_info[:2]), file=sys.stderr)
        return 1
    sys.path.insert(0, str(ROOT))
    from linkviz.bootstrap.start import start

    code = start("tests", sys.argv[1:])
    if code:
        return code

    os.chdir(ROOT)
    keep = os.access(ROOT, os.W_OK)
    environment = os.environ | {"QT_QPA_PLATFORM": "offscreen", "LC_ALL": "C.UTF-8", "PYTHONUTF8": "1"}
    failed = []
    for name, command in checks(sys.argv[1:], keep).items():
        print(f"== {name}", file=sys.stderr, flush=True)
        if subprocess.run(command, env=environment, check=False).returncode != 0:
            failed.append(name)
    print("Failed: " + ", ".join(failed) if failed else "All checks passed.", file=sys.stderr)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
