"""`linkviz clearance`: every pair of parts that is watched, travel left, and the drop and the bump stop that clear."""

from __future__ import annotations

import argparse
import math
from typing import Any

from linkviz.analysis.build import Build
from linkviz.analysis.clearance.answers import Answers, FirstTouch, answers, guessed_sizes
from linkviz.analysis.clearance.movers import things
from linkviz.analysis.clearance.sure_drop import SureDrop, sure_drop
from linkviz.analysis.clearance.swept import swept
from linkviz.analysis.clearance.words import clearance_sentences, guessed_words, pair_row, sure_words
from linkviz.analysis.findings import CAUTIONS
from linkviz.commands.subject import subject, units
from linkviz.commands.text import bullet, json_text, paragraph, plain
from linkviz.commands.values import BadValue
from linkviz.units import Unit
from linkviz.vehicle.outline_files import write_outlines

_COLUMNS = (40, 10, 24)


def command(options: argparse.Namespace) -> int:
    """Print what clearance comes down to."""
    whole = subject(options)
    build = Build.of(whole.vehicle, whole.setup)
    unit = units(options, whole)
    if options.swept:
        return _write_swept(build, options.swept, options.out, unit)
    if options.out:
        raise BadValue("--out: goes with --swept; give the name of a part there, such as driveshaft")
    found = answers(build)
    sure = sure_drop(whole.vehicle, whole.setup.lift)
    if options.json:
        data = {"vehicle": whole.vehicle.name, **clearance_data(build, found)}
        print(json_text({**data, "clearing_drop": sure_data(sure), "cautions": list(CAUTIONS)}))
    else:
        print(as_text(build, found, sure, unit))
    return 0


def _write_swept(build: Build, name: str, out: str | None, unit: Unit) -> int:
    """Write what a part sweeps, and what it touches, as outlines."""
    known = [thing.name for thing in things(build.vehicle, build.setup).values() if thing.moves]
    if name not in known:
        raise BadValue(f"--swept: found {name}; expected one of {', '.join(known)}")
    if not out:
        raise BadValue("--swept: give --out NAME.dxf or NAME.csv too")
    outlines = swept(build, name).outlines()
    write_outlines(out, outlines, unit)
    print(f"{out}: {', '.join(outlines)}")
    return 0


def clearance_data(build: Build, found: Answers) -> dict[str, Any]:
    """Return the answers as plain data, mm and deg."""
    pairs = [
        {
            "one": worst.pair.one,
            "other": worst.pair.other,
            "margin_mm": worst.pair.margin,
            "gap_mm": plain(worst.gap),
            "travel_mm": plain(worst.travel),
            "roll_deg": plain(math.degrees(worst.roll)),
            "sign": worst.sign,
        }
        for worst in found.worst
    ]
    return {
        "pairs": pairs,
        "travel_left": {"up": _touch(found.up), "down": _touch(found.down)},
        "bump_stop_mm": plain(found.stop_height),
        "sizes_not_measured": list(guessed_sizes(build)),
    }


def sure_data(sure: SureDrop | None) -> dict[str, Any] | None:
    """Return the drop that clears as plain data, mm."""
    if sure is None:
        return None
    return {"as_measured_mm": sure.plain, "with_95_percent_mm": sure.drop, "trials": sure.trials}


def _touch(touch: FirstTouch | None) -> dict[str, Any] | None:
    if touch is None:
        return None
    return {
        "travel_mm": plain(touch.travel),
        "roll_deg": plain(math.degrees(touch.roll)),
        "one": touch.pair.one,
        "other": touch.pair.other,
    }


def as_text(build: Build, found: Answers, sure: SureDrop | None, unit: Unit) -> str:
    """Return it all as text."""
    lines = [build.vehicle.name, ""]
    sentences = [*clearance_sentences(build, found, unit), *([sure_words(sure, unit)] if sure is not None else [])]
    for sentence in sentences:
        lines += bullet(sentence.text)
    lines += ["", *pair_lines(found, unit)]
    for note in (guessed_words(build), *CAUTIONS):
        if note:
            lines += ["", *paragraph(note)]
    return "\n".join(lines)


def pair_lines(found: Answers, unit: Unit) -> list[str]:
    """Return the table of pairs."""
    rows = [("Pair", "Margin", "Smallest gap", "Where"), *(pair_row(worst, unit) for worst in found.worst)]
    widths = (*_COLUMNS, 0)
    return ["".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]
