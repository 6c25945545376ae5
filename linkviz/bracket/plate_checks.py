"""Checks of the side plates and the spacer tube: bending, shear, buckling, the bolt's preload."""

from __future__ import annotations

import math
from collections.abc import Iterator

from linkviz.bracket.bolts import GRADES, SIZES, preload
from linkviz.bracket.check import Check, kn, plain
from linkviz.bracket.hole_checks import NET
from linkviz.bracket.loads import Loads
from linkviz.bracket.materials import ELASTIC_MODULUS, STEELS
from linkviz.bracket.parts import DropBracket

BENDING = 1.67
"""ASD safety factor of bending, of compression and of yielding (AISC 360 F1, E1, J4.1)."""
RUPTURE = 2.0
"""ASD safety factor of rupture (AISC 360 J4)."""
SHEAR_YIELD = 1.5
"""ASD safety factor of shear yielding of connecting elements (AISC 360 J4.2)."""


def bar_moment(thickness: float, width: float, free: float, fy: float) -> float:
    """Return the nominal moment of a flat bar bent about its strong axis, N mm.

    Parameters
    ----------
    thickness, width : float
        t and d, mm; bent in the plane of d.
    free : float
        Length without side support, mm (Lb).
    fy : float
        MPa.

    Notes
    -----
    Mp = Fy Z <= 1.6 Fy S up to Lb d/t^2 = 0.08 E/Fy; then Cb (1.52 - 0.274 (Lb d/t^2) Fy/E) My <= Mp; beyond
    1.9 E/Fy the elastic Fcr S with Fcr = 1.9 E Cb / (Lb d/t^2). Cb = 1.

    References
    ----------
    AISC 360-16 F11 (memory).
    """
    section, plastic = thickness * width**2 / 6.0, thickness * width**2 / 4.0
    full = min(fy * plastic, 1.6 * fy * section)
    slender = max(free, 0.0) * width / thickness**2
    if slender <= 0.08 * ELASTIC_MODULUS / fy:
        return full
    if slender <= 1.9 * ELASTIC_MODULUS / fy:
        return min(full, (1.52 - 0.274 * slender * fy / ELASTIC_MODULUS) * fy * section)
    return min(full, 1.9 * ELASTIC_MODULUS / slender * section)


def compression(thickness: float, width: float, free: float, fy: float, k: float = 2.0) -> float:
    """Return the nominal strength of a flat bar in compression, N.

    Parameters
    ----------
    thickness, width, free : float
        mm; it buckles about its weak axis.
    fy : float
        MPa.
    k : float
        Effective length factor; 2 for a plate held at one end (AISC 360 table C-A-7.1).

    Notes
    -----
    Fe = pi^2 E / (K L / r)^2; Fcr = 0.658^(Fy/Fe) Fy where Fy/Fe <= 2.25, else 0.877 Fe.

    References
    ----------
    AISC 360-16 E3 (memory).
    """
    area = thickness * width
    if free <= 0:
        return fy * area
    euler = math.pi**2 * ELASTIC_MODULUS / (k * free * math.sqrt(12.0) / thickness) ** 2
    stress = fy * 0.658 ** (fy / euler) if fy / euler <= 2.25 else 0.877 * euler
    return stress * area


def net_modulus(thickness: float, width: float, hole: float) -> float:
    """Return the plastic modulus of a flat bar with a hole in its middle, mm3; the hole taken 1/16 in larger."""
    lost = min(hole + NET, width)
    return thickness * (width**2 - lost**2) / 4.0


