"""The load-sensing brake valve of a vehicle: where its arm stands, what that does to the brakes, what puts it right."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Literal

import numpy as np

from linkviz.analysis.build import Build
from linkviz.analysis.fittings import NotOnFile, placed
from linkviz.analysis.setup import Setup
from linkviz.analysis.stance.springing import Load, Springing, full_load, placed_loads
from linkviz.analysis.stance.stance import laden_rise
from linkviz.analysis.stance.valve_bracket import HOLES
from linkviz.brakes.balance import Brake, Lock, Standing, System, disc_gain, drum_gain, pad_wear
from linkviz.brakes.linkage import Array, Lever, Turned, rise_for, turned
from linkviz.brakes.valve import Valve
from linkviz.conventions import GRAVITY
from linkviz.frozen import Frozen
from linkviz.linkage.pose import Poses
from linkviz.linkage.solve import solve
from linkviz.stance.ride import centre_of_gravity_rise
from linkviz.vehicle.described import typed_at
from linkviz.vehicle.model import AxleBrakes, BrakeValve, Vehicle

Name = Literal["as built", "lifted", "raised"]
"""As built, lifted with the valve left alone, lifted with the rod raised."""

FIRM = 0.5
"""Deceleration of a firm stop, in parts of gravity."""
DRY, WET = 0.8, 0.4
"""Adhesion of a dry and a wet road."""
_ENDS = 41


class State(Frozen):
    """The valve and the brakes in one state at rest.

    Attributes
    ----------
    name : {"as built", "lifted", "raised"}
    laden : bool
        With the greatest load in every place.
    heave : float
        Where the axle stands, mm from design.
    turn : float
        Of the arm from where it was measured, rad, + towards laden.
    reached : bool
        Whether arm and rod reach; else they stand in line.
    knee : float or None
        MPa; None where the valve's law is not known.
    system : System or None
        The brakes; None where brakes or masses are not known.
    kept : float or None
        Rear braking in a firm stop against as built under the same load: 1 is as much.
    dry, wet : Lock or None
        What locks first.
    """

    name: Name
    laden: bool
    heave: float
    turn: float
    reached: bool
    knee: float | None
    system: System | None
    kept: float | None
    dry: Lock | None
    wet: Lock | None


class ValveResult(Frozen):
    """What there is to say about the valve under a setup.

    Attributes
    ----------
    setup : Setup
    states : tuple of State
        As built, lifted, raised; of each unladen, then laden if that is known.
    rise : float or None
        That puts the arm back at rest, exactly, mm; None if none does.
    hole : float or None
        Nearest hole of the bracket, mm.
    left : float or None
        Turn of the arm that is left with that hole, rad, + towards laden.
    straight : (float, float) or None
        Travels from rest between which arm and rod reach, mm, where the window given goes beyond them.
    window : (float, float)
        That window: rebound (negative) and jounce from rest, mm.
    missing : tuple of str
        What cannot be told and why.
    """

    setup: Setup
    states: tuple[State, ...]
    rise: float | None
    hole: float | None
    left: float | None
    straight: tuple[float, float] | None
    window: tuple[float, float]
    missing: tuple[str, ...]

    def state(self, name: Name, laden: bool = False) -> State | None:
        """Return one state, or None if it is not among them."""
        return next((s for s in self.states if s.name == name and s.laden == laden), None)


def valve_of(vehicle: Vehicle) -> BrakeValve:
    """Return the vehicle's valve.

    Raises
    ------
    NotOnFile
        If it has none.
    """
    if vehicle.brake_valve is None:
        raise NotOnFile("brake valve")
    return vehicle.brake_valve


def lever_of(valve: BrakeValve) -> Lever:
    """Return the lever of a valve in side view."""
    (px, _, pz), (tx, ty, tz), (ax, ay, az) = valve.pivot, valve.tip, valve.axle
    return Lever.of((px, pz), (tx, tz), (ax, az), ay - ty)


def rod_ends(build: Build, poses: Poses) -> Array:
    """Return where the rod is held on the axle, with the setup's rise, shape (n, 3): x, z, across the arm's plane, mm.

    The rise goes along the axle's own Z, so that the bracket turns with the axle.
    """
    valve = valve_of(build.vehicle)
    x, y, z = valve.axle
    ends = placed(build, poses, np.array([(x, y, z + build.setup.valve_rise)]))[:, 0]
    return np.stack([ends[:, 0], ends[:, 2], ends[:, 1] - valve.tip[1]], axis=-1)


def arm(build: Build, poses: Poses) -> Turned:
    """Return where the valve's arm stands at each pose."""
    ends = rod_ends(build, poses)
    return turned(lever_of(valve_of(build.vehicle)), ends[:, 0], ends[:, 1], ends[:, 2])


