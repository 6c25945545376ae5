"""What the stock has for a vehicle and a lift, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from linkviz.analysis.telling import Sentence
from linkviz.units import Unit, format_angle, format_length

if TYPE_CHECKING:
    from linkviz.analysis.bracket.stock import Proposal, Tried


def proposed(stock: Proposal, unit: Unit) -> Sentence:
    """Return which part and hole fit, or that none does and why the nearest one does not."""
    best = stock.best
    if best is not None:
        return Sentence(f"From stock: {best.part.number}, {best.part.name}. {_hole(best, unit)}", "ok")
    if not stock.tried:
        return Sentence("From stock: the catalogue has no brackets.")
    nearest = stock.tried[0]
    return Sentence(f"From stock: nothing fits. The nearest, {nearest.part.number}: {nearest.reasons[0]}", "warn")


def others(stock: Proposal, unit: Unit) -> list[Sentence]:
    """Return a sentence for every other part of the catalogue, and what could not be looked at."""
    found = []
    for tried in stock.tried:
        if tried is stock.best:
            continue
        words = f"fits too. {_hole(tried, unit)}" if tried.fits else f"does not fit. {' '.join(tried.reasons)}"
        found.append(Sentence(f"{tried.part.number} {words}"))
    return [*found, *([Sentence(stock.unknown, "warn")] if stock.unknown else [])]


def _hole(tried: Tried, unit: Unit) -> str:
    hole, off = format_length(tried.hole or 0.0, unit), format_angle(abs(tried.off))
    return f"The hole at {hole} leaves the bar {off} from its angle as built."
