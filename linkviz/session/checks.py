"""What an edit may not do."""

from __future__ import annotations

import math

from linkviz.book.problems import job_problems
from linkviz.errors import LinkvizError, Problem
from linkviz.session.document import Document
from linkviz.vehicle.problems import problems_of


class EditRefused(LinkvizError):
    """An edit that would make the vehicle or the job unusable; nothing was changed."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in problems))


def checked(document: Document, before: Document) -> Document:
    """Return a document that makes sense; only what differs from the one before is looked at.

    Raises
    ------
    EditRefused
        If it does not.
    """
    setup = document.setup
    for name in setup.__dataclass_fields__:
        if not math.isfinite(getattr(setup, name)):
            raise EditRefused([Problem(name, str(getattr(setup, name)), "a length such as 90 mm")])
    if document.vehicle != before.vehicle and (problems := problems_of(document.vehicle)):
        raise EditRefused(problems)
    if document.job != before.job and (problems := job_problems(document.job)):
        raise EditRefused(problems)
    return document
