"""The text of `linkviz bracket`."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator, Sequence

from linkviz.analysis.bracket.design import STRENGTH_CAUTION, Design, loads_said, raised_said
from linkviz.analysis.bracket.goals import Goal
from linkviz.analysis.bracket.stock import Proposal
from linkviz.analysis.findings import CAUTIONS, sideways
from linkviz.bracket.check import Check
from linkviz.commands.text import WIDE, bullet, columns, paragraph
from linkviz.conventions import MM_PER_INCH
from linkviz.units import Unit, format_angle, format_length


def as_text(found: Design, stock: Proposal | None, unit: Unit) -> str:
    """Return a design, and what the stock has, as text."""
    lines = [found.vehicle.name, ""]
    for part in (
        _lengths(found, unit),
        _goals(found.goals, unit),
        _holes(found, unit),
        _stock(stock, unit) if stock else (),
        _bracket(found, unit),
        _strength(found),
        [line for text in raised_said(found, unit) for line in bullet(text)],
        _anchors(found, unit),
    ):
        lines += [*part, ""]
    for text in (*found.missing, *((STRENGTH_CAUTION,) if found.checks else ()), *CAUTIONS):
        lines += [*paragraph(text), ""]
    while lines[-1] == "":
        lines.pop()
    return "\n".join(line for i, line in enumerate(lines) if line or (i and lines[i - 1]))


def _fine(mm: float, unit: Unit, digits: int | None = None) -> str:
    """Return a size of steel, which is told more finely than a length of the vehicle."""
    if unit == "in":
        return f"{mm / MM_PER_INCH:.3f} in"
    return f"{mm:.4g} mm" if digits is None else f"{mm:.{digits}f} mm"


def _lengths(found: Design, unit: Unit) -> Iterator[str]:
    def said(mm: float) -> str:
        return format_length(mm, unit)

    restoring = found.goal("restore").setup
    same = restoring is not None and abs(restoring.drop - found.setup.drop) < 0.05
    yield f"Lift {said(found.setup.lift)}, drop {said(found.setup.drop)}{', which restores the bar' if same else ''}"
    if found.drop_min is not None:
        yield from bullet(f"Shortest drop {said(found.drop_min)}: {found.shortest[0].words}.")
    if found.longest:
        yield from bullet(f"Longest drop {said(found.longest[0].drop)}: {found.longest[0].words}.")
        for bound in found.longest[1:]:
            yield from bullet(f"Then, at {said(bound.drop)}: {bound.words}.")
    if not found.possible:
        yield from bullet("The shortest is longer than the longest: no drop bracket fits as things stand.")
    elif not found.within:
        yield from bullet("The drop looked at here is outside these bounds.")


def _goals(goals: Sequence[Goal], unit: Unit) -> Iterator[str]:
    heads = ("", "drop", "sway", "at rest", "bar", "roll centre", "gap spare", "ground")
    rows = [heads]
    for goal in goals:
        setup = goal.setup
        if setup is None:
            yield from bullet(f"{goal.label}: {goal.why}")
            continue
        extra = [
            f"{word} {format_length(value, unit)}"
            for word, value in (("shift", setup.shift), ("bar", setup.bar_longer), ("raise", setup.axle_raise))
            if abs(value) >= 0.05
        ]
        rows.append(
            (
                goal.label,
                ", ".join([format_length(setup.drop, unit), *extra]),
                format_length(goal.sway, unit),
                sideways(goal.offset, unit),
                format_angle(goal.bar_angle),
                format_length(goal.roll_centre, unit),
                format_length(goal.spare, unit) if math.isfinite(goal.spare) else "-",
                format_length(goal.ground, unit),
            )
        )
    yield from columns(rows)
    yield from paragraph(
        "Sway: peak to peak over the travel. At rest: where the axle stands, seen from the body. Gap spare: smallest "
        "gap of the driveshaft less the margin asked for, over the whole travel, level and crossed up. Ground: under "
        "the bracket's lower end at full jounce."
    )


def _holes(found: Design, unit: Unit) -> Iterator[str]:
    def said(lifts: Sequence[float]) -> str:
        return ", ".join(format_length(lift, unit) for lift in lifts)

    yield "Holes for a range of lifts"
    for hole in found.holes.holes:
        yield from bullet(f"{format_length(hole.drop, unit)}: serves lifts of {said(hole.serves)}")
    if found.holes.unserved:
        yield from bullet(f"No hole for lifts of {said(found.holes.unserved)}: {found.holes.why}.")
    yield from bullet(f"Holes stand at least {_fine(found.holes.step, unit, 1)} apart (edge distance and half a hole).")


def _stock(stock: Proposal, unit: Unit) -> Iterator[str]:
    yield "Stock"
    if stock.best is None:
        yield from bullet("No part of the catalogue fits this vehicle and this lift.")
    else:
        best = stock.best
        off = format_angle(abs(best.off))
        yield from bullet(
            f"{best.part.number}, {best.part.name}: the hole at {format_length(best.hole or 0.0, unit)}. The bar then "
            f"stands {off} from its angle as built."
        )
    for tried in stock.tried:
        if tried is stock.best:
            continue
        if tried.fits:
            yield from bullet(
                f"{tried.part.number} fits too: the hole at {format_length(tried.hole or 0.0, unit)}, "
                f"{format_angle(abs(tried.off))} from its angle as built."
            )
        else:
            yield from bullet(f"{tried.part.number} not: {' '.join(tried.reasons)}")
    if stock.unknown:
        yield from bullet(stock.unknown)


def _bracket(found: Design, unit: Unit) -> Iterator[str]:
    b = found.bracket
    yield f"Bracket: {'proposed from what was measured' if found.proposed else b.name}"
    if not found.drilled:
        yield from bullet(
            f"it has no hole at {format_length(found.setup.drop, unit)}, only at "
            f"{', '.join(format_length(hole, unit) for hole in b.holes)}; it is looked at as if it had"
        )
    yield from bullet(
        f"two plates {_fine(b.thickness, unit)} x {format_length(b.width, unit)}, {b.steel}, {b.fit} the frame bracket"
        f"{', joggled' if b.joggle else ''}; anchor bolt {format_length(b.anchor, unit)} below the original one"
    )
    yield from bullet(
        f"bolts {b.bolt} (original), {b.anchor_bolt} (anchor), {b.bar_bolt} (bar), grade {b.grade}, threads "
        f"{'clear of' if b.threads == 'clear' else 'in'} the shear planes"
    )
    yield from bullet(
        f"spacer tube {_fine(b.tube_outer, unit)} x {_fine(b.tube_wall, unit)}, {b.tube_steel}, "
        f"{'welded to the plates' if b.tube_welded else 'loose inside the frame bracket'}"
        f"{'; brace down the outboard edge' if b.brace else ''}; fillets {_fine(b.weld_leg, unit)}"
    )


def _strength(found: Design) -> Iterator[str]:
    if not found.checks:
        return
    over = [check for check in (*found.checks, *found.distances) if not check.passes]
    names = "; ".join(dict.fromkeys(case.name for case, _ in found.cases))
    if over:
        yield f"Strength and layout: {len(over)} not kept"
    else:
        most = found.checks[0].utilisation
        yield f"Strength: within the allowable, at most {most:.2f} of it, for the load cases shown"
        yield from bullet(f"Load cases: {names}.")
    for check in (*found.checks, *found.distances):
        yield from _check(check)
    for sentence in loads_said(found):
        yield from bullet(sentence)
    if found.changes:
        yield "To pass, any one of these:" if found.changes[0].passes else "To pass, these together:"
        for change in found.changes:
            yield from bullet(f"{change.words}: then {change.worst.utilisation:.2f} of the allowable at most")
        if not any(change.passes for change in found.changes):
            yield from bullet("That is not enough: take a shorter drop.")
    elif any(check.kind == "strength" for check in over):
        yield from bullet("Nothing that was tried makes it pass: take a shorter drop.")


def _check(check: Check) -> list[str]:
    head = f"{check.utilisation:6.2f}  {check.verdict:<22}{check.said}"
    tail = f"{check.formula}: {check.numbers}. {check.source}"
    wrap = textwrap.wrap
    return [
        *wrap(head, WIDE, subsequent_indent=" " * 30),
        *wrap(tail, WIDE, initial_indent=" " * 30, subsequent_indent=" " * 30),
    ]


def _anchors(found: Design, unit: Unit) -> Iterator[str]:
    if not found.anchors:
        return
    yield "Anchor distance, force on the anchor bolt over the bar's, most of any allowable"
    for row in found.anchors:
        room = "" if row.allowed else "  *"
        yield (
            f"  {format_length(row.anchor, unit):>10}  {row.amplified:6.2f}  {row.worst.utilisation:6.2f}"
            f"  {row.worst.in_sentence}{room}"
        ).rstrip()
    if not all(row.allowed for row in found.anchors):
        yield "  * no room for it: too near the other bolt or the end of the frame bracket as measured"
