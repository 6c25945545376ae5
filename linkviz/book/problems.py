"""Does a job make sense? Checks of what a job holds beside the vehicle.

To check a new table, write a function that yields what is wrong with it and add it to `CHECKS` under the name of its
field; `where` begins with that name.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, Final

from linkviz.analysis.bracket.table import bracket_problems as drop_bracket_problems
from linkviz.analysis.bracket.table import case_problems, rules_problems
from linkviz.analysis.photo import photo_faults
from linkviz.analysis.stance.springing import springing_problems
from linkviz.analysis.stance.valve_bracket import bracket_problems
from linkviz.book.model import Job, SetupTable
from linkviz.errors import Problem
from linkviz.vehicle.texts import text_problems
from linkviz.vehicle.wording import Range, Words

MOST: Final = {"load_cases": 40, "states": 200, "printed": 1000}
"""No job has more of these."""
SETUP: Final = {
    "lift": Range(0.0, 1000.0),
    "drop": Range(-1000.0, 1000.0),
    "shift": Range(-1000.0, 1000.0),
    "bar_longer": Range(-1000.0, 1000.0),
    "axle_raise": Range(-1000.0, 1000.0),
    "valve_rise": Range(-1000.0, 1000.0),
}
"""Sensible values of a setup, mm."""


def job_problems(job: Job, say: Words | None = None) -> list[Problem]:
    """Return everything about a job that makes no sense, worded as a file in the unit the job declares by default."""
    say = say or Words(job.units)
    found = list(text_problems("", job))
    if not job.status.strip():
        found.append(Problem("status", "an empty word", "a word for how far the job is, such as asked"))
    for key, most in MOST.items():
        if len(getattr(job, key)) > most:
            found.append(Problem(key, f"{len(getattr(job, key))} of them", f"at most {most}"))
    for key, check in CHECKS.items():
        value = getattr(job, key)
        if value is not None and value != ():
            found += check(value, say)
    return found


def setup_problems(setup: SetupTable, say: Words, where: str = "setup") -> Iterator[Problem]:
    """Yield the lengths of a setup that no vehicle has."""
    for key, allowed in SETUP.items():
        yield from say.outside(f"{where}.{key}", getattr(setup, key), allowed)


def _check_states(states: Any, say: Words) -> Iterator[Problem]:
    for index, state in enumerate(states):
        yield from setup_problems(state, say, f"states[{index}]")


def _check_photos(photos: Any, say: Words) -> Iterator[Problem]:
    seen: set[str] = set()
    for index, photo in enumerate(photos):
        yield from (Problem(f"photos[{index}].{key}", found, wanted) for key, found, wanted in photo_faults(photo))
        if photo.view in seen:
            yield Problem(f"photos[{index}].view", f'"{photo.view}" for a second time', "one photo for each view")
        seen.add(photo.view)


CHECKS: Final[dict[str, Callable[[Any, Words], Iterator[Problem]]]] = {
    "states": _check_states,
    "photos": _check_photos,
    "springing": springing_problems,
    "valve_bracket": bracket_problems,
    "bracket": drop_bracket_problems,
    "load_cases": case_problems,
    "rules": rules_problems,
}
"""Checks of tables by the name of their field."""
