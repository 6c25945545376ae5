"""The printed words of the tables: what is committed is what the source says, and needs no source any more."""

from __future__ import annotations

import importlib
import pkgutil
import subprocess
import sys
from pathlib import Path

import linkviz
from linkviz.book import describe
from linkviz.vehicle.described import key_of
from linkviz.vehicle.field_words import WORDS
from linkviz.vehicle.part import Part

ROOT = Path(linkviz.__file__).resolve().parents[1]
ASK = """
import inspect

def none(_):
    raise OSError("could not get source code")

inspect.getsource = none
from linkviz.vehicle.described import fields_of
from linkviz.vehicle.model import Springs

print({field.name: (field.unit, bool(field.tip)) for field in fields_of(Springs)}["rate"])
"""


def every_part(kind: type[Part] = Part) -> set[type[Part]]:
    found = {one for one in kind.__subclasses__() if one.__module__.startswith("linkviz.")}
    return found.union(*map(every_part, found))


def test_what_is_committed_is_what_the_source_says() -> None:
    assert describe.TARGET.read_text(encoding="utf-8") == describe.print_module(), f"run {describe.COMMAND}"


def test_every_table_of_the_program_is_asked() -> None:
    for package in ("vehicle", "analysis", "book", "session"):
        there = ROOT / "linkviz" / package
        for module in pkgutil.walk_packages([str(there)], f"linkviz.{package}."):
            importlib.import_module(module.name)
    assert {key_of(part) for part in every_part() if describe.said_of(part)} == set(WORDS)


def test_words_and_units_are_there_where_no_source_is() -> None:
    done = subprocess.run([sys.executable, "-c", ASK], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "('N/mm', True)"
