"""What a build does at many states: the pose and everything read off it, in one value."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from linkviz.analysis.build import Build, solid_of
from linkviz.analysis.tightness import shaft_margins, tightest
from linkviz.clearance.gap import Gap, gap
from linkviz.frozen import Frozen
from linkviz.linkage import measures
from linkviz.linkage.layout import Array
from linkviz.linkage.pose import Poses
from linkviz.linkage.solve import solve_all
from linkviz.vehicle.model import Envelope


class Tightest(NamedTuple):
    """The gap between shaft and envelopes that matters most, at each of n states.

    Attributes
    ----------
    envelope : ndarray of int, shape (n,)
        Index of the envelope; -1 with nothing to touch.
    gap : ndarray, shape (n,)
        The gap to it, mm; negative is depth; inf with nothing to touch.
    margin : ndarray, shape (n,)
        What was asked for at it, mm; 0 with nothing to touch.
    on_shaft, on_solid : ndarray, shape (n, 3)
        The points it is measured between, body frame, mm; zero with nothing to touch.
    """

    envelope: NDArray[np.intp]
    gap: Array
    margin: Array
    on_shaft: Array
    on_solid: Array


class Study(Frozen, eq=False, dict=True):
    """One build at n states; arrays have shape (n,) unless said. What is read off is worked out when first asked for.

    Attributes
    ----------
    build : Build
        What was studied.
    travel, roll : ndarray
        The states asked for: mm from the lifted rest (jounce +) and rad (left wheel up +).
    poses : Poses
        Where the axle stands. Where it cannot get it stands at the limit; `poses.heave` is where it stands.
    offset : float
        Axle centre at rest sideways from design, mm, left +.
    """

    build: Build
    travel: Array
    roll: Array
    poses: Poses
    offset: float

    def __len__(self) -> int:
        """Return the number of states."""
        return len(self.travel)

    def __getitem__(self, which: slice) -> Study:
        """Return some of the states; what is known of them goes along."""
        cut = Study(self.build, self.travel[which], self.roll[which], self.poses[which], self.offset)
        if "gaps" in self.__dict__:
            cut.__dict__["gaps"] = tuple(
                Gap(found.distance[which], found.on_shaft[which], found.on_solid[which]) for found in self.gaps
            )
        return cut

    @cached_property
    def sway(self) -> Array:
        """Return the axle centre sideways from this build's own rest, mm, left +."""
        return self.poses.y - self.offset

    @cached_property
    def bar_angle(self) -> Array:
        """Return the angle of the lateral bar, rad, frame end above axle end +."""
        return measures.bar_angle(self.build.layout, self.poses)

    @cached_property
    def pinion_angle(self) -> Array:
        """Return how far the pinion points up, rad."""
        return measures.pinion_angle(self.poses, np.radians(self.build.vehicle.axle.pinion_angle_deg))

    @cached_property
    def roll_centre(self) -> Array:
        """Return the height of the roll centre above the ground, mm."""
        return measures.roll_centre(self.build.layout, self.poses, self.build.vehicle.axle.tyre_radius)

    @cached_property
    def force(self) -> Array:
        """Return the force in each link, N, tension +, shape (n, 5), in the order of `linkviz.linkage.layout.LINKS`."""
        return measures.link_force(self.build.layout, self.poses)

    @cached_property
    def gaps(self) -> tuple[Gap, ...]:
        """Return the gaps between the shaft tube and each envelope, in the order of the file; () without a shaft."""
        return shaft_gaps(self.build, self.poses)

    @cached_property
    def gap(self) -> Array:
        """Return the smallest gap between the shaft tube and any envelope, mm; negative is depth; inf without any."""
        smallest: Array = _stacked(self.gaps).min(axis=0) if self.gaps else np.full(len(self), np.inf)
        return smallest

    @cached_property
    def tightest(self) -> Tightest:
        """Return the gap that matters most: the deepest contact, else the one with the least room to spare.

        Where margins differ that need not be the smallest gap. See `linkviz.analysis.tightness`.
        """
        return _tightest(shaft_margins(self.build.vehicle), self.gaps) if self.gaps else _nothing(len(self))

    @cached_property
    def spare(self) -> Array:
        """Return the least of gap minus margin over all envelopes, mm; inf with nothing to touch."""
        return least_spare(shaft_margins(self.build.vehicle), self.gaps) if self.gaps else np.full(len(self), np.inf)

    @property
    def reached(self) -> NDArray[np.bool_]:
        """Return whether the axle gets to each state."""
        return self.poses.reached

    @property
    def stopped_by(self) -> tuple[str, ...]:
        """Return, for each state, what stops the axle, or ""."""
        return self.poses.stopped_by


