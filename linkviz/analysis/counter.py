"""What is said across a counter: the few figures a customer sees in the drawing, and short sentences without jargon."""

from __future__ import annotations

from linkviz.analysis.compare import Case, Comparison
from linkviz.analysis.findings import Findings, centred, sideways
from linkviz.analysis.telling import Cell, Row, Sentence, reads_as_nothing, room_words
from linkviz.units import Unit, format_length

PLAIN = {
    "offset": "Where the axle stands",
    "swing": "Sideways swing over bumps",
    "bar_angle": "Slope of the sideways bar",
    "worst_gap": "Room at the driveshaft",
}
"""The rows a customer sees, by the key of the finding, in plain words."""
MOST_TIMES = 1.2
"""A swing this many times that of the vehicle as built is worth a warning."""


def spoken(found: Findings, comparison: Comparison, unit: Unit) -> Findings:
    """Return findings for a customer: few rows, each in plain words, and at most three sentences.

    Parameters
    ----------
    found : Findings
        All there is.
    comparison : Comparison
        What they were made of.
    unit : {"mm", "in"}
        Unit of lengths in the text.
    """
    by_key = {row.key: row for row in found.rows}
    rows = tuple(
        Row(label, {name: _short(cell) for name, cell in by_key[key].cells.items()}, by_key[key].plain, key)
        for key, label in PLAIN.items()
        if key in by_key and any(cell.text != "-" for cell in by_key[key].cells.values())
    )
    return Findings(rows, tuple(_sentences(comparison, unit)), found.cautions)


def _short(cell: Cell) -> Cell:
    """Return a cell without how deep something touches: that it does is enough."""
    return Cell(cell.text.partition(",")[0], cell.icon) if cell.icon == "hit" else cell


def _sentences(comparison: Comparison, unit: Unit) -> list[Sentence]:
    cases, setup = comparison.cases, comparison.setup
    built, lifted, corrected = cases["as built"], cases.get("lifted"), cases.get("corrected")
    if lifted is None and corrected is None:
        return [
            Sentence(f"As it was built, the axle swings {format_length(built.swing, unit)} sideways over bumps."),
            *_touch(comparison, built, unit),
        ]
    result = []
    if lifted is not None:
        times = lifted.swing / built.swing if built.swing > 1.0 else 1.0
        more = f", {times:.1f} times as far as it was built to" if times > MOST_TIMES else ""
        result.append(
            Sentence(
                f"Lifted {format_length(setup.lift, unit)}, the axle {_stands(lifted, unit)} and swings "
                f"{format_length(lifted.swing, unit)} sideways over bumps{more}.",
                "warn" if more or abs(lifted.study.offset) > 3.0 else "",
            )
        )
        if corrected is None or (lifted.worst is not None and lifted.worst.sign == "hit"):
            result += _touch(comparison, lifted, unit)
    if corrected is not None:
        what = f"a bracket that lowers the bar by {format_length(setup.drop, unit)}" if setup.drop else "the parts"
        touch = _touch(comparison, corrected, unit)
        clear = f" {touch[0].text}" if touch else ""
        icon = touch[0].icon if touch and touch[0].icon != "ok" else "ok"
        result.append(
            Sentence(
                f"With {what}, it {_stands(corrected, unit)} and swings {format_length(corrected.swing, unit)}.{clear}",
                icon if corrected.swing <= 1.5 * built.swing + 3.0 else "warn",
            )
        )
    return result


def _stands(case: Case, unit: Unit) -> str:
    y = case.study.offset
    return "stands in the middle" if centred(y, unit) else f"stands {sideways(y, unit)} of the middle"


def _touch(comparison: Comparison, case: Case, unit: Unit) -> list[Sentence]:
    worst = case.worst
    if worst is None:
        return []
    envelope = comparison.vehicle.envelopes[worst.envelope]
    if worst.sign == "hit":
        return [Sentence(f"The driveshaft touches the {envelope.name}.", "hit")]
    room = room_words(worst.gap, unit)
    if worst.sign == "warn":
        near = "all but touches" if reads_as_nothing(worst.gap, unit) else f"comes as near as {room} to"
        return [Sentence(f"The driveshaft {near} the {envelope.name}.", "warn")]
    return [Sentence(f"The driveshaft stays clear of the {envelope.name} by {room}.", "ok")]
