"""All checks of one bracket in all load cases, worst first, and the longest drop that still passes."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from linkviz.bracket.bolt_checks import shear
from linkviz.bracket.check import Check
from linkviz.bracket.hole_checks import bearing, distances, ends
from linkviz.bracket.loads import LoadCase, Loads
from linkviz.bracket.parts import DropBracket, FrameBracket
from linkviz.bracket.plate_checks import plates, tube
from linkviz.bracket.weld_checks import leg, welds
from linkviz.frozen import Frozen

Cases = Sequence[tuple[LoadCase, Loads]]
"""Load cases with the loads each puts on the bracket at one drop."""

_STEP = 5.0
_FINE = 1e-3


def strength_checks(bracket: DropBracket, frame: FrameBracket | None, cases: Cases) -> tuple[Check, ...]:
    """Return the checks of strength in every case, worst first.

    Parameters
    ----------
    bracket : DropBracket
        Its holes do not matter here: the drop is that of the loads.
    frame : FrameBracket or None
        None leaves the checks of the vehicle's own bracket out.
    cases : sequence of (LoadCase, Loads)
        At one drop.
    """
    found: list[Check] = [tube(bracket)]
    for case, load in cases:
        found += shear(bracket, load, case.name)
        found += bearing(bracket, frame, load, case.name)
        found += ends(bracket, load, case.name)
        found += plates(bracket, load, case.name)
        found += welds(bracket, load, case.name)
    return tuple(sorted(found, key=lambda check: -check.utilisation))


def distance_checks(bracket: DropBracket, frame: FrameBracket | None) -> tuple[Check, ...]:
    """Return the rules of layout, worst first."""
    found = [*distances(bracket, frame), *leg(bracket)]
    return tuple(sorted(found, key=lambda check: -check.utilisation))


def worst_of_each(checks: Sequence[Check]) -> tuple[Check, ...]:
    """Return each check once, in the case that uses it most, worst first."""
    kept: dict[str, Check] = {}
    for check in sorted(checks, key=lambda check: -check.utilisation):
        kept.setdefault(check.key, check)
    return tuple(kept.values())


class Longest(Frozen):
    """The longest drop that passes.

    Attributes
    ----------
    drop : float or None
        mm; None if none does.
    check : Check or None
        What binds there (or fails at the shortest drop); None if nothing does up to the end of the search.
    """

    drop: float | None
    check: Check | None


def longest_drop(
    bracket: DropBracket,
    frame: FrameBracket | None,
    cases_at: Callable[[Sequence[float]], list[Cases]],
    low: float,
    high: float,
) -> Longest:
    """Return the longest drop up to which every check of strength passes.

    Parameters
    ----------
    bracket, frame : DropBracket, FrameBracket or None
        As `strength_checks`.
    cases_at : callable
        From drops, mm, to the cases at each.
    low, high : float
        Where to look, mm.

    Notes
    -----
    From `low` on in steps to the first drop that fails, then closer; a longer one that happens to pass again (a bar
    that comes level) is not offered.
    """

    def worst(drops: Sequence[float]) -> list[Check]:
        return [strength_checks(bracket, frame, cases)[0] for cases in cases_at(drops)]

    steps = [low + _STEP * i for i in range(int((high - low) / _STEP) + 1)]
    found = worst(steps)
    first = next((i for i, check in enumerate(found) if not check.passes), None)
    if first is None:
        return Longest(steps[-1], None)
    if first == 0:
        return Longest(None, found[0])
    inside, outside, binding = steps[first - 1], steps[first], found[first]
    while outside - inside > _FINE:
        closer = [inside + (outside - inside) * i / 8 for i in range(1, 8)]
        for drop, check in zip(closer, worst(closer), strict=True):
            if not check.passes:
                outside, binding = drop, check
                break
            inside = drop
    return Longest(inside, binding)
