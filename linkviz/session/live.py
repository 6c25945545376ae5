"""What belongs on the screen right now: solved, compared and put into words, and computed only when it changed."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from linkviz.analysis.build import Build
from linkviz.analysis.compare import Comparison, Name, compare, zones
from linkviz.analysis.findings import Findings, findings
from linkviz.analysis.goals import clear_drop, restore_drop
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import Study, study_all
from linkviz.clearance.zone import Zone
from linkviz.frozen import Frozen
from linkviz.picture.scene import Between, Scene
from linkviz.session.document import Document
from linkviz.session.session import Session
from linkviz.session.stock import Stock
from linkviz.session.view import Ghost
from linkviz.vehicle.model import Vehicle

if TYPE_CHECKING:
    from linkviz.analysis.bracket.stock import Proposal
    from linkviz.analysis.bracket.table import LoadCaseTable, RulesTable
    from linkviz.analysis.clearance.answers import Answers
    from linkviz.analysis.clearance.swept import Swept
    from linkviz.analysis.stance.brake_valve import ValveResult
    from linkviz.analysis.stance.springing import Springing


class Frame(Frozen, eq=False, dict=True):
    """One moment: the scene, the comparison it belongs to, and the words.

    Attributes
    ----------
    scene : Scene
    comparison : Comparison
    say : callable
        Puts the comparison into words.
    answers : Answers or None
        What clearance comes down to; of a moment ago while `stale`.
    """

    scene: Scene
    comparison: Comparison
    say: Callable[[], Findings]
    answers: Answers | None = None

    @cached_property
    def findings(self) -> Findings:
        """Return the words, found when somebody wants to read them: most pages show none."""
        return self.say()

    @property
    def stale(self) -> bool:
        """Return whether the zones are still those of an earlier document; they are shown dimmed."""
        return self.scene.stale


class Slow(Frozen, eq=False):
    """What takes too long for the thread that paints.

    `zones` of the envelopes, the smallest drop that clears, mm, what the stock has for it, what clearance of all
    pairs comes down to, what the brake valve does, and the drop that gives the bar its angle back, mm.
    """

    zones: tuple[Zone, ...]
    clear: float | None
    stock: Proposal | None = None
    answers: Answers | None = None
    valve: ValveResult | None = None
    restore: float | None = None


_NOTHING = Slow((), None)


class SlowKey(NamedTuple):
    """What slow work depends on: all of it goes into `slow_work`, and nothing else, so that notes do not restart it."""

    vehicle: Vehicle
    setup: Setup
    springing: Springing | None
    rules: RulesTable | None
    load_cases: tuple[LoadCaseTable, ...]
    stock: Path


def slow_work(document: Document, stock: Stock | None = None) -> Slow:
    """Compute what takes tens of milliseconds; safe in a thread of its own."""
    # neither all pairs, the brakes nor the strength of brackets are loaded at the start of the program
    from linkviz.analysis.clearance.answers import answers
    from linkviz.analysis.stance.brake_valve import brake_valve

    vehicle, lift = document.vehicle, document.setup.lift
    build = Build.of(vehicle, document.setup)
    found, known = zones(build), answers(build)
    valve = brake_valve(vehicle, document.setup, document.job.springing) if vehicle.brake_valve is not None else None
    if lift <= 0:
        return Slow(found, None, None, known, valve)
    clear, restore = clear_drop(vehicle, lift), restore_drop(vehicle, lift)
    catalogue = stock.there() if stock is not None else None
    if catalogue is None:
        return Slow(found, clear, None, known, valve, restore)
    from linkviz.analysis.bracket.stock import propose
    from linkviz.book.rules import rules_of

    return Slow(found, clear, propose(vehicle, lift, catalogue, rules_of(document.job)), known, valve, restore)


def swept_work(key: tuple[Document, str]) -> Swept | None:
    """Compute what a part sweeps; None if it is not there. Safe in a thread of its own."""
    from linkviz.analysis.clearance.swept import swept

    document, name = key
    try:
        return swept(Build.of(document.vehicle, document.setup), name)
    except KeyError:
        return None


class Live:
    """Frames of a session.

    Parameters
    ----------
    session : Session
        What is open; read at every call, never changed.
    """

    def __init__(self, session: Session) -> None:
        self._session = session
        self._words: tuple[Hashable, Findings] | None = None
        self._stood: tuple[Study, ...] = ()
        self._slow_for: SlowKey | None = None
        self._slow = _NOTHING
        self._swept: Swept | None = None

    # -- slow work

    @property
    def sweeps(self) -> str:
        """Return the part whose swept zone is drawn, or ""."""
        view = self._session.view
        return view.swept if view.page == "clearance" and not view.counter else ""

    def take_swept(self, swept: Swept | None) -> None:
        """Take an answer of `swept_work`."""
        self._swept = swept

    @property
    def slow_done(self) -> bool:
        """Return whether the slow part belongs to what is shown."""
        return self._slow_for == self.slow_key

    @property
    def slow_key(self) -> SlowKey:
        """Return what the slow part depends on."""
        document = self._session.shown
        job = document.job
        given = (job.springing, job.rules, job.load_cases, self._session.stock.path)
        return SlowKey(document.vehicle, document.setup, *given)

    def take(self, key: SlowKey, slow: Slow | None) -> None:
        """Take an answer of `slow_work` for a `slow_key`; None, if it failed, leaves the last one standing."""
        if slow is not None:
            self._slow_for, self._slow = key, slow

    # -- the frame

    def frame(self) -> Frame:
        """Return what is to be shown now."""
        document, view = self._session.shown, self._session.view
        vehicle, setup = document.vehicle, document.setup
        roll = float(np.radians(view.roll_deg))
        ghost_setup = _ghost_setup(setup, view.ghost)
        wanted = [setup] if ghost_setup is None else [setup, ghost_setup]
        studies = self._stand(vehicle, wanted, view.travel, roll)
        comparison = compare(vehicle, setup)
        fits = len(self._slow.zones) == len(vehicle.envelopes) and self._slow_for is not None
        swept = self._swept if self._swept is not None and self._swept.name == self.sweeps else None
        scene = Scene(
            live=studies[0],
            ghost=studies[1] if len(studies) > 1 else None,
            ghost_name=view.ghost if len(studies) > 1 else "",
            zones=self._slow.zones if fits else (),
            stale=not self.slow_done,
            between=self._between(studies[0]) if view.page == "clearance" and not view.counter else None,
            swept_rear=swept.rear if swept is not None else (),
            swept_side=swept.side if swept is not None else (),
            unit=view.unit,
            point=view.point,
            envelope=view.envelope,
            show_points=view.page == "vehicle" and not view.counter,
            large=view.counter or view.large,
        )
        return Frame(scene, comparison, self._words_for(comparison, document), self._slow.answers)

    def _stand(self, vehicle: Vehicle, setups: list[Setup], travel: float, roll: float) -> tuple[Study, ...]:
        """Return how each setup stands at one state; a ghost that stood so a moment ago is not studied again."""

        def known(setup: Setup) -> Study | None:
            for one in self._stood:
                if (one.build.vehicle is vehicle and one.build.setup == setup) and (
                    (float(one.travel[0]), float(one.roll[0])) == (travel, roll)
                ):
                    return one
            return None

        found = {setup: study for setup in setups if (study := known(setup)) is not None}
        new = [setup for setup in setups if setup not in found]
        if new:
            found |= zip(new, study_all([(Build.of(vehicle, setup), travel, roll) for setup in new]), strict=True)
        self._stood = tuple(found[setup] for setup in setups)
        return self._stood

    def _between(self, study: Study) -> Between | None:
        """Return the line between the two parts that come nearest over the window, as they stand now."""
        answers = self._slow.answers
        if answers is None or not answers.worst:
            return None
        pair = answers.worst[0].pair
        if pair.one == "driveshaft" and pair.other in {e.name for e in study.build.vehicle.envelopes}:
            return None  # that line is always there
        from linkviz.analysis.clearance.answers import pair_now
        from linkviz.analysis.telling import gap_words

        now = pair_now(study.build, pair, study.poses)
        if now is None:
            return None
        return Between(
            now.on_one, now.on_other, f"{pair.words} {gap_words(now.gap, self._session.view.unit)}", now.sign
        )

    def _words_for(self, comparison: Comparison, document: Document) -> Callable[[], Findings]:
        """Return what puts a comparison into words, with what is known now of the slow part."""
        slow, known = _NOTHING, self._slow_for
        if known is not None and known.vehicle is document.vehicle:
            slow = self._slow
        unit, lift = self._session.view.unit, None if known is None else known.setup.lift
        key = (*comparison.cases.values(), document.setup, unit, slow)

        def say() -> Findings:
            if self._words is None or self._words[0] != key:
                words = findings(
                    comparison,
                    unit,
                    slow.clear,
                    stock=slow.stock,
                    valve=slow.valve,
                    restore=slow.restore,
                    at_hand_for=lift,
                    later=True,
                )
                self._words = (key, words)
            return self._words[1]

        return say

    def live_name(self) -> Name:
        """Return which of the compared states is the one drawn."""
        setup = self._session.shown.setup
        if setup.corrected:
            return "corrected"
        return "lifted" if setup.lift > 0 else "as built"


def _ghost_setup(setup: Setup, ghost: Ghost) -> Setup | None:
    """Return the setup of the ghost, or None if there is nothing to compare with."""
    wanted = {"as built": Setup(), "lifted": setup.without_parts()}.get(ghost)
    return None if wanted == setup else wanted
