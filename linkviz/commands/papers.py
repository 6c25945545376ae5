"""`linkviz papers`: everything that leaves the shop, into a folder."""

from __future__ import annotations

import argparse
import datetime
from pathlib import Path

from linkviz.book.model import Whole
from linkviz.book.rules import rules_of
from linkviz.bracket.valve_plate import ValvePlate
from linkviz.commands.subject import subject, units
from linkviz.commands.values import BadValue, angle, items, length, number
from linkviz.errors import LinkvizError
from linkviz.letters import one_line
from linkviz.papers.files import AlreadyThere, write_papers
from linkviz.papers.heading import Heading
from linkviz.papers.order import USUAL_SPACING, Order, order, rises_of
from linkviz.papers.registry import Paper, papers_of
from linkviz.sheetmetal.neutral import Neutral


def command(options: argparse.Namespace) -> int:
    """Write the papers."""
    found = subject(options)
    only = tuple(name.strip() for text in options.only or () for name in text.split(",") if name.strip())
    papers = papers_of(only)
    made = _order(options, found)
    left_out = [(paper, why) for paper in papers if (why := paper.missing(made))]
    if left_out and (only or len(left_out) == len(papers)):
        raise LinkvizError("\n".join(_left_out(left_out)))
    try:
        written = write_papers(made, papers, Path(options.out), options.overwrite)
    except AlreadyThere as error:
        raise LinkvizError(f"{error} (--overwrite)") from None
    for path in written:
        print(f"wrote {path}")
    for line in _left_out(left_out):
        print(f"left out: {line}")
    for text in made.remarks:
        print(text)
    for text in made.over:
        print(f"NOT KEPT: {text}")
    for text in made.assumed:
        print(f"TAKEN, NOT MEASURED: {text}")
    return 0


def _left_out(papers: list[tuple[Paper, str]]) -> list[str]:
    """Return one line for each reason."""
    by_reason: dict[str, list[str]] = {}
    for paper, why in papers:
        by_reason.setdefault(why, []).append(paper.title)
    return [f"{', '.join(titles)}: {why}." for why, titles in by_reason.items()]


def _order(options: argparse.Namespace, found: Whole) -> Order:
    vehicle, setup = found.vehicle, found.setup
    unit = units(options, found)
    heading = Heading(
        job=one_line(options.job) if options.job is not None else found.job.number,
        date=one_line(options.date) if options.date is not None else datetime.date.today().isoformat(),
        customer=one_line(options.customer) if options.customer is not None else found.job.customer,
        vehicle=vehicle.name,
        unit=unit,
        paper=options.paper or ("letter" if unit == "in" else "a4"),
    )
    neutral = None if options.k is None else Neutral.of_shop(number("k", options.k, "0.78"))
    holes = _lengths("holes", options.holes) if options.holes is not None else ()
    bracket = found.job.bracket.bracket() if found.job.bracket else None
    if bracket is not None and holes:
        bracket, holes = bracket.with_holes(*holes), ()
    return order(vehicle, setup, heading, bracket, _valve(options, found), neutral, holes, rules_of(found.job).cases)


def _valve(options: argparse.Namespace, found: Whole) -> ValvePlate | None:
    """Return the valve bracket that was asked for, or None for one with usual holes."""
    asked = (options.valve_rises, options.valve_spacing, options.valve_bolt)
    lean = angle("valve-lean", options.valve_lean, 60.0)
    if all(value is None for value in asked) and not lean and found.job.valve_bracket is None:
        return None
    if options.valve_rises is not None:
        rises = _lengths("valve-rises", options.valve_rises)
    elif found.job.valve_bracket is not None:
        rises = rises_of(found.job)
    elif found.setup.valve_rise > 0:
        rises = (found.setup.valve_rise,)
    else:
        raise BadValue("--valve-rises: none given; expected how much higher the holes are, such as 38,51,76")
    spacing = USUAL_SPACING if options.valve_spacing is None else length("valve-spacing", options.valve_spacing)
    if not 0 < spacing <= 300:
        raise BadValue(f"--valve-spacing: found {options.valve_spacing}; expected a length above 0, at most 300 mm")
    measured = options.valve_spacing is not None and options.valve_bolt is not None
    return ValvePlate(spacing, rises, options.valve_bolt or "M8", lean=lean, assumed=not measured)


def _lengths(option: str, text: str) -> tuple[float, ...]:
    found = tuple(sorted(length(option, part) for part in items(option, text)))
    if found[0] <= 0:
        raise BadValue(f"--{option}: found {text}; expected lengths above 0")
    return found
