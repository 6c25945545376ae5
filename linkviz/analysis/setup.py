"""What has been done to a vehicle: the lift, and the parts put on."""

from __future__ import annotations

from linkviz.frozen import Frozen


class Setup(Frozen):
    """A lift and the brackets that go with it; all lengths in mm.

    Attributes
    ----------
    lift : float
        Rise of the body at rest, >= 0.
    drop : float
        Frame end of the lateral bar moved down.
    shift : float
        Frame end of the lateral bar moved outboard (+).
    bar_longer : float
        Lateral bar lengthened (+).
    axle_raise : float
        Axle end of the lateral bar moved up.
    valve_rise : float
        Rod of the load-sensing brake valve raised at the axle, by a bracket of its own.
    """

    lift: float = 0.0
    drop: float = 0.0
    shift: float = 0.0
    bar_longer: float = 0.0
    axle_raise: float = 0.0
    valve_rise: float = 0.0

    @property
    def corrected(self) -> bool:
        """Whether any part that corrects the bar is on; the brake valve is another matter."""
        return bool(self.drop or self.shift or self.bar_longer or self.axle_raise)

    def without_parts(self) -> Setup:
        """Return the same lift with no part on."""
        return Setup(lift=self.lift)

    def with_(self, **changes: float) -> Setup:
        """Return a copy with some values changed."""
        return self.replace(**changes)
