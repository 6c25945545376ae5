"""The shop drawing: each plate bent, from its edge and flat, and every list that the shop works from."""

from __future__ import annotations

from linkviz.papers import shop_lists
from linkviz.papers.flow import Flow
from linkviz.papers.order import Order
from linkviz.papers.plate_views import View, bent_view, edge_view, fitting_scale, flat_view, scale_words
from linkviz.papers.shapes import Page, Shape, moved
from linkviz.sheetmetal.plate import Plate

TITLE = "Shop drawing"
_BETWEEN = 10.0


def drawing(order: Order) -> tuple[Page, ...]:
    """Return the pages of the shop drawing of an order."""
    flow = Flow(order.heading, TITLE)
    for number, plate in enumerate(order.plates):
        if number:
            flow.need(_height(order, plate))
            flow.space(6.0)
        _plate(flow, order, plate)
    if order.assumed:
        flow.boxed("TAKEN, NOT MEASURED. MEASURE BEFORE CUTTING.", order.assumed)
    shop_lists.cut_list(flow, order)
    shop_lists.holes(flow, order)
    shop_lists.bending(flow, order)
    if order.kit is not None:
        shop_lists.jig(flow, order, order.kit)
        shop_lists.welds(flow, order, order.kit)
        shop_lists.hardware(flow, order, order.kit)
    shop_lists.looked_at(flow, order)
    return flow.pages()


def _plate(flow: Flow, order: Order, plate: Plate) -> None:
    heading = order.heading
    flow.head(f"{plate.name[0].upper()}{plate.name[1:]}, {plate.count} off")
    _, low, _, high = plate.blank.extent
    long, wide = high - low, plate.blank.extent[2] - plate.blank.extent[0]
    bent = bool(plate.bend_lines)
    flow.text(
        f"{plate.steel.name}, {heading.length(plate.thickness)} thick, {heading.mass(plate.mass)} each. Heights are "
        f"from the "
        f"{'mounting holes' if not plate.down else 'original bolt'} (0). "
        + ("Seen from outside. General tolerance ISO 2768-c; holes from the origin ISO 2768-m.")
    )
    rows = 2 if bent else 1
    scale = fitting_scale(long, wide, (flow.left_over - 20.0) / rows - 34.0, flow.room / 2.6)
    views = [("Finished", bent_view(plate, heading, scale)), ("From its edge", edge_view(plate, heading, scale))]
    if not bent:
        views[0] = ("Cut and drilled", flat_view(plate, heading, scale))
    _row(flow, views, scale)
    if bent:
        _row(flow, [("Flat pattern: holes come right after bending", flat_view(plate, heading, scale))], scale)


def _height(order: Order, plate: Plate) -> float:
    """Return about how much height a plate takes at half its size, mm."""
    rows = 2 if plate.bend_lines else 1
    return 32.0 + rows * (flat_view(plate, order.heading, 0.5).height + 8.0)


def _row(flow: Flow, views: list[tuple[str, View]], scale: float) -> None:
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
