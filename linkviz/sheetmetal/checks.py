"""What a flat pattern must keep to so that it can be bent and holds: each check with its reason and its source.

References
----------
ASTM A6/A6M table X4.2 (least inside radius, 1.5 t across and 2.25 t along the rolling direction for A36 and its like).
Air bending: F = 1.42 Rm t^2 L / V; V = 6 t up to 2.5 mm, 8 t up to 8 mm, 10 t up to 10 mm, 12 t above (press makers'
charts, common practice). Hole edge to bend line 2 T + R: common practice, sources disagree (2.5 T + R, 3 T + R), so it
is a setting.
"""

from __future__ import annotations

import itertools
import math
from typing import Literal

from linkviz.frozen import Frozen
from linkviz.sheetmetal.plate import Plate

Measure = Literal["mm", "kN"]


class Rules(Frozen):
    """The shop's rules.

    Attributes
    ----------
    radius_per_thickness : float
        Least inside radius over thickness.
    radius_source : str
    hole_thicknesses : float
        A hole's edge stays this many thicknesses and one inside radius from a bend line.
    press : float or None
        What the press gives, kN, if it is known.
    die : float or None
        Opening of the V die, mm; by the thickness if None.
    """

    radius_per_thickness: float = 1.5
    radius_source: str = "ASTM A6 table X4.2, bent across the rolling direction"
    hole_thicknesses: float = 2.0
    press: float | None = None
    die: float | None = None


class Check(Frozen):
    """One thing looked at.

    Attributes
    ----------
    what : str
        In words.
    value, limit : float
        What it is and what it is held against, in `measure`.
    at_least : bool
        Whether the value must be at least the limit; at most it otherwise.
    reason : str
        What goes wrong, and what to do.
    source : str
        Where the limit comes from.
    measure : {"mm", "kN"}
    """

    what: str
    value: float
    limit: float
    at_least: bool
    reason: str
    source: str
    measure: Measure = "mm"

    @property
    def spare(self) -> float:
        """Return by how much it is kept to; negative where it is not."""
        return self.value - self.limit if self.at_least else self.limit - self.value

    @property
    def passed(self) -> bool:
        """Return whether it is kept to, to 1e-6."""
        return self.spare >= -1e-6


def die_opening(thickness: float) -> float:
    """Return the usual opening of a V die for air bending, mm."""
    if thickness <= 2.5:
        return 6.0 * thickness
    if thickness <= 8.0:
        return 8.0 * thickness
    return (10.0 if thickness <= 10.0 else 12.0) * thickness


def press_force(tensile: float, thickness: float, length: float, die: float) -> float:
    """Return the force of air bending, kN: 1.42 Rm t^2 L / V.

    Parameters
    ----------
    tensile : float
        Tensile strength, MPa.
    thickness, length, die : float
        Of the plate, of the bend, and the opening of the V die, mm.
    """
    return 1.42 * tensile * thickness**2 * length / die / 1000.0


def least_flange(angle: float, die: float) -> float:
    """Return how far from the bend line a flat must reach to lie on the shoulder of the die until it is bent, mm.

    A plate turned by `angle` (rad) lies on the shoulder V/2 / cos(angle/2) from the bend line; it starts flat at V/2.
    """
    return die / 2.0 / math.cos(angle / 2.0)


def checks(plate: Plate, rules: Rules | None = None) -> list[Check]:
    """Return everything looked at on one plate, what fails first."""
    rules = rules or Rules()
    die = rules.die or die_opening(plate.thickness)
    found = [*_edges(plate), *_walls(plate), *_bends(plate, rules, die), *_between(plate, die)]
    return sorted(found, key=lambda c: c.passed)


def _tightest(found: list[Check]) -> list[Check]:
    """Return, of checks of one kind, those that fail, and the one that has least to spare."""
    if not found:
        return []
    least = min(found, key=lambda c: c.spare)
    return [c for c in found if c is least or not c.passed]


