"""Many builds of nearly one mechanism at the same states, in one call.

Meant for points that are off by some millimetres: every build is seeded by the pose of the one they lie around,
carried over to first order with that one's derivatives, then solved like any other state. Builds and states
are carried side by side in numpy; there is no loop over builds, only one over portions that fit the cache.

*Validity*: every build stays on the branch of the middle one. Close to the end of travel, some tens of mm from the dead
point, where bushings would have to take up many joules and the energy has several least places, a build solved by
itself may be told to stand at another.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from linkviz.frozen import Frozen, names_of
from linkviz.linkage import equations
from linkviz.linkage.closed_form import SEARCH, Trailing, bar_side, side_view_numbers, trailing
from linkviz.linkage.energy import Bools, Indices, Problem, curvature, minimise, newton_step, stretch
from linkviz.linkage.layout import BAR, Array, Layout
from linkviz.linkage.pose import rotation
from linkviz.linkage.solve import TOLERANCE, on_branch, solve
from linkviz.linkage.tape import CHUNK

_CARRIES = 2
"""Steps with the derivatives of the middle build before Newton's method takes over."""
_PORTION = 8 * CHUNK
"""States of builds that are made ready at a time."""
_LOOKS = 161
_HALVINGS = 50


class Batch(Frozen, eq=False):
    """Builds that lie around one layout.

    Attributes
    ----------
    middle : Layout
        What they lie around; it seeds them. All have its stiffness.
    centre : ndarray, shape (b, 3)
        Axle centres at design, mm.
    frame, axle : ndarray, shape (b, 5, 3)
        Frame ends, mm, and axle ends relative to the axle centre, mm.
    length : ndarray, shape (b, 5)
        Free lengths, mm.
    """

    middle: Layout
    centre: Array
    frame: Array
    axle: Array
    length: Array

    @classmethod
    def from_points(cls, middle: Layout, centre: Array, frame: Array, axle: Array) -> Batch:
        """Make builds of measured points: a link is as long as its two points are apart at design height.

        Parameters
        ----------
        middle : Layout
            The layout of the best estimates of the points.
        centre : ndarray, shape (b, 3)
        frame, axle : ndarray, shape (b, 5, 3)
            All in the body frame, mm.
        """
        return cls(middle, centre, frame, axle - centre[:, None], np.linalg.norm(axle - frame, axis=-1))

    def __len__(self) -> int:
        """Return the number of builds."""
        return len(self.centre)

    def __getitem__(self, which: slice | Indices) -> Batch:
        """Return some of the builds."""
        return Batch(self.middle, self.centre[which], self.frame[which], self.axle[which], self.length[which])

    def layout(self, i: int) -> Layout:
        """Return one build by itself."""
        return Layout(self.centre[i], self.frame[i], self.axle[i], self.length[i], self.middle.stiffness)

    def with_bar(
        self, drop: ArrayLike = 0.0, shift: float = 0.0, longer: float = 0.0, axle_raise: float = 0.0
    ) -> Batch:
        """Put brackets on every build, as `Layout.with_bar`; the bar keeps the length it had, and `longer`.

        `drop` may be one for all or one for each build, shape (b,), mm.
        """
        drops = np.broadcast_to(np.asarray(drop, dtype=float), len(self))
        frame, axle, length = self.frame.copy(), self.axle.copy(), self.length.copy()
        # the side is that of the middle build: a point near the centre plane does not change it by being off
        outboard = 1.0 if self.middle.frame[BAR, 1] >= 0 else -1.0
        frame[:, BAR, 1] += outboard * shift
        frame[:, BAR, 2] -= drops
        axle[:, BAR, 2] += axle_raise
        length[:, BAR] += longer
        middle = self.middle.with_bar(float(drops.mean()) if len(drops) else 0.0, shift, longer, axle_raise)
        return self.replace(middle=middle, frame=frame, axle=axle, length=length)

    def problem(self, heave: Array, roll: Array) -> Problem:
        """Return the states side by side, builds one after the other; `heave` and `roll` have shape (b, n), mm, rad."""
        n = heave.shape[1]
        g = self.centre[:, None] - self.frame
        columns = [v[:, :, i] for v in (self.axle, g) for i in range(3)]
        geometry = tuple(np.repeat(c.T, n, axis=1) for c in columns)
        return Problem(
            geometry, np.repeat(self.length.T, n, axis=1), self.middle.stiffness[:, None], heave.ravel(), roll.ravel()
        )


