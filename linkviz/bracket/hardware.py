"""Bolts, sleeves and strips of a drop bracket: how long, how tight, and whether threads stay out of the shear planes.

References
----------
ISO 4014 (lengths; thread 2 d + 6 mm up to 125 mm, 2 d + 12 mm up to 200 mm) and ASME B18.2.1 (quarter inches; thread
2 d + 1/4 in up to 6 in, 2 d + 1/2 in above), both from memory. Torque: `linkviz.bracket.bolts.tightening_torque`.
Washers 3 mm and nuts 1.1 d high are taken: common practice, no published source.
"""

from __future__ import annotations

import math
from typing import Final

from linkviz.bracket.bolts import GRADES, Size, find_size, tightening_torque
from linkviz.bracket.materials import DENSITY
from linkviz.bracket.parts import BarEnd, DropBracket, FrameBracket
from linkviz.conventions import MM_PER_INCH
from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen
from linkviz.units import length_number

WASHER: Final = 3.0
"""Thickness taken for a hardened washer, mm."""
NUT: Final = 1.1
"""Height taken for a lock nut, in bolt diameters."""
_METRIC: Final = (40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160, 180, 200)
_INCH: Final = tuple(quarters * MM_PER_INCH / 4.0 for quarters in range(6, 41))
LEAST: Final = 0.5
"""Gaps narrower than this need no sleeve, mm."""


class Fastener(Frozen):
    """One bolt with its nut and two washers.

    Attributes
    ----------
    name, bolt, grade : str
        What it holds, its size, its grade.
    grip : float
        Thickness of everything between the washers, mm.
    length, shank : float
        Length to buy, under the head, and the plain part of it, mm.
    shear_at : float
        From under the head to the farther shear plane, washer included, mm.
    torque_plain, torque_plated : float
        N mm, for 0.75 of the proof load.
    """

    name: str
    bolt: str
    grade: str
    grip: float
    length: float
    shank: float
    shear_at: float
    torque_plain: float
    torque_plated: float

    @property
    def sold_as(self) -> str:
        """Return its length as it is sold: ``100 mm`` of a metric bolt, ``4 1/4 in`` of an inch bolt."""
        return f"{self.length:g} mm" if find_size(self.bolt).metric else f"{length_number(self.length, 'in')} in"

    @property
    def threads_clear(self) -> bool:
        """Return whether the thread begins beyond the farther shear plane."""
        return self.shank >= self.shear_at - 1e-9

    @property
    def tightens(self) -> bool:
        """Return whether the nut reaches the work before it runs out of thread."""
        return self.shank <= self.grip + 2.0 * WASHER + 1e-9


class Piece(Frozen):
    """A piece of tube or strip.

    Attributes
    ----------
    name : str
    count : int
    size : tuple of float
        Outside diameter, wall and length of a tube; width, thickness and length of a strip, mm.
    tube : bool
    steel : str
        A key of `linkviz.bracket.materials.STEELS`.
    """

    name: str
    count: int
    size: tuple[float, float, float]
    tube: bool
    steel: str

    @property
    def mass(self) -> float:
        """Return the mass of one, kg."""
        across, wall, length = self.size
        area = math.pi * wall * (across - wall) if self.tube else across * wall
        return area * length * DENSITY


def fasteners(bracket: DropBracket, frame: FrameBracket, bar: BarEnd) -> tuple[Fastener, ...]:
    """Return the three bolts: original, anchor, bar.

    Raises
    ------
    LinkvizError
        If a bolt is longer than any that is sold.
    """
    outside = bracket.fit == "outside"
    upper = frame.inside_width + 2.0 * frame.thickness + (2.0 * bracket.thickness if outside else 0.0)
    ply = bracket.thickness if outside else frame.thickness
    lower = max(bracket.inside_bottom(frame), bar.eye_width) + 2.0 * bracket.thickness
    return (
        _fastener("original bolt", bracket.bolt, bracket.grade, upper, ply),
        _fastener("anchor bolt", bracket.anchor_bolt, bracket.grade, upper, ply),
        _fastener("bar bolt", bracket.bar_bolt, bracket.grade, lower, bracket.thickness),
    )


