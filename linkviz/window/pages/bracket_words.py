"""What the Bracket page writes: rows of its tables and its sentences, from a design."""

from __future__ import annotations

import math
from collections.abc import Iterator

from linkviz.analysis.bracket.changes import AnchorRow
from linkviz.analysis.bracket.design import Design, loads_said, raised_said
from linkviz.analysis.bracket.goals import Goal
from linkviz.bracket.check import Check
from linkviz.bracket.parts import DropBracket
from linkviz.session.tables import length_shown
from linkviz.units import Unit, format_length, length_number
from linkviz.window.pages.state_table import NOTHING

GOAL_HINT = "Pick a goal to see what it means; double-click it, or press Set it, to have it drawn."
CHECK_HINT = "Pick a check to see its formula, its numbers and its source."
_NEAR = 0.05
"""Drops nearer than this are the same, mm."""
Sentence = tuple[str, str]
"""Words and sign."""


GOAL_HEADS = ("Goal", "Drop", "Off\ncentre", "Swing", "Roll\ncentre", "Spare\ngap", "Above\nground")


def goal_fault(goal: Goal, design: Design) -> str:
    """Return what is wrong with the drop of a goal, in two words; "" if it can be made."""
    drop = goal.setup.drop if goal.setup is not None else 0.0
    if not drop:
        return ""
    if design.drop_max is not None and drop > design.drop_max + _NEAR:
        return "too long"
    return "too short" if design.drop_min is not None and drop < design.drop_min - _NEAR else ""


def goal_row(goal: Goal, design: Design, unit: Unit) -> tuple[str, ...]:
    """Return one goal as texts: lengths as bare numbers, the unit stands above the table."""
    setup = goal.setup
    if setup is None:
        return (goal.label, *([NOTHING] * 6))
    label = ", ".join(filter(None, (goal.label, goal_fault(goal, design))))
    drop = length_number(setup.drop, unit) if setup.drop else NOTHING
    figures = (goal.offset, goal.sway, goal.roll_centre, goal.spare, goal.ground)
    return (label, drop, *(length_number(f, unit) if math.isfinite(f) else NOTHING for f in figures))


def goal_tip(goal: Goal, design: Design, unit: Unit) -> str:
    """Return what a goal means, what reaches it, or why nothing does, and why its drop cannot be made."""
    setup = goal.setup
    if setup is None:
        return f"{goal.plain} {goal.why}"
    parts = [f"drop {format_length(setup.drop, unit)}"] if setup.drop else []
    if setup.shift:
        way = "outboard" if setup.shift > 0 else "inboard"
        parts.append(f"holes {format_length(abs(setup.shift), unit)} {way}")
    if setup.bar_longer:
        way = "longer" if setup.bar_longer > 0 else "shorter"
        parts.append(f"bar {format_length(abs(setup.bar_longer), unit)} {way}")
    if setup.axle_raise:
        parts.append(f"axle end {format_length(setup.axle_raise, unit)} up")
    said = f"{goal.plain} {', '.join(parts).capitalize()}." if parts else goal.plain
    fault = goal_fault(goal, design)
    if not fault:
        return said
    end, bound = ("longest", design.longest[0]) if fault == "too long" else ("shortest", design.shortest[0])
    return f"{said} That is {fault}: the {end} drop is {format_length(bound.drop, unit)}, {bound.words}."


def bounds(design: Design, unit: Unit) -> Iterator[Sentence]:
    """Yield how short and how long the drop can be, whether the present one is within, and whether it has a hole."""
    if not design.drilled:
        drops = ", ".join(format_length(hole, unit) for hole in design.bracket.holes)
        yield f"The bracket has no hole at {format_length(design.setup.drop, unit)}, only at {drops}.", "warn"
    drop = design.setup.drop
    low, high = design.drop_min, design.drop_max
    if low is not None:
        yield f"Shortest drop {format_length(low, unit)}: {design.shortest[0].words}.", _outside(drop < low - _NEAR)
    if high is not None:
        yield f"Longest drop {format_length(high, unit)}: {design.longest[0].words}.", _outside(drop > high + _NEAR)


def _outside(outside: bool) -> str:
    return "hit" if outside else "ok"


def check_row(check: Check) -> tuple[str, ...]:
    """Return one check as texts."""
    use = f"{100.0 * check.utilisation:.0f} %" if check.utilisation < 99.0 else "far over"
    return (check.words, use)


