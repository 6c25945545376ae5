"""What the window would show where there is none: the findings in plain text, and the picture in a file."""

from __future__ import annotations

import tempfile
import textwrap
from pathlib import Path

from linkviz.analysis.compare import NAMES, compare
from linkviz.analysis.findings import Findings, findings
from linkviz.analysis.goals import clear_drop, restore_drop
from linkviz.analysis.setup import Setup
from linkviz.book.model import NO_JOB, Whole
from linkviz.book.read import read_either
from linkviz.commands.picture import write_picture
from linkviz.errors import LinkvizError
from linkviz.picture.scenes import scene_of
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import DEMO_LIFT
from linkviz.vehicle.model import Vehicle

_SIGN = {"": " ", "ok": "+", "warn": "!", "hit": "X"}


def tell(path: str | None) -> None:
    """Print the findings of a file, or of a demo vehicle, and write the picture."""
    source = Path(path) if path else demo_vehicle_paths()[0]
    found = read_either(source)
    whole = found if isinstance(found, Whole) else Whole(NO_JOB, usual_setup(found), found)
    print(report(whole))
    print(_write(whole, whole.setup.without_parts() if whole.vehicle is found else whole.setup, source))


def usual_setup(vehicle: Vehicle) -> Setup:
    """Return the usual lift with the drop that restores the bar's angle, for a vehicle nobody has lifted yet."""
    return Setup(lift=DEMO_LIFT, drop=float(round(restore_drop(vehicle, DEMO_LIFT) or 0.0)))


def report(whole: Whole) -> str:
    """Return the findings in plain text: as built, lifted, and with the parts on."""
    vehicle, setup = whole.vehicle, whole.setup
    words = findings(compare(vehicle, setup), whole.units, clear_drop(vehicle, setup.lift) if setup.lift else None)
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


def _write(whole: Whole, setup: Setup, source: Path) -> str:
    """Write the picture beside the reader, or where it can be written; return what to say about it."""
    stem = source.name.split(".")[0] or "vehicle"
    vehicle = whole.vehicle
    scene = scene_of(vehicle, setup, travel=-vehicle.travel.rebound / 2, unit=whole.units)
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