def pieces(bracket: DropBracket, frame: FrameBracket, bar: BarEnd) -> tuple[Piece, ...]:
    """Return the tubes and the strip that go with the plates.

    Notes
    -----
    Plates outside the frame bracket: the spacer tube takes the place of the eye inside it and lies loose, as does a
    sleeve on the anchor bolt. Plates inside: both stand between the plates (`DropBracket.tube_length`). What the
    plates are wider apart at the bar than its eye is filled by a sleeve on either side.
    """
    between = bracket.tube_length(frame)
    across, wall = bracket.tube_outer, bracket.tube_wall
    found = [
        Piece("spacer tube, original bolt", 1, (across, wall, between), True, bracket.tube_steel),
        Piece("sleeve, anchor bolt", 1, _sleeve(bracket.anchor_bolt, between), True, bracket.tube_steel),
    ]
    gap = (bracket.inside_bottom(frame) - bar.eye_width) / 2.0
    if gap > LEAST:
        found.append(Piece("sleeve beside the eye", 2, _sleeve(bracket.bar_bolt, gap), True, bracket.tube_steel))
    if bracket.brace_length(bracket.longest):
        wide = bracket.inside_bottom(frame) + 2.0 * bracket.thickness
        size = (wide, bracket.thickness, bracket.brace_length(bracket.longest))
        found.append(Piece("brace strip, outboard edges", 1, size, False, bracket.steel))
    return tuple(found)


def _sleeve(bolt: str, length: float) -> tuple[float, float, float]:
    """Return a sleeve for a bolt: twice its diameter outside, bored 0.5 mm over it."""
    d = find_size(bolt).diameter
    return 2.0 * d, (d - 0.5) / 2.0, length


def _fastener(name: str, bolt: str, grade: str, grip: float, ply: float) -> Fastener:
    size = find_size(bolt)
    least = grip + 2.0 * WASHER + NUT * size.diameter + 2.0 * size.pitch
    shear_at = WASHER + grip - ply
    length = stock_length(size, least, shear_at, grip + 2.0 * WASHER)
    shank = length - thread_length(size, length)
    plain, plated = (tightening_torque(size, GRADES[grade], factor) for factor in (0.20, 0.15))
    return Fastener(name, size.key, grade, grip, length, shank, shear_at, plain, plated)


def stock_length(size: Size, least: float, shear_at: float = 0.0, grip_end: float = math.inf) -> float:
    """Return a length that is sold, mm: ISO 4014, or quarter inches up to 10 in.

    Parameters
    ----------
    size : Size
    least : float
        What the bolt must have under its head, mm.
    shear_at, grip_end : float
        The plain shank should reach the one and must not go beyond the other, mm from under the head.

    Returns
    -------
    float
        The shortest length that does all this; the shortest that is long enough where none does.

    Raises
    ------
    LinkvizError
        If none is long enough.
    """
    long = [v for v in (_METRIC if size.metric else _INCH) if v >= least - 1e-9]
    if not long:
        raise LinkvizError(
            f"A bolt {size.key} would have to be {least:.0f} mm long; none is sold off the shelf. "
            "Check the widths of the frame bracket and of the eye."
        )
    good = [v for v in long if shear_at <= v - thread_length(size, v) <= grip_end]
    return float((good or long)[0])


def thread_length(size: Size, length: float) -> float:
    """Return the length of the thread of a bolt of a length, mm."""
    if size.metric:
        return 2.0 * size.diameter + (6.0 if length <= 125.0 else 12.0)
    return 2.0 * size.diameter + (0.25 if length <= 6.0 * MM_PER_INCH else 0.5) * MM_PER_INCH
