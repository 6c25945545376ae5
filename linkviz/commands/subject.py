"""What a command works on: a vehicle file, or a job file whose lift and parts hold where the command line is silent."""

from __future__ import annotations

import argparse

from linkviz.book.model import NO_JOB, Whole
from linkviz.book.read import read_either
from linkviz.commands.values import setup_of
from linkviz.units import Unit


def units(options: argparse.Namespace, found: Whole) -> Unit:
    """Return the units of what is told, drawn or written: those asked for, else those the file says at its top."""
    asked: Unit | None = options.units
    return asked or found.units


def subject(options: argparse.Namespace) -> Whole:
    """Return the subject of a command with a FILE and the options of a setup; its job is `NO_JOB` for a vehicle file.

    Raises
    ------
    LinkvizError
        If the file or a value cannot be taken.
    """
    found = read_either(options.file)
    if isinstance(found, Whole):
        return found.replace(setup=setup_of(options, found.setup))
    return Whole(NO_JOB, setup_of(options), found)
