"""The lists on the shop drawing: what to cut, drill, bend, set up, weld, screw together, and what was looked at."""

from __future__ import annotations

import math

from linkviz.bracket.lengths import shortest_drops
from linkviz.bracket.materials import STEELS
from linkviz.papers.flow import Flow
from linkviz.papers.order import Kit, Order
from linkviz.papers.plate_views import DIAMETER
from linkviz.sheetmetal.checks import Check, bending_force, checks, die_opening

TORQUE_SOURCE = (
    "Torque: T = K F d with F 0.75 of the proof load (Shigley, ch. 8; proof loads SAE J429 and ISO 898-1), good to "
    "about a quarter either way. K 0.20 plain and dry, 0.15 plated or oiled: follow the maker of the bolts where he "
    "says otherwise. At a rubber bushing the vehicle maker's torque comes first, tightened at ride height."
)
WELD_CAUTION = (
    "Welds on a suspension part are for a qualified welder with a procedure for this steel and thickness. Grind off "
    "mill scale and zinc, tack in the jig with the bolts through, let it cool in still air, look at every weld with "
    "dye."
)


def cut_list(flow: Flow, order: Order) -> None:
    """Write the cut list with masses."""
    h = order.heading
    rows = []
    for plate in order.plates:
        x0, y0, x1, y1 = plate.blank.extent
        size = f"{h.exact(x1 - x0)} x {h.exact(y1 - y0)} x {h.exact(plate.thickness)}"
        rows.append((plate.name, str(plate.count), plate.steel.name, size, h.mass(plate.mass)))
    for piece in order.kit.pieces if order.kit else ():
        a, b, c = piece.size
        size = (
            f"{DIAMETER}{h.exact(a)} x {h.exact(b)} wall x {h.exact(c)}"
            if piece.tube
            else f"{h.exact(a)} x {h.exact(c)} x {h.exact(b)}"
        )
        rows.append((piece.name, str(piece.count), STEELS[piece.steel].name, size, h.mass(piece.mass)))
    rows.append(("all of it", "", "", "", h.mass(order.mass)))
    flow.section("Cut list")
    flow.table(("Part", "Off", "Steel", f"Size, {h.unit}", "Mass, each"), rows, (30, 8, 30, 42, 22))
    flow.text(
        "Plates are whole blanks with round corners: cut from the DXF. Mass: volume x 7850 kg/m3, holes taken out.", 2.6
    )


def holes(flow: Flow, order: Order) -> None:
    """Write where every hole is and which drill it takes."""
    h = order.heading
    flow.section("Holes and drills")
    rows = []
    for plate in order.plates:
        for nominal, flat in zip(plate.nominal, plate.holes, strict=True):
            rows.append(
                (
                    f"{plate.name}: {nominal.name}",
                    flat.drill or h.exact(flat.diameter),
                    f"{h.exact(nominal.x)}, {h.exact(nominal.y)}",
                    f"{h.exact(flat.x)}, {h.exact(flat.y)}",
                )
            )
    heads = ("Hole", "Drill", f"Finished x, y ({h.unit})", f"In the flat x, y ({h.unit})")
    flow.table(heads, rows, (40, 16, 30, 30))
    flow.text(
        "Clearance holes: ISO 273 medium, ASME B18.2.8 normal. Pilot 6 mm (1/4 in), then full size; deburr both sides.",
        2.6,
    )


def bending(flow: Flow, order: Order) -> None:
    """Write the order of bends and the force of the press."""
    h = order.heading
    bent = [plate for plate in order.plates if plate.bend_lines]
    if not bent:
        return
    flow.section("Bending, in this order")
    rows = []
    for plate in bent:
        die = die_opening(plate.thickness)
        force = bending_force(plate)
        for line in plate.bend_lines:
            way = "up" if line.up else "down"
            rows.append(
                (
                    plate.name,
                    str(line.number),
                    h.exact(line.y),
                    f"{math.degrees(line.angle):.1f}\N{DEGREE SIGN} {way}",
                    h.exact(line.inside),
                    h.length(die),
                    h.force(force),
                )
            )
    heads = ("Plate", "Bend", f"Line at, {h.unit}", "Angle, way", "Inside radius", "V die", "Press force")
    flow.table(heads, rows, (26, 9, 17, 21, 17, 18, 26))
    sources = sorted({bend.neutral.source for plate in bent for bend in plate.profile.bends})
    ks = sorted({f"{bend.neutral.k:.3f}" for plate in bent for bend in plate.profile.bends})
    flow.text(
        f"Neutral line: {', '.join(sources)}; k = {', '.join(ks)} of half the thickness (K = k/2 of the whole). Force: "
        "air bending, 1.42 Rm t2 L / V with the greatest strength the steel may have. Up is towards the reader, the "
        "outside. Bend a test strip first: springback is not in the figures.",
        2.6,
    )


