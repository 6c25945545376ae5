"""The paper of templates: every flat pattern at true size, and the guide for drilling the frame bracket."""

from __future__ import annotations

from linkviz.papers.heading import Heading
from linkviz.papers.order import Kit, Order
from linkviz.papers.plate_views import DIAMETER, View, flat_view
from linkviz.papers.shapes import CENTRE, DASHED, GREY, THIN, Circle, Page, Shape, Text, cross, line
from linkviz.papers.template import Sheet, template_pages
from linkviz.sheetmetal.clearance_holes import clearance_hole

TITLE = "Templates 1:1"


def templates(order: Order) -> tuple[Page, ...]:
    """Return the pages of all templates of an order."""
    sheets = [
        Sheet(
            f"{plate.name}, flat pattern, {plate.count} off",
            flat_view(plate, order.heading, 1.0, across=False),
            (
                f"{plate.steel.name}, {order.heading.length(plate.thickness)} thick. Seen from outside; centre lines "
                "across are bend lines."
                if plate.bend_lines
                else f"{plate.steel.name}, {order.heading.length(plate.thickness)} thick. Flat, no bends.",
            ),
        )
        for plate in order.plates
    ]
    if order.kit is not None:
        sheets.insert(0, drill_guide(order.kit, order.heading))
    return template_pages(sheets, order.heading, TITLE)


def drill_guide(kit: Kit, heading: Heading) -> Sheet:
    """Return the guide for the anchor hole: laid over the original bolt, its long line straight down."""
    bracket, frame = kit.bracket, kit.frame
    half, lip = frame.width / 2.0, frame.lip
    shapes: list[Shape] = [line((0.0, 22.0), (0.0, -lip - 14.0), CENTRE)]
    shapes += [line((x, 22.0), (x, -lip), DASHED) for x in (-half, half)]
    shapes += [line((-half, -lip), (half, -lip), DASHED)]
    shapes.append(Text((half - 1.0, -lip + 1.4), "lip of the frame bracket", 2.4, anchor="right", colour=GREY))
    for name, u, bolt in (
        ("original bolt", 0.0, bracket.bolt),
        ("anchor bolt: drill", bracket.anchor, bracket.anchor_bolt),
    ):
        hole = clearance_hole(bolt)
        shapes += [Circle((0.0, -u), hole.diameter / 2.0), *cross((0.0, -u), hole.diameter / 2.0 + 4.0)]
        drill = hole.drill if name.endswith("drill") else f"{DIAMETER}{heading.exact(hole.diameter)}"
        shapes.append(Text((half + 6.0, -u - 1.0), f"{name} {drill}", 3.0, True))
        shapes.append(line((hole.diameter / 2.0 + 5.0, -u), (half + 4.0, -u), THIN))
    for u in (0.0, bracket.anchor):
        shapes.append(line((-half - 12.0, -u), (-14.0, -u), THIN))
    shapes.append(line((-half - 9.0, 0.0), (-half - 9.0, -bracket.anchor), THIN))
    shapes.append(
        Text((-half - 10.5, -bracket.anchor / 2.0), heading.length(bracket.anchor), 3.0, True, "centre", 90.0)
    )
    notes = [
        "Cut out, put the upper hole on the original bolt, the long line straight down in the direction of the drop.",
        "Centre-punch, drill a 6 mm (1/4 in) pilot, then full size; through both plates of the frame bracket.",
    ]
    if kit.over:
        notes.append("THE BRACKET DOES NOT KEEP ITS CHECKS: see the shop drawing. Do not drill.")
    if kit.assumed:
        notes.append("SIZES TAKEN, NOT MEASURED: see the shop drawing. Measure the vehicle before drilling.")
    view = View(tuple(shapes), (-half - 16.0, -lip - 15.0, half + 52.0, 23.0))
    return Sheet("Guide for drilling the frame bracket", view, tuple(notes))
