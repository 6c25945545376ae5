"""What a command works on: a vehicle file, or a job file whose lift and parts hold where the command line is silent."""

from __future__ import annotations

import argparse
from dataclasses import replace

from linkviz.book.model import NO_JOB, Whole
from linkviz.book.read import read_either
from linkviz.commands.values import setup_of


def subject(options: argparse.Namespace) -> Whole:
    """Return the subject of a command with a FILE and the options of a setup; its job is `NO_JOB` for a vehicle file.

    Raises
    ------
    LinkvizError
        If the file or a value cannot be taken.
    """
    found = read_either(options.file)
    if isinstance(found, Whole):
        return replace(found, setup=setup_of(options, found.setup))
    return Whole(NO_JOB, setup_of(options), found)