class BatchPoses(Frozen, eq=False):
    """Poses of b builds at n states; every attribute has shape (b, n) unless said. Signs as in `Poses`.

    Attributes
    ----------
    heave, roll : ndarray
        Where the axles stand, mm and rad: as asked, or at the limit of travel of that build.
    x, y : ndarray
        mm.
    pitch, yaw : ndarray
        rad.
    stretch : ndarray, shape (b, n, 5)
        mm.
    reached : ndarray of bool
    """

    heave: Array
    roll: Array
    x: Array
    y: Array
    pitch: Array
    yaw: Array
    stretch: Array
    reached: Bools

    def at(self, states: slice) -> BatchPoses:
        """Return all builds at some of the states."""
        return BatchPoses(*(getattr(self, name)[:, states] for name in names_of(type(self))))

    def rotation(self) -> Array:
        """Return Rz(yaw) Ry(pitch) Rx(roll), shape (b, n, 3, 3)."""
        return rotation(self.roll, self.pitch, self.yaw)

    def place(self, centre: Array, points: Array) -> Array:
        """Put one point per build, fixed to its axle, into the body frame.

        Parameters
        ----------
        centre, points : ndarray, shape (b, 3)
            Axle centres at design, and the points relative to them, mm.

        Returns
        -------
        ndarray, shape (b, n, 3)
            mm.
        """
        shift = np.stack([self.x, self.y, self.heave], axis=-1) + centre[:, None]
        placed: Array = np.einsum("bnij,bj->bni", self.rotation(), points) + shift
        return placed