def jig(flow: Flow, order: Order, kit: Kit) -> None:
    """Write what the welding jig is set to."""
    h, bracket, frame = order.heading, kit.bracket, kit.frame
    flow.section("Jig")
    rows = [("original bolt to anchor bolt", h.exact(bracket.anchor))]
    several = len(bracket.holes) > 1
    for number, drop in enumerate(bracket.holes, 1):
        rows.append((f"original bolt to bar hole{f' {number}' if several else ''}", h.exact(drop)))
    if bracket.shift:
        rows.append(("bar holes outboard of the line through the bolts (+)", h.exact(bracket.shift)))
    rows += [
        ("between the plates, at the original bolt", h.exact(bracket.inside_top(frame))),
        ("between the plates, at the bar", h.exact(bracket.inside_bottom(frame))),
        ("eye of the bar, length", h.exact(kit.bar.eye_width)),
    ]
    flow.table(("Set to", h.unit), rows, (80, 20))


def welds(flow: Flow, order: Order, kit: Kit) -> None:
    """Write the weld list."""
    h, bracket = order.heading, kit.bracket
    flow.section("Welds", 30.0)
    leg = h.length(bracket.weld_leg)
    rows = []
    if bracket.tube_welded:
        round_tube = math.pi * bracket.tube_outer
        rows.append(("spacer tube to both plates, all round", f"fillet {leg}", f"2 x {h.exact(round_tube)}"))
    if bracket.brace_length(bracket.longest):
        long = h.exact(bracket.brace_length(bracket.longest))
        rows.append(("brace strip to the outboard edge of each plate", f"fillet {leg}", f"2 x {long}"))
    if rows:
        flow.table(("Where", "Weld", f"Length, {h.unit}"), rows, (60, 25, 25))
    else:
        flow.text("None: plates, tubes and sleeves are bolted.")
    if not bracket.tube_welded:
        flow.text("Spacer tube and anchor sleeve lie loose inside the frame bracket; weld nothing to the vehicle.", 2.6)
    flow.text(WELD_CAUTION, 2.6)


def hardware(flow: Flow, order: Order, kit: Kit) -> None:
    """Write bolts with their grip and torque."""
    h = order.heading
    flow.section("Hardware", 40.0)
    rows = []
    for bolt in kit.bolts:
        clear = "clear of the shear planes" if bolt.threads_clear else "IN a shear plane: find a longer shank"
        if not bolt.tightens:
            clear += "; nut runs out of thread: add a washer"
        rows.append(
            (
                bolt.name,
                f"{bolt.bolt} grade {bolt.grade}",
                h.exact(bolt.grip),
                bolt.sold_as,
                f"{h.exact(bolt.shank)}, {clear}",
                f"{h.torque(bolt.torque_plain)} / {h.torque(bolt.torque_plated)}",
            )
        )
    heads = ("Bolt", "Size", f"Grip, {h.unit}", "Length", "Plain shank and thread", "Torque dry / plated")
    flow.table(heads, rows, (21, 27, 14, 14, 38, 30))
    flow.text("Each with two hardened washers (3 mm taken) and a new lock nut of its grade (1.1 d taken).", 2.6)
    flow.text(TORQUE_SOURCE, 2.6)


def looked_at(flow: Flow, order: Order) -> None:
    """Write the checks of the flat patterns and of the shortest drop."""
    h = order.heading
    flow.section("Bending and layout", 30.0)
    rows = []
    seen = []
    for plate in order.plates:
        found = checks(plate)
        figures = [(c.what, round(c.value, 6), c.limit) for c in found]
        if figures in seen:
            # the mirror image of one that is there already
            continue
        seen.append(figures)
        for c in found:
            rows.append((f"{plate.name}: {c.what}", *_held(c, order), c.source if c.passed else c.reason))
    if order.kit is not None:
        kit = order.kit
        first = kit.bracket.holes[0]
        for bound in shortest_drops(kit.bracket, kit.frame, kit.bar):
            good = "kept" if first >= bound.drop - 1e-6 else "NOT KEPT"
            rows.append(
                (
                    f"first bar hole, {bound.words}",
                    h.exact(first),
                    f"at least {h.exact(bound.drop)}",
                    good,
                    bound.formula,
                )
            )
    rows.sort(key=lambda row: row[3] != "NOT KEPT")
    flow.table(("What", "Is", "Held against", "Result", "Rule, or what to do"), rows, (42, 13, 23, 15, 52), 2.5)


def _held(check: Check, order: Order) -> tuple[str, str, str]:
    def shown(value: float) -> str:
        return order.heading.exact(value) if check.measure == "mm" else f"{value:.0f} kN"

    word = "at least" if check.at_least else "at most"
    return shown(check.value), f"{word} {shown(check.limit)}", "kept" if check.passed else "NOT KEPT"
