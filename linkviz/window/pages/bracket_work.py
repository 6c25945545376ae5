"""What the Bracket page asks for and gets: a design and what the stock has for it, off the painting thread."""

from __future__ import annotations

from pathlib import Path

from linkviz.analysis.bracket.design import Design, design
from linkviz.analysis.bracket.stock import Proposal, propose
from linkviz.analysis.limits import LinkLimits
from linkviz.book.rules import rules_of
from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen
from linkviz.session.document import Document
from linkviz.session.stock import Stock
from linkviz.units import Unit


class Wanted(Frozen):
    """What a design is asked for."""

    document: Document
    unit: Unit
    stock: Stock
    catalogue: Path
    links: LinkLimits

    @property
    def key(self) -> tuple[object, ...]:
        """Return what makes it another question."""
        return (self.document.setup.replace(valve_rise=0.0), *self.rest)

    @property
    def rest(self) -> tuple[object, ...]:
        """Return all of that but the setup."""
        job = self.document.job
        given = (job.bracket, job.load_cases, job.rules, self.links)
        return (self.document.vehicle, *given, self.unit, self.catalogue)


class Answer(Frozen, eq=False):
    """A design, what it was asked for, and what the stock has; `trouble` says why the catalogue cannot be read."""

    wanted: Wanted
    design: Design
    stock: Proposal | None = None
    name: str = ""
    trouble: str = ""


def work(wanted: Wanted) -> Answer:
    """Design, and look through the stock; off the painting thread."""
    document, unit = wanted.document, wanted.unit
    job, vehicle, setup = document.job, document.vehicle, document.setup
    rules = rules_of(job, wanted.links)
    own = job.bracket.bracket() if job.bracket is not None else None
    found = design(vehicle, setup, own, rules, unit)
    try:
        catalogue = wanted.stock.catalogue()
        return Answer(wanted, found, propose(vehicle, setup.lift, catalogue, rules, unit), catalogue.name)
    except LinkvizError as error:
        return Answer(wanted, found, trouble=str(error))
