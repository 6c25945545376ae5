"""How the vehicle stands: what its springs carry, how high, how softly, what still reaches at the ends of travel."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from linkviz.analysis import fittings
from linkviz.analysis.build import Build
from linkviz.analysis.setup import Setup
from linkviz.analysis.stance.springing import Load, Springing, full_load, placed_loads, rate_of, solid_length_of
from linkviz.conventions import GRAVITY
from linkviz.frozen import Frozen
from linkviz.linkage.solve import solve
from linkviz.stance import ride
from linkviz.stance.ride import Coil, Seats
from linkviz.vehicle.model import Vehicle

_DOWN, _UP, _STEP = -300.0, 150.0, 2.0
_ENDS = 9
SAME = 0.05
"""Heights nearer than this are the same height, mm."""


class Rest(Frozen):
    """How it stands under a load.

    Attributes
    ----------
    load : float
        Sprung load of the rear corner, N.
    rise : float
        Of the body over the axle, from design, mm; below zero where it stands lower.
    length : float
        Between the seats of the coil, mm.
    rate : float
        At the wheel, N/mm.
    frequency : float
        Of bouncing on the coil, Hz.
    bump_gap : float or None
        Between bump stop and pad, mm.
    """

    load: float
    rise: float
    length: float
    rate: float
    frequency: float
    bump_gap: float | None


class Ends(Frozen):
    """What is left at the ends of the travel that was given, level, mm; None where the file does not tell.

    Attributes
    ----------
    pressed : float or None
        How far the coil is still pressed at full rebound; negative: it hangs loose.
    bind : float or None
        How far the coil is from turn on turn at full jounce; negative: it would be solid before.
    bump : float or None
        Between bump stop and pad at full jounce; negative: the stop is squeezed by as much.
    dampers : (float, float) or None
        Shortest and longest eye to eye that the travel asks for.
    damper_room : (float, float) or None
        How far the present dampers are from pushed in and from pulled out; negative: too long, too short.
    hoses : tuple of (str, float)
        Slack of each hose at its tightest; negative: too short.
    """

    pressed: float | None
    bind: float | None
    bump: float | None
    dampers: tuple[float, float] | None
    damper_room: tuple[float, float] | None
    hoses: tuple[tuple[str, float], ...]


class Stance(Frozen):
    """A vehicle under one setup.

    Attributes
    ----------
    setup : Setup
    coil : Coil or None
        What is between the seats; None where the file has no springs.
    empty : Rest or None
        With what is carried always.
    laden : Rest or None
        With the greatest load in every place; None where the file does not tell the places.
    ends : Ends
    pitch : float or None
        Turn of the body and its headlights, rad, nose down +.
    stability : float or None
        Static stability factor T / (2 h).
    """

    setup: Setup
    coil: Coil | None
    empty: Rest | None
    laden: Rest | None
    ends: Ends
    pitch: float | None
    stability: float | None


@lru_cache(maxsize=8)
def seats_of(vehicle: Vehicle) -> Seats:
    """Return the motion of the springs' seats, level, as far as the axle gets."""
    build = Build.of(vehicle, Setup())
    heave = np.arange(_DOWN, _UP + _STEP, _STEP)
    poses = solve(build.layout, heave, 0.0)
    lengths = fittings.spring_lengths(build, poses).mean(axis=1)
    at = int(np.argmin(np.abs(heave)))
    stops = np.flatnonzero(~poses.reached)
    low = int(stops[stops < at].max(initial=-1)) + 1
    high = int(stops[stops > at].min(initial=len(heave)))
    return Seats.of(heave[low:high], lengths[low:high])


@lru_cache(maxsize=8)
def corner_load(vehicle: Vehicle) -> float:
    """Return what one rear spring carries as measured, at the wheel, N: without axle and wheels.

    Raises
    ------
    NotOnFile
        If the vehicle has no springs.
    """
    springs = vehicle.springs
    if springs is None:
        raise fittings.NotOnFile("springs")
    return ride.wheel_load(seats_of(vehicle), Coil(rate_of(springs), springs.free_length), 0.0)


def added_load(vehicle: Vehicle, loads: Sequence[Load]) -> float | None:
    """Return what loads add to one rear corner, N; None where the file does not tell the wheelbase.

    A load x ahead of the rear axle is carried there by the part 1 - x / wheelbase.
    """
    if not loads:
        return 0.0
    if vehicle.mass is None:
        return None
    base = vehicle.mass.wheelbase
    return sum(m * GRAVITY * (1.0 - x / base) for m, x, _ in placed_loads(vehicle, loads)) / 2.0


def springs_rise(vehicle: Vehicle, springing: Springing) -> float | None:
    """Return how much higher the body stands on what is put in, under what it always carries, mm.

    None where the file has no springs, or no height carries the load.
    """
    carried = _carried(vehicle, springing)
    if carried is None:
        return None
    heave = ride.rest_heave(seats_of(vehicle), _fitted(vehicle, springing), carried)
    return None if heave is None else 0.0 - heave