@lru_cache(maxsize=16)
def _poses(vehicle: Vehicle, setup: Setup, laden: float | None) -> Poses:
    """Return the poses a setup is looked at, in one call of the solver: empty rest, laden rest, the travel window."""
    build = Build.of(vehicle, setup)
    travel = np.linspace(*build.window, _ENDS) - setup.lift
    return solve(build.layout, np.concatenate([[-setup.lift, -setup.lift if laden is None else -laden], travel]), 0.0)


def rise_needed(vehicle: Vehicle, setup: Setup, poses: Poses | None = None) -> float | None:
    """Return the rise of the rod's end that puts the arm back to where it was measured, at rest, mm.

    `poses` begins with that rest, if it is at hand.
    """
    build = Build.of(vehicle, setup.with_(valve_rise=0.0))
    poses = (solve(build.layout, -setup.lift, 0.0) if poses is None else poses)[:1]
    x, z, across = rod_ends(build, poses)[0]
    up = poses.rotation()[0] @ np.array([0.0, 0.0, 1.0])
    return rise_for(lever_of(valve_of(vehicle)), (x, z, across), (float(up[0]), float(up[2]), float(up[1])))


def nearest_hole(rise: float, holes: Sequence[float]) -> float | None:
    """Return the hole whose rise is nearest; of two as near the lower one: overdone is the dangerous side."""
    return min(holes, key=lambda hole: (abs(hole - rise), hole), default=None)


def _straightened(build: Build, poses: Poses) -> tuple[float, float] | None:
    """Return the travels between which arm and rod reach, mm from rest; None if that is the whole window."""
    reached = arm(build, poses).reached
    if reached.all():
        return None
    travel = poses.heave[reached] + build.setup.lift
    return (float(travel.min()), float(travel.max())) if len(travel) else (0.0, 0.0)


@lru_cache(maxsize=32)
def brake_valve(
    vehicle: Vehicle, setup: Setup, springing: Springing | None = None, holes: tuple[float, ...] = HOLES
) -> ValveResult:
    """Return all there is to say about the valve of a vehicle under a setup.

    Raises
    ------
    NotOnFile
        If the vehicle has no valve.
    """
    valve_of(vehicle)
    setups: dict[Name, Setup] = {"as built": Setup()}
    bare = setup.with_(valve_rise=0.0)
    if setup.lift > 0:
        setups["lifted"] = bare
    if setup.valve_rise:
        setups["raised"] = setup
    states: list[State] = []
    for name, one in setups.items():
        put = springing if name != "as built" else None
        for laden in (False, True):
            state = _state(vehicle, name, one, put, laden)
            if state is not None:
                built = next((s for s in states if s.name == "as built" and s.laden == laden), state)
                states.append(state.replace(kept=_kept(built, state)))
    poses = _poses(vehicle, bare, laden_rise(vehicle, bare, springing))
    rise, left = rise_needed(vehicle, setup, poses), None
    hole = None if rise is None or setup.lift <= 0 else nearest_hole(rise, holes)
    if hole is not None:
        left = float(arm(Build.of(vehicle, setup.with_(valve_rise=hole)), poses[:1]).turn[0])
    straight = _straightened(Build.of(vehicle, setup), poses[2:])
    return ValveResult(setup, tuple(states), rise, hole, left, straight, vehicle.travel.window, _missing(vehicle))


