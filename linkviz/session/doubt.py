"""What is known of the measuring error of what is open: an answer, whether it is stale, how far the next one is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from linkviz.session.document import Document

if TYPE_CHECKING:
    from collections.abc import Callable

    from linkviz.job.uncertainty import Uncertainty

STAGES = (300, 2000)
"""Trials of each stage: a first answer within a second or two, then the one that stays."""


@dataclass(frozen=True, eq=False)
class Doubt:
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
    """Yield the measuring error of a document, coarse first; safe in a thread of its own.

    Parameters
    ----------
    document : Document
        What is shown.
    report : callable
        Told the share of all stages that is done, 0 to 1.
    cancelled : callable
        Asked several times a second.
    """
    from linkviz.job.sure_drop import sure_drop
    from linkviz.job.uncertainty import run

    done, last = 0, None
    for trials in STAGES:

        def tell(share: float, done: int = done, trials: int = trials) -> None:
            report((done + share * trials) / sum(STAGES))

        found = run(document.vehicle, document.setup, trials, progress=tell, cancelled=cancelled)
        if found is None:
            return
        yield found
        done, last = done + trials, found
    if last is not None and document.setup.lift > 0:
        sure = sure_drop(document.vehicle, document.setup.lift, cancelled=cancelled)
        if sure is not None and not cancelled():
            yield replace(last, sure=sure)
