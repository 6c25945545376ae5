"""Checks of the holes: bearing, tear-out, block shear and edge distances, in the plates and in the frame bracket."""

from __future__ import annotations

from collections.abc import Iterator

from linkviz.bracket.bolt_checks import WORDS, forces
from linkviz.bracket.bolts import OMEGA, SIZES, hole_step, least_spacing
from linkviz.bracket.check import Check, Where, kn, plain
from linkviz.bracket.loads import Loads
from linkviz.bracket.materials import STEELS, Steel
from linkviz.bracket.parts import DropBracket, FrameBracket
from linkviz.conventions import MM_PER_INCH
from linkviz.frozen import Frozen

BEARING = "AISC 360-16 J3.10 (360-22: J3.11), deformation at service load a consideration"
NET = MM_PER_INCH / 16.0
"""A hole is taken this much larger for net areas, mm (AISC 360 B4.3b)."""
BLOCK = "AISC 360-16 J4.3, net area by B4.3b"


class Sheet(Frozen):
    """What a bolt bears on: two plates of one thickness."""

    where: Where
    words: str
    thickness: float
    width: float
    steel: Steel


def sheets(bracket: DropBracket, frame: FrameBracket | None) -> tuple[Sheet, ...]:
    """Return the bracket's plates and, where it was measured, the frame bracket's."""
    own = Sheet("bracket", "the plates", bracket.thickness, bracket.width, STEELS[bracket.steel])
    if frame is None:
        return (own,)
    return own, Sheet("frame bracket", "the frame bracket", frame.thickness, frame.width, STEELS[frame.steel])


def bearing_allowable(diameter: float, thickness: float, fu: float) -> float:
    """Return the allowable bearing of a bolt on material of a thickness (mm) and strength (MPa), ASD, N."""
    return 2.4 * diameter * thickness * fu / OMEGA


def tear_out_allowable(clear: float, thickness: float, fu: float) -> float:
    """Return the allowable tear-out over a clear distance from hole to edge (mm), ASD, N; 0 with no material."""
    return max(0.0, 1.2 * clear * thickness * fu / OMEGA)


def block_shear(gross_shear: float, net_shear: float, net_tension: float, fy: float, fu: float) -> float:
    """Return the nominal block shear strength (areas in mm2, even tension, Ubs = 1), N (AISC 360 J4-5)."""
    return 0.6 * min(fu * net_shear, fy * gross_shear) + fu * net_tension


def bearing(bracket: DropBracket, frame: FrameBracket | None, load: Loads, case: str) -> Iterator[Check]:
    """Yield bearing and tear-out at every hole that carries load.

    Notes
    -----
    The force on a hole is nearly sideways: its resultant is held against the clear distance to the nearer long edge.
    """
    for sheet in sheets(bracket, frame):
        both = 2.0 * sheet.thickness
        for name, key, force in forces(bracket, load):
            if name == "bar" and sheet.where == "frame bracket":
                continue
            size = SIZES[key]
            place = f"{sheet.words} at the {WORDS[name]}"
            prefix = f"{name}_{'frame' if sheet.where == 'frame bracket' else 'plate'}"
            yield Check(
                key=f"{prefix}_bearing",
                words=f"Bearing of {place}",
                where=sheet.where,
                case=case,
                formula="V <= 2.4 d t Fu / 2.00",
                numbers=f"{kn(force)} <= 2.4 x {plain(size.diameter)} x {plain(both)} mm x "
                f"{plain(sheet.steel.strength)} MPa / {OMEGA:.2f}",
                source=f"{BEARING}; {sheet.steel.source}",
                demand=force / 1000.0,
                allowable=bearing_allowable(size.diameter, both, sheet.steel.strength) / 1000.0,
                unit="kN",
            )
            clear = (sheet.width - size.hole) / 2.0
            yield Check(
                key=f"{prefix}_tear_out",
                words=f"Tear-out of {place}, to the side",
                where=sheet.where,
                case=case,
                formula="V <= 1.2 lc t Fu / 2.00",
                numbers=f"{kn(force)} <= 1.2 x {plain(clear)} x {plain(both)} mm x {plain(sheet.steel.strength)} MPa "
                f"/ {OMEGA:.2f}",
                source=f"{BEARING}; {sheet.steel.source}",
                demand=force / 1000.0,
                allowable=tear_out_allowable(clear, both, sheet.steel.strength) / 1000.0,
                unit="kN",
            )


