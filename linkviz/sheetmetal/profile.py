"""A plate seen from its edge: flats and bends one after the other, rolled up and unrolled along the neutral line.

`along` runs with the first flat, `off` away from it to the side of an upward bend; both are those of the middle of the
plate. `s` runs along the flat pattern. Both begin at the same place, so the first flat is the same in either.
"""

from __future__ import annotations

import math
from typing import Final

from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen
from linkviz.sheetmetal.neutral import Neutral

STEEPEST: Final = math.radians(75.0)
"""No flat of a profile leans further than this from the first one."""


class Bend(Frozen):
    """One bend.

    Attributes
    ----------
    angle : float
        By how much it turns the plate, rad, above 0.
    inside : float
        Inside radius, mm.
    up : bool
        Whether it turns the plate to the + side of `off`.
    neutral : Neutral
        Its neutral line.
    """

    angle: float
    inside: float
    up: bool
    neutral: Neutral


class Place(Frozen):
    """A place on the middle of the bent plate: where it is, mm, and how far the plate leans there, rad."""

    along: float
    off: float
    lean: float


class Profile(Frozen):
    """Flats and bends in turn.

    Attributes
    ----------
    thickness : float
        mm.
    start : float
        Where the first flat begins, mm.
    flats : tuple of float
        Lengths between the ends of the bends, mm; one more than there are bends.
    bends : tuple of Bend
        In order.
    """

    thickness: float
    start: float
    flats: tuple[float, ...]
    bends: tuple[Bend, ...] = ()

    def __post_init__(self) -> None:
        if len(self.flats) != len(self.bends) + 1 or min(self.flats) < 0.0:
            raise LinkvizError(
                f"A plate with {len(self.bends)} bends and flats of {', '.join(f'{v:.1f}' for v in self.flats)} mm "
                "cannot be made. Make it longer, or the bends smaller."
            )
        lean = 0.0
        for bend in self.bends:
            lean += bend.angle if bend.up else -bend.angle
            if abs(lean) > STEEPEST + 1e-12:
                raise LinkvizError(
                    f"Bends that turn a flat by {math.degrees(abs(lean)):.0f} deg from the first one are not drawn. "
                    f"Keep to {math.degrees(STEEPEST):.0f} deg."
                )

    def spans(self) -> list[tuple[float, float, Bend | None]]:
        """Return the pieces along the flat pattern: where each begins and ends, mm, and its bend if it is one."""
        found: list[tuple[float, float, Bend | None]] = []
        s = self.start
        for index, flat in enumerate(self.flats):
            found.append((s, s + flat, None))
            s += flat
            if index < len(self.bends):
                bend = self.bends[index]
                length = bend.neutral.length(bend.angle, bend.inside, self.thickness)
                found.append((s, s + length, bend))
                s += length
        return found

    @property
    def end(self) -> float:
        """Return where the flat pattern ends, mm."""
        return self.spans()[-1][1]

    def place(self, s: float) -> Place:
        """Return where a place of the flat pattern comes to lie when the plate is bent.

        The neutral line is rolled: in a bend, a length s of it turns the plate by s over its radius, and the middle of
        the plate goes round at r + t/2.
        """
        along, off, lean = self.start, 0.0, 0.0
        spans = self.spans()
        for index, (low, high, bend) in enumerate(spans):
            last = index == len(spans) - 1
            reach = (s if last else min(s, high)) - low
            if bend is None:
                if index:
                    reach = max(reach, 0.0)
                along += reach * math.cos(lean)
                off += reach * math.sin(lean)
            elif reach > 0.0:
                side = 1.0 if bend.up else -1.0
                turn = reach / bend.neutral.radius(bend.inside, self.thickness)
                middle = bend.inside + self.thickness / 2.0
                along += side * middle * (math.sin(lean + side * turn) - math.sin(lean))
                off += side * middle * (math.cos(lean) - math.cos(lean + side * turn))
                lean += side * turn
            if s <= high:
                break
        return Place(along, off, lean)

    def flat_of(self, along: float) -> float:
        """Return which place of the flat pattern lies at `along` when the plate is bent, mm."""
        spans = self.spans()
        for index, (low, high, bend) in enumerate(spans):
            here = self.place(low)
            if index < len(spans) - 1 and along > self.place(high).along:
                continue
            if bend is None:
                return low + (along - here.along) / math.cos(here.lean)
            side = 1.0 if bend.up else -1.0
            middle = bend.inside + self.thickness / 2.0
            lean = math.asin(math.sin(here.lean) + side * (along - here.along) / middle)
            return low + side * (lean - here.lean) * bend.neutral.radius(bend.inside, self.thickness)
        raise AssertionError("the last flat goes on for ever")


