"""The document: everything an edit can change and an undo brings back."""

from __future__ import annotations

from dataclasses import dataclass, replace

from linkviz.job.setup import Setup
from linkviz.vehicle.model import Vehicle

LIFT_RANGE = (0.0, 200.0)
"""Ride height the controls offer, mm above design."""
DROP_RANGE = (0.0, 250.0)
"""Bracket drop the controls offer, mm."""
DEMO_LIFT = 100.0
"""Lift a vehicle is shown with where nobody has chosen one, mm."""

AS_BUILT = Setup()
"""No lift, no parts."""


@dataclass(frozen=True)
class Document:
    """A vehicle with what has been done to it.

    Attributes
    ----------
    vehicle : Vehicle
        What was measured.
    setup : Setup
        Lift and brackets, mm.
    path : str or None
        The file it came from; None for a demo or a new vehicle.
    """

    vehicle: Vehicle
    setup: Setup = AS_BUILT
    path: str | None = None

    @property
    def window(self) -> tuple[float, float]:
        """Return the travel window as (rebound, jounce) from the present rest, mm; the first is negative."""
        return self.vehicle.travel.window

    def with_vehicle(self, vehicle: Vehicle) -> Document:
        """Return a copy with another vehicle."""
        return replace(self, vehicle=vehicle)

    def with_setup(self, **changes: float) -> Document:
        """Return a copy with some setup values changed, held inside what the controls offer."""
        if "lift" in changes:
            changes["lift"] = min(max(changes["lift"], LIFT_RANGE[0]), LIFT_RANGE[1])
        if "drop" in changes:
            changes["drop"] = min(max(changes["drop"], DROP_RANGE[0]), DROP_RANGE[1])
        return replace(self, setup=self.setup.with_(**changes))
