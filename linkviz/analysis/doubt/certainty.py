"""What the measuring leaves open, in words: how far a figure may be off, and what that means for a gap.

The figures are those of `linkviz.analysis.doubt.uncertainty`; nothing here computes any. Ends of an interval are
written outwards,
so that rounding never makes a result look surer than it is.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from linkviz.analysis.clearance.words import sure_words
from linkviz.analysis.compare import Name
from linkviz.analysis.doubt.uncertainty import Cause, Estimate, Uncertainty
from linkviz.analysis.findings import STATE, sideways
from linkviz.analysis.telling import Sentence
from linkviz.frozen import Frozen
from linkviz.units import Unit, finest, format_angle, format_length

EXACT = 1e-6
"""An interval narrower than this is none: the figure is what it is by definition (mm, deg)."""
_OF_ROW = {"joints": ("front_joint_angle", "pinion_joint_angle")}
_OUTWARDS = 1e-9


class Range(Frozen):
    """How far a figure may be off: `short` such as "\N{PLUS-MINUS SIGN}3 mm", and `plain`, a sentence."""

    short: str
    plain: str


def either_way(estimate: Estimate, unit: Unit) -> str:
    """Return how far a figure may be off, to the farther end of its interval; "" if it cannot be off."""
    most = max(estimate.high - estimate.value, estimate.value - estimate.low)
    if most < EXACT:
        return ""
    return f"\N{PLUS-MINUS SIGN}{_size(_up(most, estimate.unit, unit), estimate.unit, unit)}"


def between(estimate: Estimate, unit: Unit) -> str:
    """Return the 95 % interval in words: "between 2 mm and 10 mm"."""
    step = _step(estimate.unit, unit)
    low = math.floor(estimate.low / step + _OUTWARDS) * step
    high = math.ceil(estimate.high / step - _OUTWARDS) * step
    return f"between {_end(estimate, low, unit)} and {_end(estimate, high, unit)}"


def ranges(found: Uncertainty, unit: Unit) -> Mapping[str, Mapping[Name, Range]]:
    """Return how far each figure of the table of findings may be off, by the key of its row and by state."""
    keys = {key for case in found.cases.values() for key in case.results}
    rows = {key: (key,) for key in keys} | _OF_ROW
    result: dict[str, dict[Name, Range]] = {}
    for row, names in rows.items():
        for state, case in found.cases.items():
            estimates = [case.results[name] for name in names if name in case.results]
            shown = [text for estimate in estimates if (text := either_way(estimate, unit))]
            if not shown:
                continue
            widest = max(estimates, key=lambda e: e.high - e.low)
            plain = "; ".join(f"{estimate.label.lower()} {between(estimate, unit)}" for estimate in estimates)
            result.setdefault(row, {})[state] = Range(
                either_way(widest, unit), f"95 of 100 such measurements lie so: {plain}."
            )
    return result


def sentences(found: Uncertainty, unit: Unit, keys: tuple[str, ...] = ()) -> tuple[Sentence, ...]:
    """Return what the measuring leaves open about the last state, in plain sentences; all, or those of some keys."""
    name, case = list(found.cases.items())[-1]
    said: list[Sentence] = []
    for key in ("worst_gap", "offset", "swing"):
        if key in case.results and (not keys or key in keys) and either_way(case.results[key], unit):
            said.append(_said(found, name, case.results[key], unit))
    restore = not keys or "restore_drop" in keys
    if restore and found.restore is not None and found.setup.lift > 0 and either_way(found.restore, unit):
        said.append(
            Sentence(f"Drop that restores the bar's angle: {_end(found.restore, found.restore.value, unit)}, "
                     f"{between(found.restore, unit)}.")
        )  # fmt: skip
    if found.sure is not None and (not keys or "sure_drop" in keys):
        said.append(sure_words(found.sure, unit))
    if case.reached < 1.0:
        lost = max(1, round(100 * (1.0 - case.reached)))
        said.append(Sentence(f"In {lost} of 100 such vehicles the axle does not get through its whole travel.", "warn"))
    return tuple(said)


def _said(found: Uncertainty, name: Name, estimate: Estimate, unit: Unit) -> Sentence:
    value = _end(estimate, estimate.value, unit)
    text = f"{_WORDS[estimate.key]}, {STATE[name]}: {value}; 95 of 100 such measurements lie {between(estimate, unit)}."
    if estimate.key != "worst_gap":
        return Sentence(text)
    margin = found.cases[name].margin
    if estimate.low <= 0.0 < estimate.high:
        return Sentence(f"{text} Whether the shaft touches, these measurements cannot tell.", "warn")
    if estimate.low < margin <= estimate.value:
        return Sentence(f"{text} The margin of {format_length(margin, unit)} is not sure to be kept.", "warn")
    return Sentence(text, "hit" if estimate.high <= 0.0 else "")


_WORDS = {"worst_gap": "Tightest shaft gap", "offset": "Axle off centre", "swing": "Sideways swing"}


def blame_words(cause: Cause, unit: Unit) -> tuple[str, str, str]:
    """Return a point to measure again, its share, and how far it was taken to be off, as cells of a table."""
    share = f"{100.0 * cause.share:.0f} %"
    return cause.words[:1].upper() + cause.words[1:], share, f"\N{PLUS-MINUS SIGN}{format_length(cause.u, unit)}"


# -- how values are written


def _step(kind: str, unit: Unit) -> float:
    return 0.1 if kind == "deg" else finest(unit)


def _up(size: float, kind: str, unit: Unit) -> float:
    step = _step(kind, unit)
    return math.ceil(size / step - _OUTWARDS) * step


def _size(value: float, kind: str, unit: Unit) -> str:
    return format_angle(math.radians(value)) if kind == "deg" else format_length(value, unit)


def _end(estimate: Estimate, value: float, unit: Unit) -> str:
    """Return one value of an estimate as people say it: sides, depths, plain lengths, angles."""
    if estimate.key == "offset":
        return sideways(value, unit)
    if estimate.key == "worst_gap" and value < 0.0:
        return f"{format_length(-value, unit)} deep"
    if estimate.key == "wheelbase_change" and abs(value) >= EXACT:
        return f"{format_length(abs(value), unit)} {'longer' if value > 0 else 'shorter'}"
    return _size(value, estimate.unit, unit)