class Joggle(Frozen):
    """Two equal and opposite bends that set a plate off to the side.

    Attributes
    ----------
    offset : float
        From the middle of one flat to the middle of the other, mm.
    angle : float
        Of each bend, rad.
    inside, thickness : float
        mm.
    neutral : Neutral
        Of both bends.
    """

    offset: float
    angle: float
    inside: float
    thickness: float
    neutral: Neutral

    def __post_init__(self) -> None:
        if not 0.0 < self.angle <= STEEPEST + 1e-12 or self.offset <= 0.0:
            raise LinkvizError(
                f"A joggle of {self.offset:.1f} mm with bends of {math.degrees(self.angle):.0f} deg cannot be made. "
                f"Give an offset above 0 and an angle up to {math.degrees(STEEPEST):.0f} deg."
            )
        if self.web < -1e-9:
            least = 2.0 * self.middle * (1.0 - math.cos(self.angle))
            raise LinkvizError(
                f"Two bends of {math.degrees(self.angle):.0f} deg with an inside radius of {self.inside:.1f} mm set "
                f"the plate off by {least:.1f} mm at least; {self.offset:.1f} mm is wanted. Make the angle or the "
                "radius smaller."
            )

    @property
    def middle(self) -> float:
        """Return the radius of the middle of the plate, rho_m = r + t/2, mm."""
        return self.inside + self.thickness / 2.0

    @property
    def web(self) -> float:
        """Return the straight part between the bends, mm: offset = 2 rho_m (1 - cos) + web sin."""
        return (self.offset - 2.0 * self.middle * (1.0 - math.cos(self.angle))) / math.sin(self.angle)

    @property
    def axial(self) -> float:
        """Return how long the joggle is along the flats, H = 2 rho_m sin + web cos, mm."""
        return 2.0 * self.middle * math.sin(self.angle) + self.web * math.cos(self.angle)

    @property
    def developed(self) -> float:
        """Return how long it is in the flat, D = 2 rho_n angle + web, mm."""
        return 2.0 * self.neutral.length(self.angle, self.inside, self.thickness) + self.web

    @property
    def growth(self) -> float:
        """Return by how much every hole beyond the joggle moves in the flat, D - H, mm."""
        return self.developed - self.axial

    def profile(self, start: float, begin: float, end: float, up: bool = True) -> Profile:
        """Return the profile of a plate with this joggle.

        Parameters
        ----------
        start, begin, end : float
            Along the finished plate, mm: where it starts, where the joggle begins, where the plate ends.
        up : bool
            Whether it is set off to the + side.
        """
        one = Bend(self.angle, self.inside, up, self.neutral)
        two = Bend(self.angle, self.inside, not up, self.neutral)
        flats = (begin - start, max(self.web, 0.0), end - begin - self.axial)
        return Profile(self.thickness, start, flats, (one, two))


def steepest_angle(offset: float, inside: float, thickness: float, most: float = math.radians(45.0)) -> float:
    """Return the steepest angle up to `most` (rad) that two bends of a joggle of `offset` can have.

    The bends alone, with no straight part between, set a plate off by 2 rho_m (1 - cos).
    """
    share = 1.0 - offset / (2.0 * inside + thickness)
    return min(most, math.acos(max(share, -1.0)))
