"""A photo behind a drawing: which file, and how it lies on the body. The file itself is never copied.

Places on the photo are (px, py) in its pixels, from its upper left corner, py down. Places on the drawing are those of
the body frame, (y, z) in the rear view and (x, z) in the side view, mm.
"""

from __future__ import annotations

import cmath
from typing import Literal

from linkviz.errors import LinkvizError
from linkviz.vehicle.model import Length
from linkviz.vehicle.part import Part

ViewName = Literal["rear", "side"]
Place = tuple[float, float]

LEAST_APART = 2.0
"""Two points of a photo nearer to each other than this place nothing, pixels."""
LEAST_LENGTH = 1.0
"""Nor do two places nearer than this, mm."""


class Photo(Part):
    """A photo and how it lies behind one of the drawings.

    Attributes
    ----------
    view : {"rear", "side"}
        The drawing it lies behind.
    path : str
        The file.
    left, top : float
        Where the upper left corner of the photo lies: across as seen (to the right +) and z, mm.
    scale : float
        Size of a pixel, mm.
    turn : float
        How far it is turned, anticlockwise as seen, rad.
    opacity : float
        0 for not to be seen, 1 for full.
    shown : bool
        Whether it is shown.
    """

    view: ViewName
    path: str
    left: Length = 0.0
    top: Length = 1000.0
    scale: Length = 1.0
    turn: float = 0.0
    opacity: float = 0.6
    shown: bool = True

    def to_body(self, pixel: Place) -> Place:
        """Return which place of the body, mm, a pixel shows."""
        at = complex(self.left, self.top) + cmath.rect(self.scale, self.turn) * complex(pixel[0], -pixel[1])
        return (_across(self.view, at.real), at.imag)

    def to_pixel(self, place: Place) -> Place:
        """Return which pixel shows a place of the body; undoes `to_body`."""
        at = complex(_across(self.view, place[0]), place[1]) - complex(self.left, self.top)
        pixel = at / cmath.rect(self.scale, self.turn)
        return (pixel.real, -pixel.imag)


def placed(photo: Photo, pixels: tuple[Place, Place], places: tuple[Place, Place]) -> Photo:
    """Return the photo laid so that two of its pixels show two known places.

    Parameters
    ----------
    photo : Photo
        The photo as it lies now.
    pixels : pair of (float, float)
        Two points of it, pixels.
    places : pair of (float, float)
        What they are, body frame, mm.

    Raises
    ------
    LinkvizError
        If the two points, or the two places, are next to each other.

    Notes
    -----
    The similarity a z + b of the complex plane through two points; a photo is taken to be square on and not stretched.
    """
    one, other = (complex(p[0], -p[1]) for p in pixels)
    here, there = (complex(_across(photo.view, q[0]), q[1]) for q in places)
    _apart(abs(other - one), abs(there - here))
    factor = (there - here) / (other - one)
    corner = here - factor * one
    return _with(photo, corner, factor)


def placed_by_distance(photo: Photo, pixels: tuple[Place, Place], distance: float) -> Photo:
    """Return the photo scaled so that two of its pixels are a known distance apart, mm.

    The first of them stays where it is, and the photo stays turned as it is. Raises as `placed`.
    """
    one, other = (complex(p[0], -p[1]) for p in pixels)
    _apart(abs(other - one), distance)
    y, z = photo.to_body(pixels[0])
    factor = cmath.rect(distance / abs(other - one), photo.turn)
    return _with(photo, complex(_across(photo.view, y), z) - factor * one, factor)


def filling(view: ViewName, path: str, size: Place, middle: Place, height: float) -> Photo:
    """Return a photo that stands upright, as high as given, its middle at a place of the body, mm."""
    scale = height / max(size[1], 1.0)
    left = _across(view, middle[0]) - size[0] * scale / 2.0
    return Photo(view=view, path=path, left=left, top=middle[1] + height / 2.0, scale=scale)


def photo_faults(photo: Photo) -> tuple[tuple[str, str, str], ...]:
    """Return what makes no sense about a photo: the key, what was found, what is expected."""
    faults = []
    if not photo.path.strip():
        faults.append(("path", "no file name", "the path of a picture"))
    if not photo.scale > 0.0:
        faults.append(("scale", f"{photo.scale:g}", "the size of a pixel, more than 0"))
    if not 0.0 <= photo.opacity <= 1.0:
        faults.append(("opacity", f"{photo.opacity:g}", "0 to 1"))
    return tuple(faults)


def _across(view: ViewName, value: float) -> float:
    return -value + 0.0 if view == "rear" else value


def _with(photo: Photo, corner: complex, factor: complex) -> Photo:
    changes = {"left": corner.real, "top": corner.imag, "scale": abs(factor), "turn": cmath.phase(factor)}
    return photo.replace(**changes)


def _apart(pixels: float, length: float) -> None:
    if pixels < LEAST_APART:
        raise LinkvizError("Both points are on the same spot of the photo. Click two that are far apart.")
    if not length >= LEAST_LENGTH:
        raise LinkvizError("The two places are the same. Type where each of the two points is, or how far apart.")
