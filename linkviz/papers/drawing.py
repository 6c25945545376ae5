"""The shop drawing: each plate bent, from its edge and flat, and every list that the shop works from."""

from __future__ import annotations

from linkviz.papers import shop_lists
from linkviz.papers.flow import Flow
from linkviz.papers.order import Order
from linkviz.papers.plate_views import SCALES, View, bent_view, edge_view, flat_view, scale_words
from linkviz.papers.shapes import Page, Shape, moved
from linkviz.papers.strength_list import strength
from linkviz.sheetmetal.plate import Plate

TITLE = "Shop drawing"
_BETWEEN = 10.0


def drawing(order: Order) -> tuple[Page, ...]:
    """Return the pages of the shop drawing of an order."""
    flow = Flow(order.heading, TITLE)
    for sentence in order.remarks:
        flow.text(sentence, bold=True)
    flow.warnings(order.over, order.assumed, "MEASURE BEFORE CUTTING.")
    for number, plate in enumerate(order.plates):
        if number:
            flow.space(6.0)
            flow.need(30.0 + sum(map(_high, _rows(order, plate, 0.5))))
        _plate(flow, order, plate)
    shop_lists.cut_list(flow, order)
    shop_lists.holes(flow, order)
    shop_lists.bending(flow, order)
    if order.kit is not None:
        shop_lists.jig(flow, order, order.kit)
        shop_lists.welds(flow, order, order.kit)
        shop_lists.hardware(flow, order, order.kit)
    shop_lists.looked_at(flow, order)
    if order.kit is not None:
        strength(flow, order, order.kit)
    return flow.pages()


def _plate(flow: Flow, order: Order, plate: Plate) -> None:
    heading = order.heading
    flow.head(f"{plate.name[0].upper()}{plate.name[1:]}, {plate.count} off")
    flow.text(
        f"{plate.steel.name}, {heading.length(plate.thickness)} thick, {heading.mass(plate.mass)} each. Heights are "
        f"from the {'mounting holes' if not plate.down else 'original bolt'} (0), below it without a sign. "
        + ("Seen from outside. General tolerance ISO 2768-c; holes from the origin ISO 2768-m.")
    )
    for scale in SCALES:
        rows = _rows(order, plate, scale)
        if max(map(_wide, rows)) <= flow.room and sum(map(_high, rows)) <= flow.left_over:
            break
    for row in rows:
        _row(flow, row, scale)


Row = list[tuple[str, View]]


def _rows(order: Order, plate: Plate, scale: float) -> list[Row]:
    """Return the views of a plate: bent, from its edge and flat, or flat and from its edge."""
    bent = bool(plate.bend_lines)
    # what the bent view gives across is not given twice
    flat = flat_view(plate, order.heading, scale, across=not bent)
    edge = edge_view(plate, order.heading, scale)
    if not bent:
        return [[("Cut and drilled", flat), ("From its edge", edge)]]
    return [
        [("Finished", bent_view(plate, order.heading, scale)), ("From its edge", edge)],
        [("Flat pattern: holes come right after bending", flat)],
    ]


def _wide(row: Row) -> float:
    return sum(view.width for _, view in row) + _BETWEEN * (len(row) - 1)


def _high(row: Row) -> float:
    """Return the height of a row with its caption, mm."""
    return max(v.extent[3] for _, v in row) - min(v.extent[1] for _, v in row) + 7.0


def _row(flow: Flow, views: Row, scale: float) -> None:
    """Set views side by side on one origin."""
    top = max(v.extent[3] for _, v in views)
    bottom = min(v.extent[1] for _, v in views)
    shapes: list[Shape] = []
    x = 0.0
    names = []
    for name, view in views:
        shapes += moved(view.shapes, x - view.extent[0], -bottom)
        x += view.width + _BETWEEN
        names.append(name)
    flow.figure(shapes, x - _BETWEEN, top - bottom, f"{' / '.join(names)}, {scale_words(scale)}")
