"""What a comparison means, in a table and in plain sentences. Units are those the reader wants."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING

from linkviz.analysis.bracket.stock_words import proposed
from linkviz.analysis.compare import ROLLS, Case, Comparison, Name, Worst
from linkviz.analysis.goals import restore_drop
from linkviz.analysis.shortfalls import SOURCE, angles_said, checked, joint_angles, shortfalls, too_steep
from linkviz.analysis.stance.springing import Springing
from linkviz.analysis.telling import Cell, Row, Sentence, depth_words, gap_words, reads_as_nothing, room_words
from linkviz.driveline.joints import SMOOTH
from linkviz.frozen import Frozen
from linkviz.units import Unit, format_angle, format_length
from linkviz.vehicle.model import Vehicle

if TYPE_CHECKING:
    from linkviz.analysis.bracket.stock import Proposal
    from linkviz.analysis.stance.brake_valve import ValveResult

LEVEL = 0.5
"""Lengths below this are called nothing, mm."""

CAUTIONS = (
    "These figures support a qualified person's judgement and replace nobody's. Check them on the vehicle.",
    "A lift raises the centre of gravity and changes how the vehicle brakes and steers. Brake work is for a licensed "
    "mechanic; welds on a suspension part are for a qualified welder.",
    "Lift height, brake changes and load limits are subject to local law, inspection and the vehicle maker's limits.",
    "Support the vehicle on stands before working under it; re-check all fasteners after the first drive.",
)
"""What must be said wherever results are handed on."""


class Findings(Frozen):
    """Table, sentences and cautions."""

    rows: tuple[Row, ...]
    sentences: tuple[Sentence, ...]
    cautions: tuple[str, ...] = CAUTIONS


def findings(
    comparison: Comparison,
    unit: Unit = "mm",
    clear: float | None = None,
    springing: Springing | None = None,
    stock: Proposal | None = None,
    valve: ValveResult | None = None,
    restore: float | None = None,
    at_hand_for: float | None = None,
    later: bool = False,
) -> Findings:
    """Put a comparison into words.

    Parameters
    ----------
    comparison : Comparison
        The states.
    unit : {"mm", "in"}
        Unit of lengths in the text.
    clear : float, optional
        `linkviz.analysis.goals.clear_drop`, mm, if it is at hand.
    springing : Springing, optional
        What was put under the body, for how it stands laden.
    stock : Proposal, optional
        What the shop's stock has, if it is at hand.
    valve : ValveResult, optional
        What the brake valve does, if it is at hand; worked out here if not. Stale if it is of another setup.
    restore : float, optional
        `linkviz.analysis.goals.restore_drop`, mm, if it is at hand; worked out here if not.
    at_hand_for : float, optional
        Lift for which `clear`, `restore` and `stock` were worked out, mm, if not for this one: they are stale then.
    later : bool
        Whether what is not at hand is left out rather than worked out: it comes later.
    """
    vehicle = comparison.vehicle
    if valve is None and not later and vehicle.brake_valve is not None:
        from linkviz.analysis.stance.brake_valve import brake_valve

        valve = brake_valve(vehicle, comparison.setup, springing)
    lift = comparison.setup.lift
    if restore is None and not later and lift > 0:
        restore = restore_drop(vehicle, lift)
    advice = _advice(unit, restore, clear, stock)
    if at_hand_for is not None and at_hand_for != lift:
        advice = _stale(advice)
    return Findings(_rows(comparison, unit), tuple(_sentences(comparison, unit, tuple(advice), valve)))


# -- the table


def _rows(comparison: Comparison, unit: Unit) -> tuple[Row, ...]:
    built = comparison.cases["as built"]
    columns = {name: _column(case, built, unit) for name, case in comparison.cases.items()}
    return tuple(
        Row(first.label, {name: column[i].cells[name] for name, column in columns.items()}, first.plain, first.key)
        for i, first in enumerate(columns["as built"])
    )


@lru_cache(maxsize=16)
def _column(case: Case, built: Case, unit: Unit) -> tuple[Row, ...]:
    """Return the rows with the cells of one state alone; a state that did not change is not put into words again."""
    vehicle = built.study.build.vehicle

    def row(label: str, cell: Callable[[Case], Cell], plain: str, key: str = "") -> Row:
        return Row(label, {case.name: cell(case)}, plain, key)

    def swing(case: Case) -> Cell:
        more = case.swing > 1.5 * built.swing + 3.0
        return Cell(format_length(case.swing, unit), "warn" if more else "")

    def offset(case: Case) -> Cell:
        far = abs(case.study.offset) > 6.0
        return Cell(sideways(case.study.offset, unit), "warn" if far else "")

    def wheelbase(case: Case) -> Cell:
        x = float(case.study.poses.x[case.rest])
        if abs(x) < LEVEL:
            return Cell("unchanged")
        return Cell(f"{format_length(abs(x), unit)} {'shorter' if x > 0 else 'longer'}")

    rows = [
        row(
            "Axle off centre at rest",
            offset,
            "Where the axle stands sideways under the body, seen from the body.",
            "offset",
        ),
        row(
            "Sideways swing over travel",
            swing,
            "How far the axle goes sideways between full jounce and full rebound.",
            "swing",
        ),
        row(
            "Bar angle at rest",
            lambda case: Cell(format_angle(float(case.study.bar_angle[case.rest]))),
            "Lateral bar against level, seen from behind; near level it hardly moves the axle sideways.",
            "bar_angle",
        ),
        row(
            "Pinion angle at rest",
            lambda case: Cell(format_angle(float(case.study.pinion_angle[case.rest]))),
            "How far the pinion points up; the lift turns it as the trailing links swing.",
            "pinion_angle",
        ),
        row(
            "Wheelbase at rest",
            wheelbase,
            "The trailing links swing the axle forward as the body rises.",
            "wheelbase_change",
        ),
        row(
            "Roll centre above ground",
            lambda case: Cell(format_length(float(case.study.roll_centre[case.rest]), unit)),
            "Height about which the body leans over the axle.",
            "roll_centre",
        ),
    ]
    if vehicle.driveshaft is not None:
        rows.append(
            row(
                "Driveshaft joints at rest",
                lambda case: Cell(
                    angles_said(_joints(case)), "warn" if too_steep(_joints(case), _joints(built)) else ""
                ),
                f"Angles the shaft's joints work at, front and pinion; up to {format_angle(SMOOTH, 0)} runs smoothly.",
                "joints",
            )
        )
    if checked(built.study):
        rows.append(
            row(
                "Reach of springs, dampers, hoses",
                _reach_cell,
                "Whether everything between body and axle reaches over the whole travel.",
            )
        )
    if vehicle.driveshaft is not None and vehicle.envelopes:
        rows.append(
            row(
                "Tightest shaft gap",
                lambda case: gap_cell(case.worst, unit),
                "Gap between driveshaft and what was drawn where its margin leaves the least to spare, over the whole "
                f"travel, level and crossed up {format_angle(max(ROLLS), 0)}.",
                "worst_gap",
            )
        )
    return tuple(rows)


def _joints(case: Case) -> tuple[float, ...]:
    return joint_angles(case.study, case.rest)


def _reach_cell(case: Case) -> Cell:
    short = shortfalls(case.study)
    if not short:
        return Cell("all reach", "ok")
    # The sentence below the table names them, with how much; a narrow column has no room for it.
    return Cell("1 falls short" if len(short) == 1 else f"{len(short)} fall short", "hit")


def gap_cell(worst: Worst | None, unit: Unit) -> Cell:
    """Return a gap as a cell: value and icon."""
    return Cell("-") if worst is None else Cell(gap_words(worst.gap, unit), worst.sign)


# -- the sentences


def sideways(y: float, unit: Unit) -> str:
    """Return a sideways place in words: "12 mm left", "centred"."""
    if centred(y, unit):
        return "centred"
    return f"{format_length(abs(y), unit)} {'left' if y > 0 else 'right'}"


def to_the_side(y: float, unit: Unit) -> str:
    """Return a sideways place that is not `centred` in words: "12 mm to the left"."""
    return f"{format_length(abs(y), unit)} to the {'left' if y > 0 else 'right'}"


def centred(y: float, unit: Unit) -> bool:
    """Return whether a sideways place comes to nothing in the unit of the screen."""
    return abs(y) < LEVEL or reads_as_nothing(y, unit)


def _stands(y: float, unit: Unit) -> str:
    return f"stands {'in the middle' if centred(y, unit) else to_the_side(y, unit)}"


def _sentences(
    comparison: Comparison, unit: Unit, advice: tuple[Sentence, ...], valve: ValveResult | None
) -> list[Sentence]:
    cases, vehicle, setup = comparison.cases, comparison.vehicle, comparison.setup
    built, lifted, corrected = cases["as built"], cases.get("lifted"), cases.get("corrected")
    result: list[Sentence] = []
    if lifted is None and corrected is None:
        result.append(
            Sentence(
                f"As built, the axle swings {format_length(built.swing, unit)} sideways over its travel, and the bar "
                f"stands at {format_angle(float(built.study.bar_angle[built.rest]))}."
            )
        )
        result += _touching(vehicle, built, unit)
    if lifted is not None:
        worse = lifted.swing > 1.2 * built.swing or abs(lifted.study.offset) > 3.0
        result.append(
            Sentence(
                f"Lifted {format_length(setup.lift, unit)} on the original bar, the axle "
                f"{_stands(lifted.study.offset, unit)}"
                f" and swings {format_length(lifted.swing, unit)} sideways over its travel; as built it swings "
                f"{format_length(built.swing, unit)}. The tyres hold the road, so it is the body that is "
                "pushed sideways.",
                "warn" if worse else "",
            )
        )
        result += _touching(vehicle, lifted, unit)
        result += _stopped(lifted)
        # what to do about it comes before all that is only to be known
        result += advice
    if corrected is not None:
        parts = _parts(comparison, unit)
        better = lifted is None or corrected.swing <= lifted.swing
        result.append(
            Sentence(
                f"With {parts}, the axle {_stands(corrected.study.offset, unit)} and swings "
                f"{format_length(corrected.swing, unit)}.",
                "ok" if better else "warn",
            )
        )
        result += _touching(vehicle, corrected, unit)
        result += _stopped(corrected)
    last = corrected or lifted or built
    result += _steep(last, built) + _short(last, unit)
    if valve is not None:
        from linkviz.analysis.stance.brake_words import counter_sentences

        said = counter_sentences(valve, unit)
        result += said if valve.setup == setup else _stale(said)
    return result


def _stale(sentences: Iterable[Sentence]) -> Iterator[Sentence]:
    return (sentence.replace(stale=True) for sentence in sentences)


def _advice(unit: Unit, restore: float | None, clear: float | None, stock: Proposal | None) -> Iterator[Sentence]:
    """Yield what would put a lift right: a drop, and what the stock has."""
    if restore is not None:
        text = f"A drop of {format_length(restore, unit)} gives the bar back the angle it was built with"
        if clear is not None and clear > 0:
            text += f"; {format_length(math.ceil(clear), unit)} or more keeps the shaft its margin clear"
        yield Sentence(text + ".")
    if stock is not None:
        yield proposed(stock, unit)


STATE: Mapping[Name, str] = {"as built": "as built", "lifted": "lifted", "corrected": "with the parts on"}
"""What a state is called inside a sentence."""


def _as(case: Case) -> str:
    """Return what a state is called where a sentence begins with it."""
    return STATE[case.name].capitalize()


def _steep(case: Case, built: Case) -> list[Sentence]:
    angles, before = _joints(case), _joints(built)
    if not too_steep(angles, before):
        return []
    text = (
        f"{_as(case)}, the driveshaft's joints work at {angles_said(angles)} at rest; as built at "
        f"{angles_said(before)}. Beyond {format_angle(SMOOTH, 0)} a shaft shakes and wears sooner ({SOURCE})."
    )
    return [Sentence(text, "warn")]


def _short(case: Case, unit: Unit) -> list[Sentence]:
    short = [shortfall.said(unit) for shortfall in shortfalls(case.study)]
    if not short:
        return []
    listed = f"{', '.join(short[:-1])} and {short[-1]}" if len(short) > 1 else short[0]
    return [Sentence(f"{_as(case)}, over the travel that was given, {listed}.", "hit")]


def _parts(comparison: Comparison, unit: Unit) -> str:
    setup = comparison.setup
    words = []
    if setup.drop:
        way = "lower" if setup.drop > 0 else "higher"
        words.append(f"the bar's frame end {format_length(abs(setup.drop), unit)} {way}")
    if setup.shift:
        way = "outboard" if setup.shift > 0 else "inboard"
        words.append(f"it {format_length(abs(setup.shift), unit)} further {way}")
    if setup.bar_longer:
        way = "longer" if setup.bar_longer > 0 else "shorter"
        words.append(f"the bar {format_length(abs(setup.bar_longer), unit)} {way}")
    if setup.axle_raise:
        way = "higher" if setup.axle_raise > 0 else "lower"
        words.append(f"the bar's axle end {format_length(abs(setup.axle_raise), unit)} {way}")
    return " and ".join(words)


def _touching(vehicle: Vehicle, case: Case, unit: Unit) -> list[Sentence]:
    worst = case.worst
    if worst is None:
        return []
    envelope = vehicle.envelopes[worst.envelope]
    where = place_words(worst.travel, worst.roll, unit)
    if worst.sign == "hit":
        return [Sentence(f"The driveshaft touches the {envelope.name} {where}{depth_words(worst.gap, unit)}.", "hit")]
    room = room_words(worst.gap, unit)
    if worst.sign == "warn":
        only = "" if reads_as_nothing(worst.gap, unit) else "only "
        return [
            Sentence(
                f"The driveshaft passes the {envelope.name} with {only}{room} {where}; "
                f"{format_length(worst.margin, unit)} was asked for.",
                "warn",
            )
        ]
    return [
        Sentence(
            f"The driveshaft stays {room} clear of the {envelope.name}, nearest {where}.",
            "ok",
        )
    ]


def place_words(travel: float, roll: float, unit: Unit) -> str:
    """Return a state in words: "at 40 mm of jounce, left wheel up 5 deg"."""
    if abs(travel) < LEVEL:
        words = "at rest height"
    else:
        words = f"at {format_length(abs(travel), unit)} of {'jounce' if travel > 0 else 'rebound'}"
    if abs(roll) > 1e-6:
        words += f" with the {'left' if roll > 0 else 'right'} wheel up {format_angle(abs(roll), 0)}"
    return words


def _stopped(case: Case) -> list[Sentence]:
    words = sorted({w for w in case.study.stopped_by if w})
    return [Sentence(f"{_as(case)}, the axle does not get through its whole travel: {w}.", "hit") for w in words]
