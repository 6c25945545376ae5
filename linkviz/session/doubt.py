"""What is known of the measuring error of what is open: an answer, whether it is stale, how far the next one is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from linkviz.frozen import Frozen
from linkviz.session.document import Document

if TYPE_CHECKING:
    from collections.abc import Callable

    from linkviz.analysis.doubt.uncertainty import Uncertainty

STAGES = (300, 2000)
"""Trials of each stage: a first answer within a second or two, then the one that stays."""


class Doubt(Frozen, eq=False):
    """The measuring error at one moment.

    Attributes
    ----------
    found : Uncertainty or None
        The last answer; it stays until there is another.
    stale : bool
        Whether it belongs to an earlier document; it is then shown dimmed and said so.
    share : float or None
        Share of the present work that is done, 0 to 1; None while nothing runs.
    on : bool
        Whether it is worked out at all.
    """

    found: Uncertainty | None = None
    stale: bool = False
    share: float | None = None
    on: bool = True


UNKNOWN = Doubt()
"""Nothing known yet."""


def work_out(
    document: Document, report: Callable[[float], None], cancelled: Callable[[], bool]
) -> Iterator[Uncertainty]:
    """Yield the measuring error of a document, coarse first; for a thread, see `linkviz.analysis.doubt.apart`."""
    from linkviz.analysis.doubt import apart

    return apart.work_out(document.vehicle, document.setup, STAGES, report, cancelled)
