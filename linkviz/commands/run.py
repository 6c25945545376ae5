"""Parse the command line, run the command, turn errors into sentences."""

from __future__ import annotations

import argparse
import io
import os
import sys
from collections.abc import Callable, Sequence

from linkviz.commands.arguments import COMMANDS, commands_parser, window_parser
from linkviz.errors import LinkvizError
from linkviz.letters import visible


def run(argv: Sequence[str] | None = None) -> int:
    """Run one command.

    Parameters
    ----------
    argv : sequence of str, optional
        Arguments after the program's name; those of the process if None.

    Returns
    -------
    int
        Exit code.
    """
    arguments = list(sys.argv[1:] if argv is None else argv)
    _spell_out(sys.stdout)
    try:
        code = _run(arguments)
        if sys.stdout is not None:
            sys.stdout.flush()  # a full disk and a closed pipe show now, and not when the interpreter ends
        return code
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 2
    except LinkvizError as error:
        print("\n".join(visible(line) for line in str(error).splitlines()), file=sys.stderr)
        return 1
    except BrokenPipeError:
        _discard_output()
        return 0
    except KeyboardInterrupt:
        return 1
    except OSError as error:
        place = f"{error.filename}: " if error.filename else ""
        print(visible(f"{place}{error.strerror or error}. Choose a place you may read and write."), file=sys.stderr)
        _discard_output()
        return 1


def _run(arguments: list[str]) -> int:
    if arguments and arguments[0] in COMMANDS:
        options = commands_parser().parse_args(arguments)
        command: Callable[[argparse.Namespace], int] = options.command
        return command(options)
    options = window_parser().parse_args(arguments)
    from linkviz.commands.open import open_window

    return open_window(options.file)


def _spell_out(stream: object) -> None:
    """Let a stream write what its encoding lacks, such as a name in other letters, as an escape."""
    if isinstance(stream, io.TextIOWrapper) and stream.errors == "strict":
        stream.reconfigure(errors="backslashreplace")


def _discard_output() -> None:
    """Let output that cannot be written go nowhere, or the interpreter complains of it at its end."""
    if sys.stdout is not None:
        try:
            sys.stdout.flush()
        except OSError:
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
