"""`linkviz check`: what is wrong with vehicle files and job files."""

from __future__ import annotations

import argparse
import sys

from linkviz.analysis.build import Build
from linkviz.analysis.compare import travel_grid
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.book.model import NO_JOB, Whole
from linkviz.book.read import read_either
from linkviz.errors import FileRefused
from linkviz.letters import visible
from linkviz.units import format_length
from linkviz.vehicle.model import Vehicle


def command(options: argparse.Namespace) -> int:
    """Check every file; print one line per problem, or that the file is good."""
    code = 0
    for path in options.files:
        try:
            found = read_either(path)
        except FileRefused as refused:
            for problem in refused.problems:
                print(f"{visible(path)}: {problem}", file=sys.stderr)
            code = 1
            continue
        vehicle, job = (found.vehicle, found.job) if isinstance(found, Whole) else (found, NO_JOB)
        names = ", ".join(filter(None, (job.number, job.name or job.customer, vehicle.name)))
        print(visible(f"{path}: good ({names})"))
        for note in notes(vehicle):
            print(visible(f"{path}: note: {note}"))
    return code


def notes(vehicle: Vehicle) -> list[str]:
    """Return what is allowed but worth knowing: travel that the links do not allow as built."""
    build = Build.of(vehicle, Setup())
    result = study(build, travel_grid(build))
    found = []
    for key, part in (("rebound", result.travel < 0), ("jounce", result.travel > 0)):
        bad = part & ~result.reached
        if bad.any():
            first = float(abs(result.travel[bad]).min())
            words = result.stopped_by[int(bad.argmax())]
            found.append(
                f"travel.{key}: as built the axle does not get to {format_length(first, vehicle.units)} of {key}: "
                f"{words}. Measure these links again, or make the travel smaller."
            )
    return found
