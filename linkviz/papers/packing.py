"""The packing list: what goes in the box, with a square to tick."""

from __future__ import annotations

from linkviz.papers.flow import TICK, Flow
from linkviz.papers.order import Order
from linkviz.papers.plate_views import DIAMETER
from linkviz.papers.shapes import Page, Text, line

TITLE = "Packing list"


def packing(order: Order) -> tuple[Page, ...]:
    """Return the pages of the packing list."""
    h = order.heading
    flow = Flow(h, TITLE)
    flow.head("Packing list")
    rows: list[tuple[str, str, str, str]] = []

    def add(count: int, what: str, detail: str) -> None:
        rows.append((TICK, str(count), what, detail))

    kit = order.kit
    if kit is not None:
        drops = ", ".join(h.length(drop) for drop in kit.bracket.holes)
        add(1, "drop bracket, lateral bar", f"bar hole at {drops}; plates {h.length(kit.bracket.thickness)}")
        for piece in kit.pieces:
            if piece.tube:
                across, _, long = piece.size
                add(piece.count, piece.name, f"{DIAMETER}{h.exact(across)} x {h.length(long)}")
        for bolt in kit.bolts:
            add(1, f"bolt, {bolt.name}", f"{bolt.bolt} x {bolt.sold_as}, grade {bolt.grade}")
        sizes: dict[str, int] = {}
        for bolt in kit.bolts:
            key = f"{bolt.bolt}, grade {bolt.grade}"
            sizes[key] = sizes.get(key, 0) + 1
        for key, count in sizes.items():
            add(count, "lock nut", key)
            add(2 * count, "hardened washer", key.split(",")[0])
    if order.valve is not None:
        add(1, "bracket, brake valve", f"rise {', '.join(h.length(r) for r in order.rises)}")
        add(
            2, "bolt, nut and two washers, brake valve", f"as the old ones, longer by {h.length(order.valve.thickness)}"
        )
    for what, detail in (
        ("templates 1:1", "printed at 100 %, bars measured"),
        ("fitting sheet", ""),
        ("customer sheet", ""),
    ):
        add(1, what, detail)
    flow.space(1.0)
    flow.table(("Packed", "Number", "What", "Which"), rows, (12, 12, 46, 60), 3.0)
    flow.text(f"Steel parts together {h.mass(order.mass)}, bolts not counted.")
    flow.text(
        "The strip and what is welded is part of the bracket. Nothing in this box replaces a part of the brakes.", 2.8
    )
    for sentence in order.remarks:
        flow.text(sentence, bold=True)
    flow.warnings(order.over, order.assumed, "")
    flow.space(14.0)
    flow.need(12.0)
    for index, name in enumerate(("packed by", "date")):
        x = flow.left + index * 90.0
        flow.add(line((x, flow.y), (x + 70.0, flow.y)), Text((x, flow.y - 4.0), name, 2.6))
    return flow.pages()
