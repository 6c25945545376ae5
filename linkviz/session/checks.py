"""What an edit may not do."""

from __future__ import annotations

import math
import re

from linkviz.book.problems import job_problems
from linkviz.errors import LinkvizError, Problem
from linkviz.frozen import names_of
from linkviz.letters import visible
from linkviz.session.document import Document
from linkviz.units import Unit
from linkviz.vehicle.points import words
from linkviz.vehicle.problems import problems_of
from linkviz.vehicle.wording import Words


class EditRefused(LinkvizError):
    """An edit that would make the vehicle or the job unusable; nothing was changed."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(_said(problem) for problem in problems))


def _said(problem: Problem) -> str:
    """Return a problem in words for the window, where nobody has typed the keys of a file."""
    where = words(problem.where)
    if where == problem.where:
        where = re.sub(r"\[(\d+)\]", lambda index: f" {int(index[1]) + 1}", where.removesuffix("_deg"))
        where = where.replace(".", ", ").replace("_", " ")
    return visible(f"{where[:1].upper()}{where[1:]}: {problem.found}; expected {problem.expected.rstrip('.')}.")


def checked(document: Document, before: Document, unit: Unit) -> Document:
    """Return a document that makes sense; only what differs from the one before is looked at.

    Parameters
    ----------
    document, before : Document
        The state after the edit and before it.
    unit : {"mm", "in"}
        Unit of the screen, in which what is wrong is worded.

    Raises
    ------
    EditRefused
        If it does not.
    """
    setup, say = document.setup, Words(unit, typed=True)
    for name in names_of(type(setup)):
        if not math.isfinite(getattr(setup, name)):
            raise EditRefused([Problem(name, str(getattr(setup, name)), "a length such as 90 mm")])
    if document.vehicle != before.vehicle and (problems := problems_of(document.vehicle, say)):
        raise EditRefused(problems)
    if document.job != before.job and (problems := job_problems(document.job, say)):
        raise EditRefused(problems)
    return document
