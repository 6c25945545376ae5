"""Errors that a person is meant to read.

Every error that can reach a user derives from `LinkvizError`; its text says what is wrong, where, and
what to do about it. Anything else that escapes is a defect of the program.
"""

from __future__ import annotations

from dataclasses import dataclass


def visible(text: str) -> str:
    """Return text with what a screen would act on rather than show (control and direction characters) spelt out."""
    return "".join(letter if letter.isprintable() else letter.encode("unicode_escape").decode() for letter in text)


class LinkvizError(Exception):
    """Base of all errors whose text is written for the user."""


@dataclass(frozen=True)
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

    def __str__(self) -> str:
        """Return the problem as one sentence."""
        return visible(f"{self.where}: found {self.found}; expected {self.expected}")


class FileRefused(LinkvizError):
    """A file that cannot be taken as it is.

    Parameters
    ----------
    path : str
        The file.
    problems : sequence of Problem
        Everything that is wrong with it, in the order of the file.
    """

    def __init__(self, path: str, problems: list[Problem]) -> None:
        self.path = path
        self.problems = tuple(problems)
        super().__init__("\n".join(f"{visible(path)}: {p}" for p in problems))


class OutOfReach(LinkvizError):
    """A linkage that cannot be put together or cannot get where it was asked to go."""
