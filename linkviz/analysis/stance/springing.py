"""What is put under the body to lift it: spacer, other springs, load that is always carried. Frozen; a job keeps it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from linkviz.errors import Problem
from linkviz.stance import coil as coils
from linkviz.vehicle.braking import LOAD
from linkviz.vehicle.fittings import LENGTHS, coil_problems
from linkviz.vehicle.model import Coil, Length, Vehicle
from linkviz.vehicle.part import Part
from linkviz.vehicle.wording import Range, Words, short

DEAD_TURNS = 2.0
"""Turns of a coil that lie dead on its seats, one at each end."""
SPACER = Range(0.0, 200.0)
"""Thickness of spacers, mm."""
FRONT = Range(-200.0, 300.0)
"""Rise of the body at the front axle, mm."""


class Load(Part):
    """A load in one of the vehicle's places."""

    place: str
    mass: float
    """kg."""


class Springing(Part):
    """What has been changed about the springs, and what they carry beside the empty vehicle."""

    spacer: Length = 0.0
    """Thickness between coil and seat."""
    springs: Coil | None = None
    """The coils that are in; None for those that were measured."""
    loads: tuple[Load, ...] = ()
    """Carried always, such as drawers or a winch."""
    front_rise: Length | None = None
    """Rise of the body at the front axle; as much as at the rear where nobody says."""


def rate_of(coil: Coil) -> float:
    """Return the rate of a coil, N/mm: as given, else from its wire.

    Raises
    ------
    ValueError
        If neither is known.
    """
    if coil.rate is not None:
        return coil.rate
    if coil.wire is None or coil.coil is None or coil.turns is None:
        raise ValueError("a coil without rate and without wire, coil and turns")
    return coils.rate(coil.wire, coil.coil, coil.turns - DEAD_TURNS)


def solid_length_of(coil: Coil) -> float | None:
    """Return the length of a coil with turn on turn, mm, if its wire and turns are known."""
    if coil.wire is None or coil.turns is None:
        return None
    return coils.solid_length(coil.wire, coil.turns)


def full_load(vehicle: Vehicle) -> tuple[Load, ...]:
    """Return the greatest load in every place of the vehicle."""
    return tuple(Load(place=place.name, mass=place.most) for place in vehicle.load_places)


def placed_loads(vehicle: Vehicle, loads: Sequence[Load]) -> Iterator[tuple[float, float, float]]:
    """Yield mass (kg), x and z (mm) of each load whose place the vehicle has."""
    places = {place.name: place for place in vehicle.load_places}
    for load in loads:
        if (place := places.get(load.place)) is not None:
            yield load.mass, place.x, place.z


def springing_problems(springing: Springing, say: Words, where: str = "springing") -> Iterator[Problem]:
    """Yield what makes no sense."""
    yield from say.outside(f"{where}.spacer", springing.spacer, SPACER)
    if springing.front_rise is not None:
        yield from say.outside(f"{where}.front_rise", springing.front_rise, FRONT)
    if springing.springs is not None:
        yield from say.outside(
            f"{where}.springs.free_length", springing.springs.free_length, LENGTHS["springs.free_length"]
        )
        yield from coil_problems(say, f"{where}.springs", springing.springs)
    for index, load in enumerate(springing.loads):
        if not load.place.strip():
            yield Problem(f"{where}.loads[{index}].place", "an empty name", "the name of one of [[load_places]]")
        if not 0.0 <= load.mass <= LOAD.most:
            yield Problem(f"{where}.loads[{index}].mass", f"{short(load.mass)} kg", f"0 to {LOAD.most:g} kg")
