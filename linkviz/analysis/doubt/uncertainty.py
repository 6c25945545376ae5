"""How far the results may be off because the points were measured with a tape: JCGM 101 through the full solve.

Every trial is a whole vehicle drawn around the measured one (`linkviz.analysis.doubt.measured`), solved over the travel
window as
built, lifted and with parts on; the same trials serve all three, so that what they have in common stays in common.
Intervals are the probabilistically symmetric ones: 2.5 % of the trials lie below, 2.5 % above, so that the low end of a
gap is one that 39 in 40 such vehicles keep. With 2,000 trials the ends are good to some 3 % of the interval's half
width (JCGM 101, 7.2.2, asks for 200,000 where two digits are wanted).

A gap's interval tells only of the points of links and driveshaft; what was drawn is taken as it stands.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import numpy as np

from linkviz.analysis.clearance.sure_drop import SureDrop
from linkviz.analysis.compare import Case, Name, compare
from linkviz.analysis.doubt.drawn_case import CURVES, DrawnCase
from linkviz.analysis.doubt.measured import Drawn, coordinates, drawn, inputs
from linkviz.analysis.doubt.propagate import draws, shares, summary, symmetric
from linkviz.analysis.goals import restore_drop
from linkviz.analysis.quantities import BY_KEY, Unit
from linkviz.analysis.setup import Setup
from linkviz.frozen import Frozen
from linkviz.linkage.batch import bar_angle, solve_batch
from linkviz.linkage.layout import Array
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.points import words

TRIALS = 2000
"""Usual number of trials."""
FEWEST = 100
"""Fewer trials would tell nothing of an interval's ends."""
SEED = 20260101
_PORTION = 50
"""Trials between two looks at `cancelled`."""

AT_REST = (
    "bar_angle",
    "offset",
    "pinion_angle",
    "wheelbase_change",
    "roll_centre",
    "front_joint_angle",
    "pinion_joint_angle",
)
"""Curves whose value at rest is a result of its own."""
_OTHERS: dict[str, tuple[str, Unit]] = {
    "swing": ("Sideways swing over the travel", "mm"),
    "worst_gap": ("Tightest shaft gap over travel and roll", "mm"),
    "restore_drop": ("Drop that restores the bar's angle", "mm"),
}


class Cause(Frozen):
    """A measured point and the share of a result's variance that is its doing, 0 to 1 (`propagate.shares`)."""

    point: str
    share: float
    u: float
    """How far the point may be off in each coordinate, mm."""

    @property
    def words(self) -> str:
        """Return the point in plain words."""
        return words(self.point)


class Estimate(Frozen):
    """A result with what the measuring leaves open.

    Attributes
    ----------
    key, label : str
        Its name for programs and for people.
    unit : {"mm", "deg"}
        Unit of every number here.
    value : float
        From the points as measured: what screens show.
    mean, u : float
        Mean and standard uncertainty.
    low, high : float
        Ends of the 95 % interval.
    causes : tuple of Cause
        The points that matter, most first; only those with a share of 1 % or more.
    explained : float
        Share of the variance that all points account for one by one; where it is low the ranking is only a hint.
    """

    key: str
    label: str
    unit: Unit
    value: float
    mean: float
    u: float
    low: float
    high: float
    causes: tuple[Cause, ...]
    explained: float


class Band(Frozen, eq=False):
    """A curve with its 95 % interval at each travel, shape (n,) each, in the unit of its quantity."""

    value: Array
    low: Array
    high: Array


class CaseUncertainty(Frozen, eq=False):
    """One state.

    Attributes
    ----------
    travel : ndarray, shape (n,)
        mm from rest.
    results : mapping of str to Estimate
        Those of `AT_REST` that the file tells, "swing", and "worst_gap" with something to touch.
    bands : mapping of str to Band
        Curves at no roll, keyed as `linkviz.analysis.quantities.QUANTITIES`.
    reached : float
        Share of the trials in which the axle gets through the whole window.
    margin : float
        Asked for at the envelope "worst_gap" is the gap to, mm; 0 with nothing to touch.
    """

    travel: Array
    results: Mapping[str, Estimate]
    bands: Mapping[str, Band]
    reached: float
    margin: float = 0.0


class Uncertainty(Frozen, eq=False):
    """What the measuring leaves open about one vehicle under one setup.

    Attributes
    ----------
    cases : mapping of str to CaseUncertainty
        As in `linkviz.analysis.compare.compare`.
    restore : Estimate or None
        The drop that gives the bar its angle back at this lift; None if no drop does.
    sure : SureDrop or None
        The drop that clears with 95 % confidence (`linkviz.analysis.clearance.sure_drop`), where it was worked out too.
    """

    vehicle: Vehicle
    setup: Setup
    trials: int
    seed: int
    cases: Mapping[Name, CaseUncertainty]
    restore: Estimate | None
    sure: SureDrop | None = None

    def measure_again(self, keys: tuple[str, ...] = ()) -> tuple[str, tuple[Cause, ...]]:
        """Return what is least sure about the last state, as (label of the result, points most to blame).

        The first of some results that is open; if none are named the gap if there is something to touch, else the
        offset at rest, or the swing if there is no offset.
        """
        results = list(self.cases.values())[-1].results
        for key in keys or ("worst_gap", "offset", "swing"):
            if key in results and results[key].causes:
                return results[key].label, results[key].causes
        return "", ()


