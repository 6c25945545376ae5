"""Every paper there is, in the order of the work: the page and the command go through this list."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final

from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen
from linkviz.papers.customer import customer
from linkviz.papers.drawing import drawing
from linkviz.papers.dxf import dxf
from linkviz.papers.fitting import fitting
from linkviz.papers.order import Order
from linkviz.papers.packing import packing
from linkviz.papers.pdf import pdf
from linkviz.papers.shapes import Page
from linkviz.papers.templates import templates

NO_PARTS: Final = (
    "nothing is made: there is neither a drop of the bar's frame end nor a rise of the brake valve's rod. Give one, "
    "such as a drop of 90 mm"
)


class File(Frozen):
    """A file to write."""

    name: str
    data: bytes


class Paper(Frozen):
    """One paper.

    Attributes
    ----------
    name : str
        For the command line; never changed.
    title : str
        For people.
    text : str
        What it is, in a few words.
    stem : str
        Beginning of its file name.
    pages : callable or None
        From an order to its pages; None for the cutting files, which are not printed.
    needs_parts : bool
        Whether it is only made where a part is.
    """

    name: str
    title: str
    text: str
    stem: str
    pages: Callable[[Order], tuple[Page, ...]] | None
    needs_parts: bool = True

    def missing(self, order: Order) -> str:
        """Return why this paper cannot be made of an order; "" if it can."""
        return NO_PARTS if self.needs_parts and not order.plates else ""

    def files(self, order: Order) -> tuple[File, ...]:
        """Return the files of this paper.

        Raises
        ------
        LinkvizError
            If it cannot be made of this order.
        """
        if why := self.missing(order):
            raise LinkvizError(f"{self.title}: {why}.")
        if self.pages is None:
            return _cutting(self, order)
        heading = order.heading
        subject = ", ".join(t for t in (heading.vehicle, heading.job, heading.customer) if t)
        return (File(f"{_start(order)}{self.stem}.pdf", pdf(self.pages(order), f"Linkviz: {self.title}", subject)),)


def _cutting(paper: Paper, order: Order) -> tuple[File, ...]:
    heading = order.heading
    notes = [f"Job {heading.job}, {heading.date}".strip(", ")] if heading.job else []
    notes += [f"TAKEN, NOT MEASURED: {text}" for text in order.assumed]
    notes += [f"NOT KEPT: {text}" for text in order.over]
    return tuple(
        File(f"{_start(order)}{paper.stem}-{_plain(plate.name)}.dxf", dxf(plate, heading.unit, tuple(notes)))
        for plate in order.plates
    )


def _start(order: Order) -> str:
    job = _plain(order.heading.job)
    return f"{job}-" if job else ""


def _plain(text: str) -> str:
    """Return a text as part of a file name: small letters, figures and dashes."""
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")[:40]


PAPERS: Final = (
    Paper("template", "Templates 1:1", "true size, to mark and drill by", "templates", templates),
    Paper("cut", "Cutting files", "DXF for the laser or plasma cutter", "cut", None),
    Paper("drawing", "Shop drawing", "dimensions, cut list, bends, jig, welds, hardware", "shop-drawing", drawing),
    Paper("fitting", "Fitting sheet", "step by step, for whoever fits it", "fitting-sheet", fitting),
    Paper("customer", "Customer sheet", "one page in plain words", "customer-sheet", customer, needs_parts=False),
    Paper("packing", "Packing list", "what goes in the box", "packing-list", packing),
)
"""All papers."""
NAMES: Final = tuple(paper.name for paper in PAPERS)


def papers_of(names: tuple[str, ...] = ()) -> tuple[Paper, ...]:
    """Return papers by name, in the order of `PAPERS`; all of them if none is named.

    Raises
    ------
    LinkvizError
        If there is no paper of a name.
    """
    for name in names:
        if name not in NAMES:
            raise LinkvizError(f"There is no paper {name!r}. Choose from {', '.join(NAMES)}.")
    return tuple(paper for paper in PAPERS if not names or paper.name in names)