Request = tuple[Build, ArrayLike, ArrayLike]
"""A build, travels from rest (mm) and rolls (rad); the two are broadcast against each other."""


def study(build: Build, travel: ArrayLike, roll: ArrayLike = 0.0) -> Study:
    """Study one build.

    Parameters
    ----------
    build : Build
        What to study.
    travel : float or ndarray, shape (n,)
        Wheel travel from the lifted rest, mm, jounce +.
    roll : float or ndarray, shape (n,)
        Roll of the axle, rad, left wheel up +.

    Raises
    ------
    ValueError
        If a travel or a roll is not a finite number.
    """
    return study_all([(build, travel, roll)])[0]


def study_all(requests: Sequence[Request]) -> list[Study]:
    """Study several builds in one call of the solver; one `Study` per request."""
    states = []
    for build, travel, roll in requests:
        t, r = np.broadcast_arrays(np.atleast_1d(np.asarray(travel, float)), np.atleast_1d(np.asarray(roll, float)))
        states.append((build, t, r))
    # The rest of each build rides along as its last state.
    rides = [(build.layout, np.append(t, 0.0) - build.setup.lift, np.append(r, 0.0)) for build, t, r in states]
    return [
        Study(build, t, r, poses[:-1], float(poses.y[-1]))
        for (build, t, r), poses in zip(states, solve_all(rides), strict=True)
    ]


def shaft_ends(build: Build, poses: Poses) -> tuple[Array, Array]:
    """Return both ends of the shaft's axis at each state, shape (n, 3) each, body frame, mm.

    Raises
    ------
    ValueError
        If the vehicle has no driveshaft.
    """
    shaft = build.vehicle.driveshaft
    if shaft is None:
        raise ValueError("the vehicle has no driveshaft")
    centre = build.layout.centre
    pinion = poses.place(centre, np.array([shaft.pinion_joint]) - centre)[:, 0]
    front = np.broadcast_to(np.array(shaft.front_joint), pinion.shape)
    return front, pinion


def shaft_gaps(build: Build, poses: Poses) -> tuple[Gap, ...]:
    """Return the gaps between the shaft and each envelope at each pose; () with nothing to touch."""
    shaft = build.vehicle.driveshaft
    if shaft is None or not build.vehicle.envelopes:
        return ()
    return tube_gaps(build.vehicle.envelopes, *shaft_ends(build, poses), shaft.radius)


def tube_gaps(envelopes: Sequence[Envelope], front: Array, pinion: Array, radius: float) -> tuple[Gap, ...]:
    """Return the gaps to each envelope of shafts between ends of shape (n, 3), of a radius, mm."""
    return tuple(gap(solid_of(envelope), front, pinion, radius) for envelope in envelopes)


def least_spare(margins: Sequence[float], gaps: Sequence[Gap]) -> Array:
    """Return the least of gap minus margin over envelopes, of the margin of each and the gaps to it, shape (n,), mm."""
    least: Array = (_stacked(gaps) - np.array(margins)[:, None]).min(axis=0)
    return least


def _stacked(gaps: Sequence[Gap]) -> Array:
    """Return gaps as rows, shape (envelopes, n), mm."""
    return np.stack([found.distance for found in gaps])


def _tightest(margins: Sequence[float], gaps: Sequence[Gap]) -> Tightest:
    distances, wanted = _stacked(gaps), np.array(margins)
    which = tightest(distances, wanted[:, None])
    column = np.arange(len(which))
    on_shaft = np.stack([found.on_shaft for found in gaps])[which, column]
    on_solid = np.stack([found.on_solid for found in gaps])[which, column]
    return Tightest(which, distances[which, column], wanted[which], on_shaft, on_solid)


def _nothing(n: int) -> Tightest:
    return Tightest(np.full(n, -1), np.full(n, np.inf), np.zeros(n), np.zeros((n, 3)), np.zeros((n, 3)))