def check_sign(check: Check) -> str:
    """Return the sign of a check: what is nearly used up is to be looked at."""
    if not check.passes:
        return "hit"
    return "warn" if check.kind == "strength" and check.utilisation > 0.9 else "ok"


def check_words(check: Check) -> str:
    """Return a check so that it can be followed on paper."""
    where = {"frame bracket": "the vehicle's own frame bracket"}.get(check.where, f"the {check.where}")
    case = f", {check.case}" if check.case else ""
    return f"{check.words} ({where}{case}): {check.verdict}.\n{check.formula}\n{check.numbers}\n{check.source}"


def strength(design: Design) -> Iterator[Sentence]:
    """Yield how strong it is, in a sentence or two, and what would make it pass."""
    if design.checks:
        worst = design.checks[0]
        use = f"{100.0 * worst.utilisation:.0f} %"
        words = worst.in_sentence
        yield f"Most used: {words}, {use} of its allowable ({worst.case}): {worst.verdict}.", check_sign(worst)
    if design.changes:
        single = design.changes[0].passes and (len(design.changes) < 2 or design.changes[1].passes)
        tried = [change.words for change in design.changes]
        if single:
            yield f"Any one of these would pass: {'; or '.join(tried[:3])}.", ""
        elif design.changes[-1].passes:
            yield f"Together these would pass: {'; and '.join(tried)}.", ""
        else:
            yield f"Not enough even with {'; and '.join(tried)}. Use a shorter drop.", "warn"
    for words in loads_said(design):
        yield words, ""


def raised(design: Design, unit: Unit) -> Iterator[Sentence]:
    """Yield what raising the bar's other end comes to beside the drop."""
    for text in raised_said(design, unit):
        yield text, ""
    if not design.raised and design.setup.axle_raise == 0 and design.goal("raise").setup is None:
        yield f"Raising the axle end instead: {design.goal('raise').why}", ""


ANCHOR_HEADS = ("Anchor bolt below the original", "Times the\nbar's force", "Most\nused")


def anchor_row(row: AnchorRow, now: float, unit: Unit) -> tuple[str, ...]:
    """Return what an anchor distance does as texts."""
    notes = ["as it is"] if abs(row.anchor - now) < 1e-6 else []
    notes += [] if row.allowed else ["no room for it"]
    use = f"{100.0 * row.worst.utilisation:.0f} %" if row.worst.utilisation < 99.0 else "far over"
    return (", ".join([format_length(row.anchor, unit), *notes]), f"{row.amplified:.2f}", use)


def anchor_sign(row: AnchorRow) -> str:
    """Return the sign of an anchor distance."""
    return "ok" if row.allowed and row.worst.passes else "hit"


def hangs(bracket: DropBracket, drop: float, unit: Unit) -> str:
    """Return where the bar hangs, with what the joggle is."""
    at = next((i for i, hole in enumerate(bracket.holes) if abs(hole - drop) < _NEAR), None)
    where = "in no hole" if at is None else f"in hole {at + 1}" if len(bracket.holes) > 1 else "in the hole"
    text = f"The bar hangs {where}, {format_length(drop, unit)} below the original bolt."
    bend = bracket.joggle
    if bend is None:
        return text
    way = "farther apart" if bend.offset > 0 else "nearer together"
    angle = f"{math.degrees(bend.angle):.0f}\N{DEGREE SIGN}"
    return f"{text} Below the joggle each plate stands {format_length(abs(bend.offset), unit)} {way}, bent by {angle}."


def holes(design: Design, unit: Unit) -> Iterator[Sentence]:
    """Yield which holes would serve the range of lifts."""
    found = design.holes.holes
    if found:
        each = "; ".join(f"{format_length(hole.drop, unit)} for {_range(hole.serves, unit)}" for hole in found)
        yield f"Fewest holes for the range of lifts: {each}.", ""
    if design.holes.unserved:
        lifts = ", ".join(format_length(lift, unit) for lift in design.holes.unserved)
        step = length_shown(round(design.holes.step, 1), unit)
        yield f"No hole can serve a lift of {lifts}: {design.holes.why}. Holes stand at least {step} apart.", "warn"


def _range(lifts: tuple[float, ...], unit: Unit) -> str:
    if len(lifts) == 1:
        return f"a lift of {format_length(lifts[0], unit)}"
    return f"lifts of {format_length(lifts[0], unit)} to {format_length(lifts[-1], unit)}"