def solve_batch(batch: Batch, heave: ArrayLike, roll: ArrayLike = 0.0) -> BatchPoses:
    """Find the poses of all builds at the same states.

    Parameters
    ----------
    batch : Batch
        The builds, brackets on.
    heave, roll : float or ndarray, shape (n,)
        mm and rad, as `linkviz.linkage.solve.solve`; broadcast against each other.

    Returns
    -------
    BatchPoses
        Never a NaN: where a build does not get to a state it stands at its limit and `reached` is false.

    Raises
    ------
    ValueError
        If a heave or a roll is not a finite number.
    """
    h, r = np.broadcast_arrays(np.atleast_1d(np.asarray(heave, float)), np.atleast_1d(np.asarray(roll, float)))
    if not (np.isfinite(h).all() and np.isfinite(r).all()):
        raise ValueError("heave and roll must be finite numbers")
    low, high = limits(batch, float(h.min(initial=0.0)), float(h.max(initial=0.0)))
    near, carry = _middle(batch.middle, h, r)
    step = max(1, _PORTION // max(1, len(h)))
    parts = [
        _solved(batch[i : i + step], h, r, (low[i : i + step], high[i : i + step]), near, carry)
        for i in range(0, len(batch), step)
    ]
    if not parts:
        none = np.zeros((0, len(h)))
        return BatchPoses(none, none, none, none, none, none, np.zeros((0, len(h), 5)), none.astype(bool))
    return BatchPoses(*(np.concatenate(columns) for columns in zip(*parts, strict=True)))


def _middle(middle: Layout, heave: Array, roll: Array) -> tuple[Array, Array]:
    """Return the poses (4, n) of the middle build, and how they go with the stretch of each link, (4, 5, n)."""
    poses = solve(middle, heave, roll)
    near = np.stack([poses.x, poses.y, poses.pitch, poses.yaw])
    p = Problem.of(middle, poses.heave, poses.roll)
    first, hessian, _ = curvature(p, near)
    carry = np.zeros((4, 5, len(heave)))
    for i in range(5):
        pull = tuple(np.broadcast_to(middle.stiffness[i] * first[j][i], heave.shape) for j in range(4))
        step, positive = newton_step(pull, hessian)
        carry[:, i] = np.where(positive & poses.reached, step, 0.0)
    return near, carry


def _solved(
    batch: Batch, heave: Array, roll: Array, ends: tuple[Array, Array], near: Array, carry: Array
) -> tuple[Array | Bools, ...]:
    b, n = len(batch), len(heave)
    held = np.clip(heave, ends[0][:, None], ends[1][:, None])
    rolls = np.broadcast_to(roll, (b, n))
    p = batch.problem(held, rolls)
    seed = np.repeat(near[:, None], b, axis=1)
    for _ in range(_CARRIES):
        e = stretch(p, seed.reshape(4, -1)).reshape(5, b, n)
        seed = seed + np.einsum("ijn,jbn->ibn", carry, e)
    seed = seed.reshape(4, -1)
    q, found = minimise(p, seed)
    sound = np.isfinite(q).all(axis=0)
    q = np.where(sound, q, seed)
    e = stretch(p, q)
    ax, ay, az, gx, gy, gz = (column[BAR] for column in p.geometry)
    across, radicand = equations.rear_view(q[0], p.heave, q[2], p.roll, ax, ay, az, gx, gy, gz, p.length[BAR])
    branch = on_branch((q[1] + across) * bar_side(batch.middle), q, seed)
    good = found & sound & branch & (radicand >= 0)
    reached = good.reshape(b, n) & (np.abs(held - heave) <= TOLERANCE)
    x, y, pitch, yaw = q.reshape(4, b, n)
    return held, rolls, x, y, pitch, yaw, np.moveaxis(e.reshape(5, b, n), 0, -1), reached


def bar_angle(batch: Batch, poses: BatchPoses) -> Array:
    """Return the inclination of every lateral bar in rear view, shape (b, n), rad; + with the frame end higher."""
    along = batch.frame[:, None, BAR] - poses.place(batch.centre, batch.axle[:, BAR])
    angle: Array = np.arctan2(along[..., 2], np.abs(along[..., 1]))
    return angle


def sideways_per_roll(batch: Batch, poses: BatchPoses) -> Array:
    """Return dy/dphi at fixed height, shape (b, n), mm/rad: the roll centre's height above the axle centre.

    By the implicit function theorem, as `linkviz.linkage.measures.motion_per_roll`.
    """
    b, n = poses.heave.shape
    step = max(1, CHUNK // max(1, n))
    rate = np.zeros((b, n))
    for i in range(0, b, step):
        part = slice(i, i + step)
        q = np.stack([getattr(poses, name)[part].ravel() for name in ("x", "y", "pitch", "yaw")])
        _, hessian, mixed = curvature(batch[part].problem(poses.heave[part], poses.roll[part]), q)
        rate[part] = newton_step(mixed, hessian)[0][1].reshape(-1, n)
    return rate


def limits(batch: Batch, low: float, high: float) -> tuple[Array, Array]:
    """Return how low and how high the trailing links of each build let it go, as far as it matters.

    Parameters
    ----------
    batch : Batch
        The builds.
    low, high : float
        Lowest and highest heave that is asked for, mm.

    Returns
    -------
    lowest, highest : ndarray, shape (b,)
        mm; infinite for a build that gets to `low` or to `high`. The side-view linkage of each build is
        followed exactly, as `linkviz.linkage.closed_form.trailing` does for one.
    """
    links = trailing(batch.middle)
    count = len(batch)
    if links.low == links.high:  # nothing to follow: all are held at design
        return np.zeros(count), np.zeros(count)
    side = _Side.of(batch)
    return side.end(low, -1.0), side.end(high, 1.0)


class _Side(Frozen, eq=False):
    """Side-view linkages: arguments of `equations.side_view` after alpha and branch, (b,) each; angles at design."""

    links: Trailing
    numbers: tuple[Array, ...]
    design: Array
    sign: float

    @classmethod
    def of(cls, batch: Batch) -> _Side:
        numbers, design = side_view_numbers(batch.frame[:, :BAR], batch.axle[:, :BAR], batch.centre)
        links = trailing(batch.middle)
        sign = 1.0 if links.alpha[-1] > links.alpha[0] else -1.0
        return cls(links, numbers, design, sign)

    def view(self, alpha: Array, which: Indices) -> tuple[Array, Array, Bools]:
        """Return height, its rate, and whether the linkage works there, for some builds."""
        numbers = [v[which].reshape(-1, *([1] * (alpha.ndim - 1))) for v in self.numbers]
        with np.errstate(all="ignore"):
            height, _, _, _, rate = equations.side_view(alpha, self.links.branch, *numbers)
            return height, rate, np.isfinite(height) & (rate * self.sign > 0)

    def end(self, asked: float, way: float) -> Array:
        """Return the end of travel one way, (b,), mm; infinite where the build gets to `asked`."""
        everyone = np.arange(len(self.design))
        start = float(
            np.interp(asked, self.links.heave, self.links.alpha) - np.interp(0.0, self.links.heave, self.links.alpha)
        )
        alpha = self.design + start
        for _ in range(6):
            height, rate, _ = self.view(alpha, everyone)
            with np.errstate(all="ignore"):
                alpha = alpha - np.clip((height - asked) / rate, -0.1, 0.1)
        height, _, works = self.view(alpha, everyone)
        # the same turn on the way there: one that works there has come there without a dead point
        short = np.flatnonzero(~(works & (np.abs(height - asked) < 1e-6)))
        result = np.full(len(self.design), way * np.inf)
        if len(short):
            result[short] = self._followed(short, way * self.sign)
        return result

    def _followed(self, which: Indices, way: float) -> Array:
        """Follow the lower links from design until the linkage stops working; return the heights there."""
        design = self.design[which, None]
        turns = way * np.linspace(0.0, SEARCH, _LOOKS)
        bad = ~self.view(design + turns, which)[2]
        first = np.where(bad.any(axis=1), bad.argmax(axis=1), _LOOKS - 1)
        inside, outside = turns[np.maximum(first - 1, 0)], turns[first]
        inside = np.where(bad.any(axis=1), inside, turns[-1])
        for _ in range(_HALVINGS):
            middle = (inside + outside) / 2
            works = self.view(self.design[which] + middle, which)[2]
            inside, outside = np.where(works, middle, inside), np.where(works, outside, middle)
        height = self.view(self.design[which] + inside, which)[0]
        return np.where(np.isfinite(height) & (first > 0), height, 0.0)
