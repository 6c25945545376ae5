"""One plate: what is cut, drilled and bent, and what comes out. Every paper and file is written from this.

The flat pattern has x across the plate and y along it, upwards; bend lines run across. It lies with its outside up, and
an "up" bend turns the far end towards the reader. The finished plate is the flat one rolled up (`Profile.place`).
"""

from __future__ import annotations

import math
from typing import Final

from linkviz.frozen import Frozen
from linkviz.sheetmetal.outline import Outline, Pt
from linkviz.sheetmetal.profile import Profile

DENSITY: Final = 7850.0
"""Of structural steel, kg/m^3 (EN 1991-1-1 table A.4 gives 77.0 to 78.5 kN/m^3)."""


class Steel(Frozen):
    """The steel of a plate.

    Attributes
    ----------
    name : str
        Such as ``ASTM A36``.
    tensile : float
        Tensile strength that the press has to bend, MPa: the most the standard allows.
    """

    name: str
    tensile: float


class Hole(Frozen):
    """A hole through the plate.

    Attributes
    ----------
    name : str
        What goes through it.
    x, y : float
        Its middle, mm.
    diameter : float
        mm.
    drill : str
        The drill to ask for, ``13.5 mm`` or ``9/16 in``.
    least_edge : float
        How near its middle may be to an edge, mm; 0 to leave it unchecked.
    edge_source : str
        By which rule.
    """

    name: str
    x: float
    y: float
    diameter: float
    drill: str = ""
    least_edge: float = 0.0
    edge_source: str = ""

    @property
    def at(self) -> Pt:
        """Return the middle."""
        return self.x, self.y


class BendLine(Frozen):
    """The middle of one bend on the flat pattern.

    Attributes
    ----------
    number : int
        In the order of bending, from 1.
    y : float
        Where it runs, mm.
    x0, x1 : float
        From edge to edge, mm.
    half : float
        Half the width of the curved strip, mm.
    angle, inside : float
        rad and mm.
    up : bool
        Towards the reader.
    """

    number: int
    y: float
    x0: float
    x1: float
    half: float
    angle: float
    inside: float
    up: bool

    @property
    def length(self) -> float:
        """Return its length, mm."""
        return self.x1 - self.x0

    @property
    def words(self) -> str:
        """Return it in words: ``30.0\N{DEGREE SIGN} up``."""
        return f"{math.degrees(self.angle):.1f}\N{DEGREE SIGN} {'up' if self.up else 'down'}"


class Plate(Frozen):
    """One plate.

    Attributes
    ----------
    name : str
        Such as ``front plate``.
    count : int
        How many are made of one set.
    steel : Steel
    profile : Profile
        Seen from the edge.
    blank : Outline
        Outline of the flat pattern, mm.
    nominal : tuple of Hole
        Where the holes are wanted when the plate is bent, measured along the first flat.
    down : bool
        Whether the profile's `along` and `s` run down the plate (at -y) or up it (at y).
    """

    name: str
    count: int
    steel: Steel
    profile: Profile
    blank: Outline
    nominal: tuple[Hole, ...]
    down: bool = True

    @property
    def _way(self) -> float:
        return -1.0 if self.down else 1.0

    @property
    def thickness(self) -> float:
        """Return the thickness, mm."""
        return self.profile.thickness

    @property
    def holes(self) -> tuple[Hole, ...]:
        """Return the holes on the flat pattern, where they come right after bending."""
        return tuple(
            hole.replace(y=0.0 + self._way * self.profile.flat_of(self._way * hole.y)) for hole in self.nominal
        )

    @property
    def bend_lines(self) -> tuple[BendLine, ...]:
        """Return the bend lines on the flat pattern, in the order of bending."""
        x0, _, x1, _ = self.blank.extent
        found: list[BendLine] = []
        for low, high, bend in self.profile.spans():
            if bend is not None:
                middle, half = (low + high) / 2.0, (high - low) / 2.0
                found.append(
                    BendLine(len(found) + 1, self._way * middle, x0, x1, half, bend.angle, bend.inside, bend.up)
                )
        return tuple(found)

    @property
    def area(self) -> float:
        """Return the area of one face of the flat pattern, holes taken out, mm^2."""
        return self.blank.area - sum(math.pi * h.diameter**2 / 4.0 for h in self.nominal)

    @property
    def mass(self) -> float:
        """Return the mass of one plate, holes taken out, kg: the steel of the flat pattern."""
        return self.area * self.thickness * 1e-9 * DENSITY

    @property
    def centre(self) -> Pt:
        """Return the middle of the area of the flat pattern, holes taken out, mm."""
        whole, (x, y) = self.blank.area, self.blank.centre
        x, y = whole * x, whole * y
        for hole in self.holes:
            cut = math.pi * hole.diameter**2 / 4.0
            x, y = x - cut * hole.x, y - cut * hole.y
        return x / self.area, y / self.area

    def finished(self, at: Pt) -> Pt:
        """Return where a point of the flat pattern lies on the bent plate, seen square to the first flat, mm."""
        return at[0], self._way * self.profile.place(self._way * at[1]).along

    def finished_outline(self) -> list[Pt]:
        """Return the outline of the bent plate, seen square to the first flat, as a polygon, mm."""
        return [self.finished(at) for at in self.blank.points()]

    def edge_view(self) -> list[Pt]:
        """Return the bent plate seen from its edge as a polygon: off to the right and y, mm."""
        places = [self.profile.place(s) for s in self._stations()]
        half = self.thickness / 2.0

        def side(sign: float) -> list[Pt]:
            return [
                (p.off + sign * half * math.cos(p.lean), self._way * (p.along - sign * half * math.sin(p.lean)))
                for p in places
            ]

        return side(1.0) + side(-1.0)[::-1]

    def _stations(self) -> list[float]:
        found = []
        for low, high, bend in self.profile.spans():
            steps = 1 if bend is None else 16
            found += [low + (high - low) * k / steps for k in range(steps)]
        return [*found, self.profile.end]

    def mirrored(self, name: str) -> Plate:
        """Return the other plate of a pair, seen from its own outside: left and right exchanged, bent the same way."""
        nominal = tuple(hole.replace(x=0.0 - hole.x) for hole in self.nominal)
        return self.replace(name=name, blank=self.blank.mirrored(), nominal=nominal)
