"""Asks under which name something is saved; nothing that is there is written over without a question."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from linkviz.window import dialogs


def ask_name(
    parent: QWidget, title: str, start: Path, kinds: Mapping[str, str], first: str = "", good: Sequence[str] = ()
) -> str:
    """Ask for the name of a file; return "" if there is to be none.

    Parameters
    ----------
    parent : QWidget
        Owner of the dialog.
    title : str
        Its title.
    start : Path
        The name that is offered.
    kinds : mapping of str to str
        What it can be saved as: words of each kind by the ending of the name, such as ``{"png": "Pictures (*.png)"}``.
    first : str
        Ending that is offered first; the first of `kinds` if empty.
    good : sequence of str
        Endings that are left as they are typed; those of `kinds` if empty.

    Notes
    -----
    A name without any of the endings gets that of the kind that was chosen; the one that is offered is left. The file
    dialog has asked about the name as it was typed only, so that what lies under the whole name is asked about here.
    """
    first = first or next(iter(kinds))
    endings = tuple(f".{ending}" for ending in good or kinds)
    lasts = tuple(_last(ending) for ending in kinds)
    while True:
        path, kind = QFileDialog.getSaveFileName(parent, title, str(start), ";;".join(kinds.values()), kinds[first])
        name = path.casefold()
        if not path or name.endswith(endings) or (path == str(start) and name.endswith(lasts)):
            return path
        ending = next((ending for ending, words in kinds.items() if words == kind), first)
        # of an ending in two parts the last one may have been typed
        path = (path[: path.rindex(".")] if "." in ending and name.endswith(_last(ending)) else path) + f".{ending}"
        if not os.path.exists(path):
            return path
        answer = dialogs.ask_overwrite(parent, Path(path).parent, [Path(path).name], "Another name")
        if answer != "other":
            return path if answer == "over" else ""
        start = Path(path)


def _last(ending: str) -> str:
    return f".{ending.rpartition('.')[2]}"