def plates(bracket: DropBracket, load: Loads, case: str) -> Iterator[Check]:
    """Yield bending, shear and buckling of the two side plates below the anchor bolt."""
    steel, t, b = STEELS[bracket.steel], bracket.thickness, bracket.width
    hole = SIZES[bracket.anchor_bolt].hole
    free = max(load.drop - load.anchor, 0.0)
    moment = load.moment
    modulus = 2.0 * net_modulus(t, b, hole)
    arms, levers = "Ny (d - s_a)", f"{kn(load.side)} x {plain(load.drop - load.anchor)} mm"
    if load.shift:
        # about the anchor bolt both turn the plate the same way, or one against the other
        sign = "+" if load.bar[0] * (load.drop - load.anchor) * load.bar[1] * load.shift >= 0 else "-"
        arms = f"|{arms} {sign} Nz s|"
        levers = f"{levers} {sign} {kn(load.upright)} x {plain(abs(load.shift))} mm"
    yield Check(
        key="net_section",
        words="Bending of the plates at the net section through the anchor hole",
        where="bracket",
        case=case,
        formula=f"{arms} <= Fu Znet / 2.00",
        numbers=f"{levers} <= {plain(steel.strength)} MPa x {plain(modulus)} mm3 / {RUPTURE:.2f}",
        source=f"flexural rupture: AISC Steel Construction Manual part 9 (memory), net area B4.3b; {steel.source}",
        demand=moment / 1e6,
        allowable=steel.strength * modulus / RUPTURE / 1e6,
        unit="kN m",
    )
    bends = 2.0 * bar_moment(t, b, free, steel.yields) / BENDING
    squeeze = 2.0 * compression(t, b, free, steel.yields) / BENDING
    yield Check(
        key="plate_buckling",
        words="Bending and tipping over of the plates' free length, upright force with it",
        where="bracket",
        case=case,
        formula="Nz / (2 Pa) + M / Ma <= 1, Ma = Mn / 1.67 with Lb = d - s_a, Pa = Pn / 1.67 with K = 2",
        numbers=f"{kn(load.upright)} / (2 x {kn(squeeze)}) + {plain(moment / 1e6)} / {plain(bends / 1e6)} kN m",
        source=f"AISC 360-16 F11, E3 and H1-1b (memory); {steel.source}",
        demand=load.upright / (2.0 * squeeze) + moment / bends,
        allowable=1.0,
        unit="",
    )
    across = max(load.side, abs(load.original[0]))
    yield Check(
        key="plate_shear",
        words="Shear of the plates",
        where="bracket",
        case=case,
        formula="max(Ny, R0) <= 0.6 Fy 2 b t / 1.50",
        numbers=f"{kn(across)} <= 0.6 x {plain(steel.yields)} MPa x 2 x {plain(b)} x {plain(t)} mm2 "
        f"/ {SHEAR_YIELD:.2f}",
        source=f"AISC 360-16 J4.2a; {steel.source}",
        demand=across / 1000.0,
        allowable=0.6 * steel.yields * 2.0 * b * t / SHEAR_YIELD / 1000.0,
        unit="kN",
    )
    net = 2.0 * max(b - hole - NET, 0.0) * t
    yield Check(
        key="plate_net_shear",
        words="Shear of the plates through the anchor hole",
        where="bracket",
        case=case,
        formula="max(Ny, R0) <= 0.6 Fu Anv / 2.00",
        numbers=f"{kn(across)} <= 0.6 x {plain(steel.strength)} MPa x {plain(net)} mm2 / {RUPTURE:.2f}",
        source=f"AISC 360-16 J4.2b; {steel.source}",
        demand=across / 1000.0,
        allowable=0.6 * steel.strength * net / RUPTURE / 1000.0,
        unit="kN",
    )
    lever = max(free - bracket.brace_length(load.drop), 0.0)
    weak = 2.0 * steel.yields * b * t**2 / 4.0 / BENDING
    yield Check(
        key="plate_fore_aft",
        words="Bending of the plates fore-aft where no brace holds them",
        where="bracket",
        case=case,
        formula="Nx L <= 2 Fy b t^2 / 4 / 1.67, L the length without a brace",
        numbers=f"{kn(load.along)} x {plain(lever)} mm <= 2 x {plain(steel.yields)} MPa x {plain(b * t**2 / 4.0)} mm3 "
        f"/ {BENDING:.2f}",
        source=f"AISC 360-16 F11; {steel.source}",
        demand=load.along * lever / 1e6,
        allowable=weak / 1e6,
        unit="kN m",
    )


def tube(bracket: DropBracket) -> Check:
    """Return the spacer tube under the preload of the original bolt."""
    steel, size, grade = STEELS[bracket.tube_steel], SIZES[bracket.bolt], GRADES[bracket.grade]
    area = math.pi * (bracket.tube_outer - bracket.tube_wall) * bracket.tube_wall
    force = preload(size, grade)
    return Check(
        key="tube_crush",
        words="Spacer tube under the preload of the original bolt",
        where="bracket",
        case="bolts tightened",
        formula="0.75 Fp At <= Fy A / 1.67",
        numbers=f"{kn(force)} <= {plain(steel.yields)} MPa x {plain(area)} mm2 / {BENDING:.2f}",
        source=f"preload: Shigley, ch. 8; AISC 360-16 J4.4; {grade.source}; {steel.source}",
        demand=force / 1000.0,
        allowable=steel.yields * area / BENDING / 1000.0,
        unit="kN",
    )