def bending_force(plate: Plate, rules: Rules | None = None) -> float:
    """Return the greatest press force of any one bend of a plate, kN; 0 for a flat one."""
    rules = rules or Rules()
    die = rules.die or die_opening(plate.thickness)
    forces = (press_force(plate.steel.tensile, plate.thickness, line.length, die) for line in plate.bend_lines)
    return max(forces, default=0.0)


def _edges(plate: Plate) -> list[Check]:
    found = []
    for hole in plate.holes:
        if not hole.least_edge:
            continue
        found.append(
            Check(
                f"{hole.name}, middle to edge",
                plate.blank.distance(hole.at),
                hole.least_edge,
                True,
                "Too little steel beside a bolt tears out. Make the plate wider or move the hole.",
                hole.edge_source,
            )
        )
    kinds = {(c.limit, c.source) for c in found}
    return [c for kind in sorted(kinds) for c in _tightest([c for c in found if (c.limit, c.source) == kind])]


def _walls(plate: Plate) -> list[Check]:
    found = []
    for one, two in itertools.combinations(plate.holes, 2):
        if not (one.least_edge and two.least_edge):
            continue
        found.append(
            Check(
                f"{one.name} to {two.name}, steel between",
                math.dist(one.at, two.at) - (one.diameter + two.diameter) / 2.0,
                plate.thickness,
                True,
                "A thin wall between two holes is pulled out of shape. Move them apart, or make two plates.",
                "common practice, no published source: one thickness",
            )
        )
    return _tightest(found)


def _bends(plate: Plate, rules: Rules, die: float) -> list[Check]:
    found = []
    _, low, _, high = plate.blank.extent
    lines = plate.bend_lines
    for index, line in enumerate(lines):
        name = f"bend {line.number}"
        found.append(
            Check(
                f"{name}, inside radius",
                line.inside,
                rules.radius_per_thickness * plate.thickness,
                True,
                "A tighter bend cracks the outside. Take a punch with a larger radius, or turn the blank across the "
                "rolling direction.",
                rules.radius_source,
            )
        )
        found += _tightest(
            [
                Check(
                    f"{hole.name}, edge to {name}",
                    abs(hole.y - line.y) - hole.diameter / 2.0,
                    rules.hole_thicknesses * plate.thickness + line.inside,
                    True,
                    "A hole too near a bend is drawn out of round. Move it, or drill it after bending.",
                    f"{rules.hole_thicknesses:g} T + R from the bend line; common practice, sources disagree",
                )
                for hole in plate.holes
            ]
        )
        free = min(high - line.y if index == 0 else math.inf, line.y - low if index == len(lines) - 1 else math.inf)
        if math.isfinite(free):
            found.append(
                Check(
                    f"{name}, plate beyond it",
                    free,
                    least_flange(line.angle, die),
                    True,
                    "A shorter flat falls into the die. Cut the blank longer and trim it, or take a narrower die.",
                    f"shoulder of a V die {die:g} mm wide: V/2 / cos(angle/2)",
                )
            )
        if rules.press is not None:
            found.append(
                Check(
                    f"{name}, press force",
                    press_force(plate.steel.tensile, plate.thickness, line.length, die),
                    rules.press,
                    False,
                    "The press does not bend it. Take a wider die or a thinner plate.",
                    "air bending, 1.42 Rm t^2 L / V",
                    "kN",
                )
            )
    return found


def _between(plate: Plate, die: float) -> list[Check]:
    found = []
    for one, two in itertools.pairwise(plate.bend_lines):
        apart = abs(one.y - two.y)
        found.append(
            Check(
                f"bend {one.number} to bend {two.number}",
                apart,
                least_flange(max(one.angle, two.angle), die),
                True,
                "The second bend does not lie on a plain V die. Make both in one stroke with an offset tool, at twice "
                "the press force or more, or take a narrower die.",
                f"shoulder of a V die {die:g} mm wide: V/2 / cos(angle/2)",
            )
        )
    return found