def ends(bracket: DropBracket, load: Loads, case: str) -> Iterator[Check]:
    """Yield what the ends of the plates bear: the upright force, and the corner below the bar's hole."""
    steel, both = STEELS[bracket.steel], 2.0 * bracket.thickness
    for name, key, end, words in (
        ("original", bracket.bolt, bracket.end_top, "upper"),
        ("bar", bracket.bar_bolt, bracket.end_bottom, "lower"),
    ):
        clear = end - SIZES[key].hole / 2.0
        yield Check(
            key=f"{name}_end_tear_out",
            words=f"Tear-out of the plates to their {words} end, upright force",
            where="bracket",
            case=case,
            formula="Nz <= 1.2 lc t Fu / 2.00",
            numbers=f"{kn(load.upright)} <= 1.2 x {plain(clear)} x {plain(both)} mm x {plain(steel.strength)} MPa "
            f"/ {OMEGA:.2f}",
            source=f"{BEARING}; {steel.source}",
            demand=load.upright / 1000.0,
            allowable=tear_out_allowable(clear, both, steel.strength) / 1000.0,
            unit="kN",
        )
    half_hole = (SIZES[bracket.bar_bolt].hole + NET) / 2.0
    gross = both * bracket.width / 2.0
    net_shear = both * (bracket.width / 2.0 - half_hole)
    net_tension = both * (bracket.end_bottom - half_hole)
    strength = block_shear(gross, max(net_shear, 0.0), max(net_tension, 0.0), steel.yields, steel.strength)
    yield Check(
        key="bar_block_shear",
        words="Block shear of the plates' lower corner at the bar's hole",
        where="bracket",
        case=case,
        formula="Ny <= (0.6 Fu Anv + Fu Ant <= 0.6 Fy Agv + Fu Ant) / 2.00",
        numbers=f"{kn(load.side)} <= {kn(strength)} / {OMEGA:.2f}, Agv {plain(gross)}, Anv {plain(net_shear)}, "
        f"Ant {plain(net_tension)} mm2",
        source=f"{BLOCK}; {steel.source}",
        demand=load.side / 1000.0,
        allowable=strength / OMEGA / 1000.0,
        unit="kN",
    )


def _distance(key: str, words: str, where: Where, asked: float, there: float, rule: str, source: str) -> Check:
    return Check(
        key=key,
        words=words,
        where=where,
        case="",
        formula=rule,
        numbers=f"{plain(asked)} mm <= {plain(there)} mm",
        source=source,
        demand=asked,
        allowable=there,
        unit="mm",
        kind="distance",
    )


def distances(bracket: DropBracket, frame: FrameBracket | None) -> Iterator[Check]:
    """Yield the rules of layout: edges, spacing, and the lip of the frame bracket.

    Notes
    -----
    To its lip the anchor hole needs one bolt diameter, no more: the force runs along that edge, and table J3.4 allows
    less than its values where tear-out and bearing are checked, down to one diameter (footnote a, memory).
    """
    first, anchor, bar = (SIZES[key] for key in (bracket.bolt, bracket.anchor_bolt, bracket.bar_bolt))
    edge = "from hole to edge >= table"
    yield _distance(
        "edge_top", "Upper end of the plates", "bracket", first.edge, bracket.end_top, edge, first.edge_source
    )
    yield _distance(
        "edge_bottom", "Lower end of the plates", "bracket", bar.edge, bracket.end_bottom, edge, bar.edge_source
    )
    largest = max((first, anchor, bar), key=lambda size: size.edge)
    yield _distance(
        "edge_side", "Sides of the plates", "bracket", largest.edge, bracket.width / 2.0, edge, largest.edge_source
    )
    if frame is not None:
        held = max((first, anchor), key=lambda size: size.edge)
        yield _distance(
            "frame_side", "Sides of the frame bracket", "frame bracket", held.edge, frame.width / 2.0, edge,
            held.edge_source,
        )  # fmt: skip
        yield _distance(
            "frame_lip",
            "Anchor hole to the lip of the frame bracket",
            "frame bracket",
            anchor.diameter,
            frame.lip - bracket.anchor,
            "from hole to lip >= d",
            "AISC 360-16 table J3.4, footnote a (memory): the force runs along this edge",
        )
    yield _distance(
        "bolt_spacing",
        "Original bolt to anchor bolt",
        "frame bracket",
        least_spacing(first, anchor),
        bracket.anchor,
        "s_a >= 2 2/3 d",
        "AISC 360-16 J3.3; d the mean of both",
    )
    step = min((b - a for a, b in zip(bracket.holes, bracket.holes[1:], strict=False)), default=None)
    if step is not None:
        yield _distance(
            "hole_step",
            "From hole to hole for the bar",
            "bracket",
            hole_step(bar),
            step,
            "step >= edge distance + half a hole",
            f"{bar.edge_source}; an empty hole counts as an edge",
        )
