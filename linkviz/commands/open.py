"""The bare command: the window, or what it would say where there is no screen."""

from __future__ import annotations

import gc
import os
import sys
import tempfile
import textwrap
from pathlib import Path

from linkviz.analysis.compare import NAMES, compare
from linkviz.analysis.findings import Findings, findings
from linkviz.analysis.goals import clear_drop, restore_drop
from linkviz.analysis.setup import Setup
from linkviz.book.model import Whole
from linkviz.book.read import read_either
from linkviz.commands.picture import write_picture
from linkviz.errors import LinkvizError
from linkviz.picture.scenes import scene_of
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import DEMO_LIFT
from linkviz.vehicle.model import Vehicle

_SIGN = {"": " ", "ok": "+", "warn": "!", "hit": "X"}


def open_window(path: str | None) -> int:
    """Open the window, or say without it what there is to say."""
    why = no_screen()
    if not why:
        gc.disable()  # looking for garbage takes a tenth of the start; the window turns it on again when it has settled
        try:
            from linkviz.window.main import run
        except ImportError as error:
            gc.enable()
            why = _lacking(error)
        else:
            return run(path)
    source = Path(path) if path else demo_vehicle_paths()[0]
    found = read_either(source)
    vehicle, setup = (found.vehicle, found.setup) if isinstance(found, Whole) else (found, usual_setup(found))
    print(report(vehicle, setup))
    print(_write(vehicle, setup.without_parts() if vehicle is found else setup, source))
    print(why)
    return 0


def no_screen() -> str:
    """Return why no window can be shown here, as a sentence, or ""."""
    if sys.platform in ("win32", "darwin") or os.environ.get("QT_QPA_PLATFORM"):
        return ""
    if not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")):
        return "The window needs a screen, and there is none here. Run the same command on a desktop to open it."
    from linkviz.bootstrap.qt_libraries import advice, missing_qt_libraries

    missing = missing_qt_libraries()
    return f"The window cannot be shown here. {advice(missing)}" if missing else ""


def _lacking(error: ImportError) -> str:
    return f"The window needs a system library that is missing here: {error}"


def usual_setup(vehicle: Vehicle) -> Setup:
    """Return the usual lift with the drop that restores the bar's angle, for a vehicle nobody has lifted yet."""
    return Setup(lift=DEMO_LIFT, drop=float(round(restore_drop(vehicle, DEMO_LIFT) or 0.0)))


def report(vehicle: Vehicle, setup: Setup) -> str:
    """Return the findings in plain text: as built, lifted, and with the parts on."""
    words = findings(compare(vehicle, setup), vehicle.units, clear_drop(vehicle, setup.lift) if setup.lift else None)
    return f"{vehicle.name}\n\n{as_text(words)}"


def as_text(words: Findings) -> str:
    """Return findings as text: the table, the sentences, the cautions."""
    names = [name for name in NAMES if words.rows and name in words.rows[0].cells]
    table = [["", *names]]
    for row in words.rows:
        cells = [row.cells[name] for name in names]
        table.append([row.label, *(f"{cell.text} {_SIGN[cell.icon]}".rstrip() for cell in cells)])
    widths = [max(len(line[i]) for line in table) + 2 for i in range(len(table[0]))]
    lines = ["".join(text.ljust(width) for text, width in zip(line, widths, strict=True)).rstrip() for line in table]
    lines.append("")
    for sentence in words.sentences:
        lines += textwrap.wrap(
            f"{_SIGN[sentence.icon]} {sentence.text}", 96, subsequent_indent="  ", drop_whitespace=True
        )
    lines += ["", "+ good   ! look at it   X touches", ""]
    for caution in words.cautions:
        lines += textwrap.wrap(caution, 96)
    return "\n".join(lines)


def _write(vehicle: Vehicle, setup: Setup, source: Path) -> str:
    """Write the picture beside the reader, or where it can be written; return what to say about it."""
    stem = source.name.split(".")[0] or "vehicle"
    scene = scene_of(vehicle, setup, travel=-vehicle.travel.rebound / 2)
    reason: LinkvizError | None = None
    for folder in (Path.cwd(), Path(tempfile.gettempdir())):
        for kind in (".png", ".svg"):
            out = folder / f"{stem}-lifted{kind}"
            try:
                write_picture([scene], out, (1280, 560))
            except LinkvizError as error:
                reason = error
            else:
                return f"\nThe picture is in {out}"
    return f"\nNo picture could be written: {reason}"
