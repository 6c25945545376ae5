"""The document: everything an edit can change and an undo brings back."""

from __future__ import annotations

from linkviz.analysis.photo import Photo, ViewName
from linkviz.analysis.setup import Setup
from linkviz.book.form import Form, form_of_name
from linkviz.book.model import NO_JOB, Job, Whole
from linkviz.frozen import Frozen
from linkviz.vehicle.model import Vehicle

LIFT_RANGE = (0.0, 200.0)
"""Ride height the controls offer, mm above design."""
DROP_RANGE = (0.0, 250.0)
"""Bracket drop the controls offer, mm."""
DEMO_LIFT = 100.0
"""Lift a vehicle is shown with where nobody has chosen one, mm."""

AS_BUILT = Setup()
"""No lift, no parts."""


class Document(Frozen):
    """A vehicle with what has been done to it, and the job it belongs to.

    Attributes
    ----------
    vehicle : Vehicle
        What was measured.
    setup : Setup
        Lift and brackets, mm.
    path : str or None
        The file it came from; None for a demo, a new vehicle or a new job.
    job : Job
        All else that belongs to the job; `NO_JOB` while only a vehicle is looked at.
    form : str or None
        What its file was when it was read or written, or what it was begun as; None where that is not known: its name
        says then.
    """

    vehicle: Vehicle
    setup: Setup = AS_BUILT
    path: str | None = None
    job: Job = NO_JOB
    form: Form | None = None

    @classmethod
    def of(cls, whole: Whole, path: str | None = None, form: Form | None = None) -> Document:
        """Return the document of a job."""
        return cls(whole.vehicle, whole.setup, path, whole.job, form)

    @property
    def whole(self) -> Whole:
        """Return what a job file of it holds."""
        return Whole(self.job, self.setup, self.vehicle)

    @property
    def is_job(self) -> bool:
        """Return whether it is a job, and not only a vehicle that is looked at."""
        if self.path is None:
            return self.form == "job" or self.job != NO_JOB
        return (self.form or form_of_name(self.path)) == "job"

    def form_in(self, path: str) -> Form:
        """Return what it is saved as to a file: its own as what that is, another as its name says, else as it is."""
        named = None if path == self.path else form_of_name(path)
        return named or ("job" if self.is_job else "vehicle")

    def kept_in(self, path: str | None, form: Form | None = None) -> Document:
        """Return a copy that lies in another file, or in none."""
        return self.replace(path=path, form=form)

    @property
    def title(self) -> str:
        """Return what to call it: number, name or customer of the job, else the vehicle."""
        job = self.job
        return " ".join(filter(None, (job.number, job.name or job.customer))) or self.vehicle.name

    @property
    def window(self) -> tuple[float, float]:
        """Return the travel window as (rebound, jounce) from the present rest, mm; the first is negative."""
        return self.vehicle.travel.window

    def same(self, other: Document) -> bool:
        """Return whether it says the same, wherever the two are kept."""
        return (self.vehicle, self.setup, self.job) == (other.vehicle, other.setup, other.job)

    def with_vehicle(self, vehicle: Vehicle) -> Document:
        """Return a copy with another vehicle."""
        return self.replace(vehicle=vehicle)

    def with_job(self, **changes: object) -> Document:
        """Return a copy with some fields of the job changed.

        Raises
        ------
        Unfit
            If a value is not of the field's type.
        """
        return self.replace(job=self.job.replace(**changes))

    def photo(self, view: ViewName) -> Photo | None:
        """Return the photo behind one of the drawings, or None."""
        return next((photo for photo in self.job.photos if photo.view == view), None)

    def with_photo(self, view: ViewName, photo: Photo | None) -> Document:
        """Return a copy with another photo behind one of the drawings, or none."""
        kept = tuple(other for other in self.job.photos if other.view != view)
        return self.with_job(photos=kept if photo is None else (*kept, photo))

    def with_setup(self, **changes: float) -> Document:
        """Return a copy with some setup values changed, held inside what the controls offer."""
        if "lift" in changes:
            changes["lift"] = min(max(changes["lift"], LIFT_RANGE[0]), LIFT_RANGE[1])
        if "drop" in changes:
            changes["drop"] = min(max(changes["drop"], DROP_RANGE[0]), DROP_RANGE[1])
        return self.replace(setup=self.setup.with_(**changes))
