"""What a bracket is made of and what it is bolted to, as plain frozen values.

The axis of a bracket: ``u`` is the distance along the drop direction from the original bolt, mm, + away from the frame.
The original bolt is at u = 0, the anchor bolt (second bolt, drilled through the frame bracket) at u = ``anchor``, the
bar's holes at u = d_1 < d_2 ... The plates stand in the Y-Z plane and the bolts run fore-aft. ``v`` is the distance
across a plate from the line through the original bolt and the anchor bolt, mm, outboard +.

The same values serve a bracket that raises the bar's axle end: its "frame bracket" is the bracket on the axle.
"""

from __future__ import annotations

import math
from typing import Literal

from linkviz.frozen import Frozen

Fit = Literal["inside", "outside"]
"""Plates nested inside the frame bracket, or straddling it."""

Threads = Literal["clear", "in"]
"""Whether threads are clear of the shear planes or in them."""

RUNNING_GAP = 3.0
"""Least gap between the eye of the bar and the lip of the frame bracket, mm: common practice, no published source."""


class FrameBracket(Frozen):
    """The bracket on the vehicle that carries the bar, as measured.

    Attributes
    ----------
    inside_width : float
        Between its plates along the bolt, mm (w_f).
    thickness : float
        Of one of its plates, mm (t_f).
    lip : float
        From the middle of the bolt hole to its end along the drop direction, mm (e_f).
    width : float
        Across its plates where the second bolt goes through, mm; the bolts stand in the middle of it.
    bolt : str
        Size of the original bolt, a key of `linkviz.bracket.bolts.SIZES`.
    steel : str
        A key of `linkviz.bracket.materials.STEELS`.
    """

    inside_width: float
    thickness: float
    lip: float
    width: float
    bolt: str = "M14"
    steel: str = "unknown"


class BarEnd(Frozen):
    """The frame end of the lateral bar, as measured.

    Attributes
    ----------
    eye_width : float
        Length of the bushing's inner sleeve along the bolt, mm (w_b).
    eye_diameter : float
        Outside of the eye, mm (D_e).
    bolt : str
        Size of its bolt, a key of `linkviz.bracket.bolts.SIZES`.
    """

    eye_width: float
    eye_diameter: float
    bolt: str = "M14"


class Joggle(Frozen):
    """Two equal and opposite bends in a plate, between the anchor bolt and the first hole for the bar.

    Attributes
    ----------
    offset : float
        How far the lower part of a plate stands off its upper part, along the bolt, mm, + where the two plates of a
        bracket stand farther apart below. Never 0: a plate without a joggle has None.
    angle : float
        Of each bend, rad, above 0 and at most a right angle.
    inside_radius : float
        mm.
    start : float
        u at which the first bend begins, mm.
    """

    offset: float
    angle: float = math.radians(45.0)
    inside_radius: float = 6.0
    start: float = 60.0


class DropBracket(Frozen):
    """A drop bracket: two side plates, a spacer tube on the original bolt, hardware.

    Attributes
    ----------
    name : str
        What the shop calls it.
    holes : tuple of float
        Drops of the holes for the bar, mm, ascending (d_1, d_2 ...).
    thickness, width : float
        Of one plate, mm (t, b).
    anchor : float
        u of the anchor bolt, mm (s_a).
    steel : str
        Of the plates, a key of `linkviz.bracket.materials.STEELS`.
    fit : {"inside", "outside"}
        Whether the plates go inside or outside those of the frame bracket.
    shift : float
        v of the holes for the bar, mm, outboard + (s).
    joggle : Joggle or None
        None for straight plates.
    end_top, end_bottom : float
        From the middle of the original bolt's hole to the upper end, and of the last hole to the lower end, mm.
    bolt, anchor_bolt, bar_bolt : str
        Sizes, keys of `linkviz.bracket.bolts.SIZES`.
    grade : str
        Of all three bolts, a key of `linkviz.bracket.bolts.GRADES`.
    threads : {"clear", "in"}
        Whether the bolts are long enough that their threads stay clear of the shear planes.
    tube_outer, tube_wall : float
        Heavy-wall spacer tube on the original bolt, mm; `tube_length` long.
    tube_steel : str
        A key of `linkviz.bracket.materials.STEELS`.
    weld_leg : float
        Leg of the fillets that hold the brace and, where `tube_welded`, the tube, mm.
    brace : bool
        Whether a strip is welded across the outboard edges of the plates, from `brace_start` to the last hole
        (`brace_length`). The inboard edges stay open for the bar.
    brace_start : float
        u at which the strip begins, mm: below the lip of the frame bracket, which stands between the plates.
    running_gap : float
        Least gap between eye and lip, mm.
    mass : float or None
        Of the whole bracket, kg, where the shop has weighed it.
    """

    name: str
    holes: tuple[float, ...]
    thickness: float = 6.35
    width: float = 76.2
    anchor: float = 45.0
    steel: str = "A36"
    fit: Fit = "outside"
    shift: float = 0.0
    joggle: Joggle | None = None
    end_top: float = 25.0
    end_bottom: float = 25.0
    bolt: str = "M14"
    anchor_bolt: str = "1/2-13"
    bar_bolt: str = "M14"
    grade: str = "8"
    threads: Threads = "clear"
    tube_outer: float = 31.75
    tube_wall: float = 6.35
    tube_steel: str = "1020-DOM"
    weld_leg: float = 5.0
    brace: bool = True
    brace_start: float = 65.0
    running_gap: float = RUNNING_GAP
    mass: float | None = None

    @property
    def longest(self) -> float:
        """Return the drop of the last hole, mm."""
        return self.holes[-1]

    @property
    def length(self) -> float:
        """Return the length of a finished plate along u, mm."""
        return self.end_top + self.holes[-1] + self.end_bottom

    @property
    def tube_welded(self) -> bool:
        """Return whether the spacer tube is welded to the plates.

        Plates outside the frame bracket cannot reach it: it lies loose between the frame bracket's own plates.
        """
        return self.fit == "inside"

    def tube_length(self, frame: FrameBracket) -> float:
        """Return the length of the spacer tube, and of the sleeve on the anchor bolt, mm: what they stand between."""
        return self.inside_top(frame) if self.tube_welded else frame.inside_width

    def brace_length(self, drop: float) -> float:
        """Return the length of the brace and of its weld on either plate, mm, where it ends at `drop`; 0 without one.

        A brace whose weld would be shorter than four legs is left out: no fillet may be (AISC 360-16 J2.2b, memory).
        """
        long = drop - self.brace_start
        return long if self.brace and long >= 4.0 * self.weld_leg else 0.0

    def inside_top(self, frame: FrameBracket) -> float:
        """Return the width between the plates at the original bolt, mm."""
        if self.fit == "inside":
            return frame.inside_width - 2.0 * self.thickness
        return frame.inside_width + 2.0 * frame.thickness

    def inside_bottom(self, frame: FrameBracket) -> float:
        """Return the width between the plates at the bar, mm."""
        return self.inside_top(frame) + (2.0 * self.joggle.offset if self.joggle else 0.0)

    def with_holes(self, *holes: float) -> DropBracket:
        """Return the same bracket with other holes."""
        return self.replace(holes=tuple(sorted(holes)))
