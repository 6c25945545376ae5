"""The customer sheet: one page, before and after, in plain words."""

from __future__ import annotations

from collections.abc import Sequence

from linkviz.papers.flow import Flow
from linkviz.papers.order import Order
from linkviz.papers.pictures import picture_shapes
from linkviz.papers.scenes import rear
from linkviz.papers.shapes import Page, box
from linkviz.picture.shapes import Drawing
from linkviz.units import format_length

TITLE = "For the customer"
_MOST = 12
"""The letters become smaller until all of it is on one page, at most this often."""


def customer(order: Order) -> tuple[Page, ...]:
    """Return the customer sheet: one page."""
    size, height = 3.3, 72.0
    for _ in range(_MOST):
        # the picture takes its room whatever is on it, and is drawn once
        if len(_sheet(order, size, height, ())) == 1:
            break
        size, height = size - 0.08, height - 3.0
    return _sheet(order, size, height, _pictures(order))


def _pictures(order: Order) -> tuple[Drawing, ...]:
    setup = order.setup
    lifted = setup.without_parts()
    if not setup.corrected:
        return (rear(order, lifted, "Lifted"),)
    return rear(order, lifted, "Lifted, without the parts"), rear(order, setup, "With the parts")


def _sheet(order: Order, size: float, height: float, pictures: Sequence[Drawing]) -> tuple[Page, ...]:
    flow = Flow(order.heading, TITLE)
    setup, unit = order.setup, order.heading.unit
    lift = format_length(setup.lift, unit)
    flow.head(
        f"What the parts do on your vehicle, lifted {lift}" if setup.lift else "What the parts do on your vehicle"
    )
    shapes = picture_shapes(pictures, flow.room, height) if pictures else [box(0.0, 0.0, flow.room, height)]
    flow.figure(shapes, flow.room, height, "Your axle seen from behind, standing on the ground.")
    flow.section("What happens", 20.0)
    for sentence in order.findings.sentences:
        flow.text(_marked(sentence.icon) + sentence.text, size, indent=4.0, mark="\N{EN DASH}")
    does, does_not = _fixes(order)
    if does:
        flow.section("What this does", 14.0)
        flow.bullets(does, size)
    flow.section("What this does not do", 14.0)
    flow.bullets(does_not, size)
    flow.boxed("PLEASE READ", order.findings.cautions, size - 0.25)
    return flow.pages()


def _marked(icon: str) -> str:
    """Return a word for a sign, so that the sheet reads in black and white."""
    return {"hit": "PROBLEM: ", "warn": "MIND: "}.get(icon, "")


def _fixes(order: Order) -> tuple[list[str], list[str]]:
    h, setup = order.heading, order.setup
    does, does_not = [], []
    if setup.drop:
        does.append(
            f"The frame end of the lateral bar sits {format_length(setup.drop, h.unit)} lower, on the old bolt and a "
            "second one: the bar lies flatter again and swings the axle sideways less."
        )
    if setup.axle_raise:
        does.append(f"The axle end of the lateral bar sits {format_length(setup.axle_raise, h.unit)} higher.")
    if setup.bar_longer:
        does.append("The length of the bar is set so that the axle stands in the middle.")
    if setup.valve_rise:
        does.append(
            f"The rod of the brake valve sits {format_length(setup.valve_rise, h.unit)} higher, so that the valve "
            "reads the load nearer to what it did before. A licensed mechanic sets and tests it."
        )
    else:
        does_not.append("It does not set the load-sensing brake valve, where there is one: ask for it.")
    does_not += [
        "It does not bring the centre of gravity down again: a lifted vehicle rolls over more easily and stops "
        "differently.",
        "It does not turn the pinion or the trailing links back; dampers, hoses, cables and the driveshaft are a "
        "matter of their own.",
        "It does not make the lift legal, nor raise what the vehicle may carry or tow.",
    ]
    return does, does_not