def from_springs(vehicle: Vehicle, setup: Setup, springing: Springing | None) -> bool:
    """Return whether the ride height of a setup is the one its springs give."""
    if springing is None:
        return False
    rise = springs_rise(vehicle, springing)
    return rise is not None and abs(max(rise, 0.0) - setup.lift) < SAME


def _fitted(vehicle: Vehicle, springing: Springing) -> Coil:
    coil = springing.springs or vehicle.springs
    assert coil is not None
    return Coil(rate_of(coil), coil.free_length, springing.spacer)


def _coil(vehicle: Vehicle, setup: Setup, springing: Springing, load: float) -> Coil:
    """Return the coil of a setup: the one fitted, or, at a height set by hand, what must be in to stand there."""
    fitted = _fitted(vehicle, springing)
    if from_springs(vehicle, setup, springing):
        return fitted
    needed = ride.coil_for(seats_of(vehicle), fitted.rate, load, -setup.lift)
    return Coil(fitted.rate, fitted.free_length, needed.free_length - fitted.free_length)


def _carried(vehicle: Vehicle, springing: Springing) -> float | None:
    """Return what one coil carries always, N; None where the file does not tell."""
    extra = added_load(vehicle, springing.loads)
    return None if vehicle.springs is None or extra is None else corner_load(vehicle) + extra


def _full(vehicle: Vehicle) -> float | None:
    return added_load(vehicle, full_load(vehicle)) if vehicle.load_places else None


@lru_cache(maxsize=64)
def laden_rise(vehicle: Vehicle, setup: Setup, springing: Springing | None = None) -> float | None:
    """Return the height of the body with the greatest load in every place, mm; None where it cannot be told."""
    springing = springing or Springing()
    carried, full = _carried(vehicle, springing), _full(vehicle)
    if carried is None or full is None:
        return None
    heave = ride.rest_heave(seats_of(vehicle), _coil(vehicle, setup, springing, carried), carried + full)
    return None if heave is None else 0.0 - heave


@lru_cache(maxsize=32)
def stance(vehicle: Vehicle, setup: Setup, springing: Springing | None = None) -> Stance:
    """Return how the vehicle stands under a setup.

    Parameters
    ----------
    vehicle : Vehicle
    setup : Setup
        Its lift is the ride height, whether the springs give it or somebody set it by hand.
    springing : Springing or None
        What was put in. At a height it does not give, a spacer under the same coil is taken to make the difference.
    """
    springing = springing or Springing()
    build = Build.of(vehicle, setup)
    coil = empty = laden = None
    carried = _carried(vehicle, springing)
    if carried is not None:
        coil = _coil(vehicle, setup, springing, carried)
        empty = _rest(build, coil, carried)
        full = _full(vehicle)
        laden = None if full is None else _rest(build, coil, carried + full)
    front = setup.lift if springing.front_rise is None else springing.front_rise
    pitch = stability = None
    if vehicle.mass is not None:
        mass = vehicle.mass
        pitch = ride.body_pitch(front, setup.lift, mass.wheelbase)
        height = mass.cg_height + ride.centre_of_gravity_rise(front, setup.lift, mass.rear_axle / mass.total)
        stability = ride.static_stability(vehicle.axle.track, height)
    return Stance(setup, coil, empty, laden, _ends(build, coil, springing), pitch, stability)


def _rest(build: Build, coil: Coil, load: float) -> Rest | None:
    seats = seats_of(build.vehicle)
    heave = ride.rest_heave(seats, coil, load)
    if heave is None:
        return None
    rate = ride.wheel_rate(coil.rate, seats.motion_at(heave))
    gap = None
    if build.vehicle.bump_stops is not None:
        gap = float(fittings.bump_gaps(build, solve(build.layout, heave, 0.0)).min())
    return Rest(load, 0.0 - heave, seats.length_at(heave), rate, ride.ride_frequency(rate, load), gap)


def _ends(build: Build, coil: Coil | None, springing: Springing) -> Ends:
    vehicle = build.vehicle
    low, high = build.window
    poses = solve(build.layout, np.linspace(low, high, _ENDS) - build.setup.lift, 0.0)
    pressed = bind = bump = dampers = room = None
    if coil is not None:
        lengths = fittings.spring_lengths(build, poses)
        pressed = coil.free_length + coil.spacer - float(lengths.max())
        wound = springing.springs or vehicle.springs
        solid = solid_length_of(wound) if wound is not None else None
        bind = None if solid is None else float(lengths.min()) - coil.spacer - solid
    if vehicle.bump_stops is not None:
        bump = float(fittings.bump_gaps(build, poses).min())
    if vehicle.dampers is not None:
        eyes = fittings.damper_lengths(build, poses)
        dampers = (float(eyes.min()), float(eyes.max()))
        room = (dampers[0] - vehicle.dampers.shortest, vehicle.dampers.longest - dampers[1])
    slack = fittings.hose_slack(build, poses).min(axis=0) if vehicle.hoses else ()
    hoses = tuple((hose.name, float(left)) for hose, left in zip(vehicle.hoses, slack, strict=True))
    return Ends(pressed, bind, bump, dampers, room, hoses)