@dataclass(eq=False)
class _Kept:
    """What is kept of the trials of one state."""

    case: DrawnCase
    values: dict[str, list[Array]] = field(default_factory=dict)
    reached: int = 0

    def take(self, some: Drawn) -> None:
        found, reached = self.case.look(some)
        for key, array in found.items():
            self.values.setdefault(key, []).append(array)
        self.reached += int(reached.sum())


def run(
    vehicle: Vehicle,
    setup: Setup,
    trials: int = TRIALS,
    seed: int = SEED,
    progress: Callable[[float], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Uncertainty | None:
    """Propagate what the measuring leaves open to the results. Takes seconds: not for the thread that paints.

    Parameters
    ----------
    vehicle : Vehicle
        With how far its points may be off in `vehicle.measuring`.
    setup : Setup
        Taken as exact.
    trials : int
        How many vehicles are drawn, at least `FEWEST`.
    seed : int
        The same seed gives the same figures.
    progress : callable, optional
        Called with the share done, from 0 to 1, never falling; from the thread that runs this.
    cancelled : callable, optional
        Asked several times a second.

    Returns
    -------
    Uncertainty or None
        None if it was cancelled.

    Raises
    ------
    ValueError
        If there are too few trials.
    """
    if trials < FEWEST:
        raise ValueError(f"there must be at least {FEWEST} trials")
    rows = draws(inputs(vehicle), trials, seed)
    everyone = drawn(vehicle, rows)
    comparison = compare(vehicle, setup)
    keys = tuple(key for key in CURVES if not BY_KEY[key].missing(vehicle))
    kept = {name: _Kept(DrawnCase(case, keys)) for name, case in comparison.cases.items()}
    for start in range(0, trials, _PORTION):
        for one in kept.values():
            if cancelled is not None and cancelled():
                return None
            one.take(everyone[start : start + _PORTION])
        if progress is not None:
            progress(min(start + _PORTION, trials) / (trials + _PORTION))
    blame = _Blame(vehicle, rows)
    cases: dict[Name, CaseUncertainty] = {}
    for name, case in comparison.cases.items():
        if cancelled is not None and cancelled():
            return None
        cases[name] = _case(case, kept[name], blame)
    restore = _restore(vehicle, setup, everyone, blame)
    if progress is not None:
        progress(1.0)
    return Uncertainty(vehicle, setup, trials, seed, cases, restore)


def _case(case: Case, kept: _Kept, blame: _Blame) -> CaseUncertainty:
    values = {key: np.concatenate(arrays) for key, arrays in kept.values.items()}
    curves = {key: array for key, array in values.items() if array.ndim == 2}
    measured = {key: BY_KEY[key].of(case.study) for key in curves}
    bands = {key: Band(measured[key], *symmetric(array)) for key, array in curves.items()}
    single = {key: (curves[key][:, case.rest], measured[key][case.rest]) for key in AT_REST if key in curves}
    single["swing"] = (np.ptp(curves["offset"], axis=1), case.swing)
    if case.worst is not None:
        single["worst_gap"] = (values["worst_gap"], case.worst.gap)
    results = {key: blame.estimate(key, float(value), array) for key, (array, value) in single.items()}
    margin = 0.0 if case.worst is None else case.worst.margin
    return CaseUncertainty(case.study.travel, results, bands, kept.reached / len(blame.rows), margin)


class _Blame(Frozen, eq=False):
    """The draws, and whose coordinates they are."""

    vehicle: Vehicle
    rows: Array

    def estimate(self, key: str, value: float, values: Array) -> Estimate:
        found = summary(values)
        share, explained = shares(self.rows, values)
        points: dict[str, tuple[float, float]] = {}
        for c, part in zip(coordinates(self.vehicle), share, strict=True):
            points[c.point] = (points.get(c.point, (0.0, 0.0))[0] + float(part), c.u)
        causes = [Cause(point, part, u) for point, (part, u) in points.items() if part >= 0.01]
        causes.sort(key=lambda cause: -cause.share)
        label, unit = _OTHERS[key] if key in _OTHERS else (f"{BY_KEY[key].label} at rest", BY_KEY[key].unit)
        return Estimate(key, label, unit, value, found.mean, found.u, found.low, found.high, tuple(causes), explained)


def _restore(vehicle: Vehicle, setup: Setup, everyone: Drawn, blame: _Blame) -> Estimate | None:
    """Find the restoring drop of every drawn vehicle, by the secant method on all at once."""
    usual = restore_drop(vehicle, setup.lift)
    if usual is None:
        return None
    bare = everyone.batch
    wanted = bar_angle(bare, solve_batch(bare, 0.0))[:, 0]

    def off(drop: Array) -> Array:
        batch = bare.with_bar(drop)
        return bar_angle(batch, solve_batch(batch, -setup.lift))[:, 0] - wanted

    before, drop = np.full(len(bare), usual), np.full(len(bare), usual + 1.0)
    off_before = off(before)
    for _ in range(4):
        off_now = off(drop)
        slope = np.where(drop == before, np.inf, (off_now - off_before) / np.where(drop == before, 1.0, drop - before))
        step = np.where(slope == 0, 0.0, off_now / np.where(slope == 0, 1.0, slope))
        before, off_before, drop = drop, off_now, drop - np.clip(step, -50.0, 50.0)
    return blame.estimate("restore_drop", usual, drop)
