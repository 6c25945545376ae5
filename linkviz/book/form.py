"""Whether a file is a job or a vehicle: by what it holds, else by its name, whatever the case of its letters."""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import Literal

from linkviz.book.model import SUFFIX
from linkviz.errors import FileRefused, LinkvizError
from linkviz.letters import visible
from linkviz.vehicle.text import MOST_WRITTEN, decode_utf8, read_bytes

Form = Literal["job", "vehicle"]

_ENDINGS: dict[str, Form] = {SUFFIX: "job", ".vehicle.toml": "vehicle"}
_WORDS = {"job": "a job", "vehicle": "a vehicle"}
_ENDING = re.compile(r"(\.(job|vehicle))?\.toml$", re.IGNORECASE)
_FIRST_TABLE = re.compile(r"^[ \t]*\[", re.MULTILINE)
_DECLARED = re.compile(r"""^[ \t]*["']?format["']?[ \t]*=[ \t]*["']linkviz-(job|vehicle)/""", re.MULTILINE)


class OtherForm(LinkvizError):
    """A job that would be written over a vehicle file, or a vehicle over a job."""


def form_of_name(path: str | os.PathLike[str]) -> Form | None:
    """Return what a file of a name is expected to be; None if the name does not say."""
    name = os.path.basename(path).casefold()
    return next((form for ending, form in _ENDINGS.items() if name.endswith(ending)), None)


def bare_name(path: str | os.PathLike[str]) -> str:
    """Return the name of a file without the ending that says what it is."""
    return _ENDING.sub("", os.path.basename(path))


def form_there(path: str) -> Form | None:
    """Return what a file declares to be, also where it is damaged further down; None if it is neither or not there."""
    expected = "a job or a vehicle"
    try:
        text = decode_utf8(read_bytes(Path(path), expected, MOST_WRITTEN), path, expected)
    except FileRefused:
        return None
    table = _FIRST_TABLE.search(text)
    found = _DECLARED.search(text, 0, table.start() if table else len(text))
    if found is None:
        return None
    return "job" if found[1] == "job" else "vehicle"


def form_of_file(path: str) -> Form:
    """Return what a file is taken for: what it declares, else what its name says, else a vehicle."""
    return form_there(path) or form_of_name(path) or "vehicle"


def refuse_other(path: str, form: Form) -> None:
    """Let nothing be written over a file that is something else.

    Raises
    ------
    OtherForm
        If a vehicle lies where a job is to be written, or a job where a vehicle is.
    """
    there = form_there(path)
    if there is not None and there != form:
        raise OtherForm(
            f"{visible(path)} holds {_WORDS[there]}, and what is to be saved there is {_WORDS[form]}. It was not "
            "written over, and nothing was lost. Choose Save as and another name."
        )