def _missing(vehicle: Vehicle) -> tuple[str, ...]:
    valve, found = valve_of(vehicle), []
    if valve.law is None:
        found.append(
            "The knee and what the rear brakes still do cannot be told, the rise can: how the valve's pressure goes "
            f"with its arm is not on file. Type it under {typed_at('brake_valve.law')}."
        )
    if vehicle.brakes is None:
        found.append(f"The balance of the brakes cannot be told: type them under {typed_at('brakes')}.")
    if vehicle.mass is None:
        found.append(f"The loads of the axles cannot be told: type the masses under {typed_at('mass')}.")
    absent = [typed_at(table) for table in ("springs", "load_places") if not getattr(vehicle, table)]
    if absent:
        found.append(f"How the vehicle stands laden cannot be told: type {' and '.join(absent)}.")
    return tuple(found)


@lru_cache(maxsize=32)
def _state(vehicle: Vehicle, name: Name, setup: Setup, springing: Springing | None, laden: bool) -> State | None:
    put = springing or Springing()
    bare = setup.with_(valve_rise=0.0)
    sunk = laden_rise(vehicle, bare, springing)
    if laden and sunk is None:
        return None
    at = 1 if laden else 0
    poses = _poses(vehicle, bare, sunk)[at : at + 1]
    heave = float(poses.heave[0])
    found = arm(Build.of(vehicle, setup), poses)
    turn, reached = float(found.turn[0]) + 0.0, bool(found.reached[0])
    law = valve_of(vehicle).law
    if law is None:
        return State(name, laden, heave, turn, reached, None, None, None, None, None)
    knee = float(Valve(law.knee, law.per_deg * math.degrees(1.0), law.least, law.most, law.slope).knee_at(turn))
    loads = put.loads + (full_load(vehicle) if laden else ())
    standing = standing_of(vehicle, loads, setup.lift, -heave, put.front_rise)
    if vehicle.brakes is None or standing is None:
        return State(name, laden, heave, turn, reached, knee, None, None, None, None)
    front, rear = (brake_of(b, vehicle.axle.tyre_radius) for b in (vehicle.brakes.front, vehicle.brakes.rear))
    system = System(front, rear, knee, law.slope, standing)
    return State(name, laden, heave, turn, reached, knee, system, None, system.first_lock(DRY), system.first_lock(WET))


def _kept(built: State, state: State) -> float | None:
    """Return rear braking in a firm stop against as built; None where it cannot be told."""
    if built.system is None or state.system is None:
        return None
    before, now = float(built.system.share(FIRM)), float(state.system.share(FIRM))
    return now / before if before > 0 and math.isfinite(now / before) else None


def brake_of(brakes: AxleBrakes, tyre_radius: float) -> Brake:
    """Return the brakes of an axle as a force per pressure."""
    gain = disc_gain if brakes.kind == "disc" else drum_gain
    return Brake(gain(brakes.factor, brakes.cylinder, brakes.count, brakes.radius, tyre_radius), brakes.threshold)


def standing_of(
    vehicle: Vehicle, loads: Sequence[Load], lift: float, rear_rise: float, front_rise: float | None = None
) -> Standing | None:
    """Return the vehicle with its loads as it stands, or None where the file has no masses.

    Parameters
    ----------
    vehicle : Vehicle
    loads : sequence of Load
    lift, rear_rise : float
        Rise of the body at the rear before and after the load is in, mm.
    front_rise : float, optional
        Rise at the front axle; `lift` if not given. Load is taken not to lower the front.
    """
    mass = vehicle.mass
    if mass is None:
        return None
    front = lift if front_rise is None else front_rise
    base, share = mass.wheelbase, mass.rear_axle / mass.total
    total, moment, height = mass.total, mass.total * base * share, mass.total * mass.cg_height
    for m, x, z in placed_loads(vehicle, loads):
        total, moment, height = total + m, moment + m * (base - x), height + m * z
    behind = moment / total
    rise = centre_of_gravity_rise(front, rear_rise, behind / base)
    return Standing(total * GRAVITY, base, behind, height / total + rise)


def wear(result: ValveResult, name: Name, laden: bool = False) -> tuple[float, float] | None:
    """Return the pad-wear index of front and rear brakes against as built, or None where it cannot be told."""
    state, built = result.state(name, laden), result.state("as built", laden)
    if state is None or built is None or state.system is None or built.system is None:
        return None
    return pad_wear(state.system, built.system)
