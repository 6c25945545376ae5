"""What to change so that a bracket passes, found by trying; and what the anchor distance does."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from linkviz.analysis.bracket.loads import cases_at, frame_bracket_of
from linkviz.analysis.setup import Setup
from linkviz.bracket.bolts import SIZES, coarse_sizes, least_spacing
from linkviz.bracket.check import Check
from linkviz.bracket.loads import CASES, LoadCase
from linkviz.bracket.materials import STEELS
from linkviz.bracket.parts import DropBracket, FrameBracket
from linkviz.bracket.strength import distance_checks, strength_checks
from linkviz.conventions import MM_PER_INCH
from linkviz.frozen import Frozen
from linkviz.units import Unit, format_length
from linkviz.vehicle.model import Vehicle

_PLATES = (5.0, 6.0, 8.0, 10.0, 12.0)
_INCH_PLATES = tuple(MM_PER_INCH * n / 16.0 for n in (3, 4, 5, 6, 8))
_MOST_STEPS = 4


class Change(Frozen):
    """A change that was tried.

    Attributes
    ----------
    words : str
        What is changed, such as "plates 10 mm thick and not 8 mm".
    bracket : DropBracket
        With the change.
    frame : FrameBracket or None
        The frame bracket with the change (a plate welded on it).
    worst : Check
        What is used most then.
    layout : bool
        Whether the rules of layout are kept then, that of the step from hole to hole aside.
    """

    words: str
    bracket: DropBracket
    frame: FrameBracket | None
    worst: Check
    layout: bool

    @property
    def passes(self) -> bool:
        """Return whether strength and layout pass then."""
        return self.worst.passes and self.layout


Option = tuple[str, DropBracket, FrameBracket | None]


def changes(
    vehicle: Vehicle, setup: Setup, bracket: DropBracket, cases: Sequence[LoadCase] = CASES, unit: Unit = "mm"
) -> tuple[Change, ...]:
    """Return what would make the bracket pass at the drop of the setup.

    Parameters
    ----------
    vehicle, setup : Vehicle, Setup
        Lift and drop.
    bracket : DropBracket
        As it is.
    cases : sequence of LoadCase
        Load cases.
    unit : {"mm", "in"}
        Unit of the words.

    Returns
    -------
    tuple of Change
        Each single change that is enough, the smallest of its kind. If none is, the changes to make together, each
        including those before it; the last one passes or is the best that was found. Empty if it passes as it is, or
        without the mass on the rear axle.
    """
    if vehicle.mass is None or not setup.drop:
        return ()
    frame = frame_bracket_of(vehicle)

    def tried(option: Option) -> Change:
        words, other, held = option
        at_drop = cases_at(vehicle, setup, other, [setup.drop], cases)[0]
        worst = strength_checks(other, held, at_drop)[0]
        layout = all(check.passes for check in distance_checks(other, held) if check.key != "hole_step")
        return Change(words, other, held, worst, layout)

    now = tried(("", bracket, frame))
    if now.worst.passes:
        return ()
    single = []
    for ladder in _LADDERS:
        found = next((c for c in map(tried, ladder(bracket, frame, unit)) if c.passes), None)
        if found:
            single.append(found)
    if single:
        return tuple(sorted(single, key=lambda change: -change.worst.utilisation))
    return _together(now, tried, unit)


def _together(now: Change, tried: Callable[[Option], Change], unit: Unit) -> tuple[Change, ...]:
    """Return changes one upon the other, each time the one that helps most."""
    made: list[Change] = []
    for _ in range(_MOST_STEPS):
        options = [tried(o) for ladder in _LADDERS for o in ladder(now.bracket, now.frame, unit)]
        legal = [change for change in options if change.layout]
        best = min(legal, key=lambda c: c.worst.utilisation, default=None)
        if best is None or best.worst.utilisation >= now.worst.utilisation - 1e-6:
            break
        made.append(best)
        now = best
        if now.passes:
            break
    return tuple(made)


def _thicker(bracket: DropBracket, frame: FrameBracket | None, unit: Unit) -> Iterator[Option]:
    for t in _PLATES if SIZES[bracket.bolt].metric else _INCH_PLATES:
        if t > bracket.thickness + 0.1:
            words = f"plates {_thick(t, unit)} thick and not {_thick(bracket.thickness, unit)}"
            yield words, bracket.replace(thickness=t), frame


def _wider(bracket: DropBracket, frame: FrameBracket | None, unit: Unit) -> Iterator[Option]:
    for more in (10.0, 20.0, 30.0, 40.0):
        width = bracket.width + more
        words = f"plates {format_length(width, unit)} wide and not {format_length(bracket.width, unit)}"
        yield words, bracket.replace(width=width), frame


def _stronger(bracket: DropBracket, frame: FrameBracket | None, _unit: Unit) -> Iterator[Option]:
    now = STEELS[bracket.steel]
    better = "S355" if bracket.steel.startswith("S") or bracket.steel == "unknown" else "A572-50"
    if STEELS[better].yields > now.yields:
        yield f"plates of {STEELS[better].name} and not {now.name}", bracket.replace(steel=better), frame


def _farther(bracket: DropBracket, frame: FrameBracket | None, unit: Unit) -> Iterator[Option]:
    for more in (5.0, 10.0, 15.0, 20.0, 30.0, 40.0):
        anchor = bracket.anchor + more
        words = f"the anchor bolt {format_length(anchor, unit)} from the original one and not "
        yield words + format_length(bracket.anchor, unit), bracket.replace(anchor=anchor), frame


def _bigger(bracket: DropBracket, frame: FrameBracket | None, _unit: Unit) -> Iterator[Option]:
    now, first = SIZES[bracket.anchor_bolt], SIZES[bracket.bolt]
    for size in coarse_sizes(now.metric):
        if size.diameter <= now.diameter + 0.1:
            continue
        anchor = bracket.anchor
        if frame is not None:
            anchor = min(anchor, frame.lip - size.diameter)
        if anchor >= least_spacing(first, size):
            yield (
                f"an anchor bolt {size.key} and not {now.key}",
                bracket.replace(anchor_bolt=size.key, anchor=anchor),
                frame,
            )


def _drilled(bracket: DropBracket, frame: FrameBracket | None, _unit: Unit) -> Iterator[Option]:
    now, anchor = SIZES[bracket.bolt], SIZES[bracket.anchor_bolt]
    for size in coarse_sizes(now.metric):
        if size.diameter > now.diameter + 0.1 and bracket.anchor >= least_spacing(size, anchor):
            words = f"the original hole drilled up for a {size.key} bolt and not {now.key}"
            yield words, bracket.replace(bolt=size.key, tube_outer=2.5 * size.diameter), frame


def _clear(bracket: DropBracket, frame: FrameBracket | None, _unit: Unit) -> Iterator[Option]:
    if bracket.threads == "in":
        yield "bolts with a longer shank, threads clear of the plates", bracket.replace(threads="clear"), frame


def _doubled(bracket: DropBracket, frame: FrameBracket | None, unit: Unit) -> Iterator[Option]:
    if frame is None:
        return
    for more in (3.0, 5.0) if SIZES[bracket.bolt].metric else (MM_PER_INCH / 8.0, MM_PER_INCH * 3.0 / 16.0):
        words = f"a plate {_thick(more, unit)} thick welded on each side of the frame bracket by a qualified welder"
        yield words, bracket, frame.replace(thickness=frame.thickness + more)


_LADDERS = (_thicker, _wider, _stronger, _farther, _bigger, _drilled, _clear, _doubled)


def _thick(mm: float, unit: Unit) -> str:
    return format_length(mm, unit) if unit == "in" else f"{mm:.3g} mm"


class AnchorRow(Frozen):
    """What an anchor distance does.

    Attributes
    ----------
    anchor : float
        mm.
    amplified : float
        Force on the anchor bolt over the bar's side force.
    worst : Check
        What is used most.
    allowed : bool
        Whether the frame bracket has room for the hole there.
    """

    anchor: float
    amplified: float
    worst: Check
    allowed: bool


def anchor_rows(
    vehicle: Vehicle, setup: Setup, bracket: DropBracket, cases: Sequence[LoadCase] = CASES
) -> tuple[AnchorRow, ...]:
    """Return how the worst check goes with the anchor distance, at the drop of the setup; empty without a mass."""
    if vehicle.mass is None or not setup.drop:
        return ()
    frame = frame_bracket_of(vehicle)
    found = []
    for more in (-10.0, -5.0, 0.0, 5.0, 10.0, 20.0, 30.0):
        anchor = bracket.anchor + more
        if anchor <= 0 or anchor >= setup.drop:
            continue
        other = bracket.replace(anchor=anchor)
        at_drop = cases_at(vehicle, setup, other, [setup.drop], cases)[0]
        rules = [c for c in distance_checks(other, frame) if c.key in ("frame_lip", "bolt_spacing")]
        load = at_drop[-1][1]
        found.append(
            AnchorRow(
                anchor,
                load.anchor_force / load.side,
                strength_checks(other, frame, at_drop)[0],
                all(c.passes for c in rules),
            )
        )
    return tuple(found)
