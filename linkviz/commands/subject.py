"""What a command works on: a vehicle file, or a job file whose lift and parts hold where the command line is silent."""

from __future__ import annotations

import argparse
from dataclasses import dataclass

from linkviz.analysis.setup import Setup
from linkviz.book.model import NO_JOB, Job, Whole
from linkviz.book.read import read_either
from linkviz.commands.values import setup_of
from linkviz.vehicle.model import Vehicle


@dataclass(frozen=True)
class Subject:
    """What a command works on.

    Attributes
    ----------
    vehicle : Vehicle
    setup : Setup
        Of the command line, and of the job where that says nothing.
    job : Job
        `NO_JOB` for a vehicle file.
    """

    vehicle: Vehicle
    setup: Setup
    job: Job = NO_JOB


def subject(options: argparse.Namespace) -> Subject:
    """Return the subject of a command with a FILE and the options of a setup.

    Raises
    ------
    LinkvizError
        If the file or a value cannot be taken.
    """
    found = read_either(options.file)
    if isinstance(found, Whole):
        return Subject(found.vehicle, setup_of(options, found.setup), found.job)
    return Subject(found, setup_of(options))
