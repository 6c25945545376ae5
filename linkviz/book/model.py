"""A job: a customer's vehicle with what is done to it and all that is known about the work.

Another input of a job is one field of `Job` here: file, undo, autosave and comparison follow the class. A field that
is a table is an optional `Part` with its lengths marked `Length`; its sense is checked in `linkviz.book.problems`.
"""

from __future__ import annotations

from typing import Literal

from linkviz.analysis.bracket.table import BracketTable, LoadCaseTable, RulesTable
from linkviz.analysis.photo import Photo
from linkviz.analysis.setup import Setup
from linkviz.analysis.stance.springing import Springing
from linkviz.analysis.stance.valve_bracket import ValveBracket
from linkviz.frozen import Frozen, names_of, values_of
from linkviz.units import Unit
from linkviz.vehicle.model import Length, Vehicle
from linkviz.vehicle.part import Part

FORMAT = "linkviz-job/1"
"""The format this program writes."""
SUFFIX = ".job.toml"

STATUSES = ("asked", "designed", "cut", "welded", "packed", "sent")
"""Words for how far a job is; a shop may write its own."""


class SetupTable(Part):
    """A `linkviz.analysis.setup.Setup` as a table of the file."""

    lift: Length = 0.0
    drop: Length = 0.0
    shift: Length = 0.0
    bar_longer: Length = 0.0
    axle_raise: Length = 0.0
    valve_rise: Length = 0.0

    @classmethod
    def of(cls, setup: Setup) -> SetupTable:
        """Return the table of a setup."""
        return cls(**values_of(setup))

    def setup(self) -> Setup:
        """Return the setup of the table."""
        return Setup(**{name: getattr(self, name) for name in names_of(Setup)})


class State(SetupTable):
    """A setup that is kept under a name, to be compared with others."""

    name: str


class Printed(Part):
    """Papers that were made of the job."""

    when: str
    """Date and time (ISO 8601)."""
    papers: tuple[str, ...] = ()
    """Their names."""


class Job(Part):
    """All of a job but the vehicle and what is done to it."""

    format: Literal["linkviz-job/1"] = "linkviz-job/1"
    number: str = ""
    name: str = ""
    """What it is about, in a few words."""
    customer: str = ""
    contact: str = ""
    """How to reach the customer."""
    status: str = STATUSES[0]
    opened: str = ""
    """Day the job began (ISO 8601)."""
    units: Literal["mm", "in"] = "mm"
    """Unit of the lengths in the file outside the vehicle, which says its own; mm here all the same."""
    notes: str = ""
    springing: Springing | None = None
    """Spacer, other springs and what is always carried."""
    valve_bracket: ValveBracket | None = None
    """Holes of the bracket that raises the brake valve's rod."""
    bracket: BracketTable | None = None
    """The drop bracket that is made; one is proposed without it."""
    load_cases: tuple[LoadCaseTable, ...] = ()
    """What the bracket is looked at for; the usual cases without any."""
    rules: RulesTable | None = None
    """What else it is designed by; the usual rules without it."""
    states: tuple[State, ...] = ()
    """Setups kept for comparison."""
    printed: tuple[Printed, ...] = ()
    """Papers made, oldest first."""
    photos: tuple[Photo, ...] = ()
    """Photos behind the drawings, at most one per view; the files stay where they are."""


NO_JOB = Job()
"""Nothing but a vehicle is open."""


class Whole(Frozen):
    """Everything a job file holds.

    Attributes
    ----------
    job : Job
        All but the two below.
    setup : Setup
        Lift and parts, mm.
    vehicle : Vehicle
        The vehicle, embedded, so that the job opens when the shop's own file of it has long changed.
    """

    job: Job
    setup: Setup
    vehicle: Vehicle

    @property
    def units(self) -> Unit:
        """Return the units its file says at the top: the job's own, or the vehicle's where there is only a vehicle."""
        return self.vehicle.units if self.job is NO_JOB else self.job.units
