"""Errors that a person is meant to read.

Every error that can reach a user derives from `LinkvizError`; its text says what is wrong, where, and
what to do about it. Anything else that escapes is a defect of the program.
"""

from __future__ import annotations

from dataclasses import dataclass

from linkviz.letters import cut, visible

MOST_PROBLEMS = 200
"""Nobody reads more problems of one file than this."""
MOST_LETTERS = 400
"""Nor a longer place, finding or advice, letters."""
FAILED = "This could not be worked out; a report is in the log."
"""What is said where work beside the painting thread ended with an error of its own."""


class LinkvizError(Exception):
    """Base of all errors whose text is written for the user."""


@dataclass(frozen=True)  # the bootstrap, which has the standard library only, speaks through this module too
class Problem:
    """One thing wrong with a file.

    Attributes
    ----------
    where : str
        The key, in dotted form (``links.lower_left.frame[2]``), or a line of a CSV (``line 4``).
    found : str
        What stands there.
    expected : str
        What should stand there, and what to do.
    """

    where: str
    found: str
    expected: str

    @property
    def cells(self) -> tuple[str, str, str]:
        """Return where, found and expected for a screen: cut short, nothing in them that acts on it."""
        where, found, expected = (cut(visible(said), MOST_LETTERS) for said in (self.where, self.found, self.expected))
        return where, found, expected

    def __str__(self) -> str:
        """Return the problem as one sentence."""
        where, found, expected = self.cells
        return f"{where}: found {found}; expected {expected}"


class FileRefused(LinkvizError):
    """A file that cannot be taken as it is.

    Parameters
    ----------
    path : str
        The file.
    problems : sequence of Problem
        Everything that is wrong with it, in the order of the file; no more than `MOST_PROBLEMS` of it.
    """

    def __init__(self, path: str, problems: list[Problem]) -> None:
        if len(problems) > MOST_PROBLEMS:
            rest = Problem("file", "more that is wrong", "these first; correct them and try again")
            problems = [*problems[:MOST_PROBLEMS], rest]
        self.path = path
        self.problems = tuple(problems)
        super().__init__("\n".join(f"{visible(path)}: {p}" for p in problems))


class OutOfReach(LinkvizError):
    """A linkage that cannot be put together or cannot get where it was asked to go."""
