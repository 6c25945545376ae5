"""Outer sizes of the parts that move: measured where the vehicle's table `sizes` has them, else in proportion.

The proportions are plain guesses of what such parts usually measure (common practice, no published source). What they
stand for is shown with the answers, so that a tape can be put to the part that matters.
"""

from __future__ import annotations

from functools import lru_cache

from linkviz.frozen import Frozen, names_of
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.part import values_of

WORDS = {
    "yoke_radius": "yokes of the driveshaft, radius",
    "yoke_length": "yokes of the driveshaft, length",
    "bar_radius": "lateral bar, radius",
    "eye_radius": "eyes of the links, radius",
    "tube_radius": "axle tube, radius",
    "housing_radius": "differential housing, radius",
    "damper_radius": "dampers, radius",
    "bracket_length": "drop bracket, fore and aft",
    "bracket_width": "drop bracket, side to side",
    "bracket_lip": "drop bracket, beyond its bolts",
}
"""The sizes in plain words, keyed as in a vehicle file."""


class PartSizes(Frozen):
    """Sizes, mm, named as in `linkviz.vehicle.model.Sizes`; `guessed` names those nobody measured."""

    yoke_radius: float
    yoke_length: float
    bar_radius: float
    eye_radius: float
    tube_radius: float
    housing_radius: float
    damper_radius: float
    bracket_length: float
    bracket_width: float
    bracket_lip: float
    guessed: tuple[str, ...] = ()


@lru_cache(maxsize=16)
def sizes_of(vehicle: Vehicle) -> PartSizes:
    """Return the sizes of a vehicle's parts."""
    tyre = vehicle.axle.tyre_radius
    shaft = vehicle.driveshaft.radius if vehicle.driveshaft is not None else 0.1 * tyre
    usual = PartSizes(
        yoke_radius=1.25 * shaft,
        yoke_length=2.2 * shaft,
        bar_radius=0.058 * tyre,
        eye_radius=0.085 * tyre,
        tube_radius=0.115 * tyre,
        housing_radius=0.31 * tyre,
        damper_radius=0.075 * tyre,
        bracket_length=70.0,
        bracket_width=60.0,
        bracket_lip=25.0,
    )
    told = {} if vehicle.sizes is None else values_of(vehicle.sizes)
    own = {key: value for key, value in told.items() if value is not None}
    all_keys = [name for name in names_of(PartSizes) if name != "guessed"]
    values = {key: own.get(key, getattr(usual, key)) for key in all_keys}
    return PartSizes(**values, guessed=tuple(key for key in all_keys if key not in own))
