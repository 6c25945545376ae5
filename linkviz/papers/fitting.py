"""The fitting sheet: step by step, what goes where, what is drilled, what is tightened, what is looked at again."""

from __future__ import annotations

from linkviz.analysis.compare import Case
from linkviz.analysis.findings import centred, sideways
from linkviz.papers.assembly import assembly
from linkviz.papers.flow import Flow
from linkviz.papers.order import Kit, Order
from linkviz.papers.pictures import picture_shapes
from linkviz.papers.plate_views import SCALES, flat_view, scale_words
from linkviz.papers.scenes import rear
from linkviz.papers.shapes import Page
from linkviz.sheetmetal.clearance_holes import clearance_hole
from linkviz.units import format_length

TITLE = "Fitting sheet"
WITHIN = 5.0
"""How well the axle can be measured to stand where it should on a shop's floor, mm."""
SIZE = 2.9
"""Of the letters of steps, mm."""
CAUTIONS = (
    "Suspension, steering and brakes can kill. This work is for a qualified person; brake work is for a licensed "
    "mechanic and is road-tested before use.",
    "Work on level, hard ground. Chock the front wheels. Carry the body AND the axle on stands rated for the load; "
    "never trust a jack. Take the weight of the axle before a link or a damper comes off.",
    "Do not heat, bend or weld this part to make it fit. If it does not fit, stop and call the shop.",
    "Lift height, brake changes and load limits are subject to local law, inspection and the vehicle maker's limits.",
)
AFTER = (
    "Turn the wheel from lock to lock, and let the suspension up and down by jack: nothing may touch, no hose, cable "
    "or wire may pull tight at full droop.",
    "First drive slowly, on a quiet road. Listen, stop, and look underneath.",
    "Re-check the torque of every bolt after the first drive, after 50 to 100 km, and at every service.",
    "Have the axle's position, the wheel alignment and the headlights set; have the brakes tested.",
)


def fitting(order: Order) -> tuple[Page, ...]:
    """Return the pages of the fitting sheet."""
    flow = Flow(order.heading, TITLE)
    flow.head(f"How to fit the {_what(order)}")
    flow.warnings(order.over, order.assumed, "COMPARE WITH THE VEHICLE FIRST.")
    flow.boxed("BEFORE YOU BEGIN", CAUTIONS)
    if order.kit is not None:
        _where(flow, order, order.kit)
        flow.section("Steps", 10.0)
        for number, step in enumerate(_steps(order, order.kit), 1):
            flow.text(step, SIZE, indent=7.0, mark=f"{number}.")
    if order.valve is not None:
        _valve(flow, order)
    flow.boxed("AFTERWARDS", AFTER, SIZE)
    return flow.pages()


def _what(order: Order) -> str:
    parts = ["drop bracket of the lateral bar"] if order.kit else []
    parts += ["bracket of the brake valve"] if order.valve else []
    return " and the ".join(parts)


def _where(flow: Flow, order: Order, kit: Kit) -> None:
    width, height = flow.room, 62.0
    before = rear(order, order.setup.without_parts(), "Before")
    after = rear(order, order.setup, "After", "lifted")
    flow.figure(picture_shapes((before, after), width, height), width, height, "Seen from behind, at rest.")
    case = _fitted(order)
    angle = float(case.study.bar_angle[case.rest])
    hung = kit.bracket.holes[_hole_number(kit, order.setup.drop)]
    for scale in SCALES[1:]:
        view = assembly(kit, order.heading, scale, hung, angle)
        if view.width <= flow.room and view.height + 8.0 <= flow.left_over:
            break
    caption = f"The bracket in its place, inboard to the left, {scale_words(scale)}."
    flow.figure(view.at_origin(), view.width, view.height, caption)


def _steps(order: Order, kit: Kit) -> list[str]:
    h, bracket = order.heading, kit.bracket
    original, anchor, bar = kit.bolts
    anchor_drill = clearance_hole(anchor.bolt).drill
    drop = order.setup.drop
    hole = _hole_for(kit, drop)
    steps = [
        "Park on level ground. Note how high the body stands at each wheel, and where the bar's bolt sits. This "
        f"bracket is made for a lift of {format_length(order.setup.lift, h.unit)} and a drop of "
        f"{format_length(drop, h.unit)}.",
        "Chock the front wheels. Lift the vehicle and put stands under the frame and under the axle, the axle just "
        "carried.",
        f"Undo the frame end of the lateral bar ({original.bolt} original bolt). Keep the body from moving sideways "
        "with a strap or a bar before the bolt comes out. Swing the bar down.",
        "Clean the frame bracket. Look for cracks, thin rust and holes worn oval: a bracket that has any is not built "
        "upon.",
        "Put the drilling guide (templates, printed at 100 %, its bars measured) over the original hole, its line "
        f"straight down. Mark the anchor hole {h.length(bracket.anchor)} below the original one.",
        f"Centre-punch, drill a 6 mm (1/4 in) pilot, then {anchor_drill}, through both plates of the frame bracket. "
        "Look first for wires, hoses and the tank behind it. Deburr and paint the bare edges.",
        f"Set the bracket {'over' if bracket.fit == 'outside' else 'into'} the frame bracket. Put the spacer tube "
        f"where the bar's eye was, and a new {original.bolt} x {original.sold_as} bolt (grade {original.grade}) with "
        "two washers through the original hole. Nut finger-tight.",
        f"Put the sleeve inside the frame bracket at the new hole and the {anchor.bolt} x {anchor.sold_as} anchor bolt "
        "through. Both bolts must go in by hand: do not drive them.",
        f"Tighten original bolt and anchor bolt, in turns: {h.torque(original.torque_plain)} and "
        f"{h.torque(anchor.torque_plain)} dry, {h.torque(original.torque_plated)} and {h.torque(anchor.torque_plated)} "
        "plated or oiled.",
        f"Hang the bar in {hole}, with the sleeves beside its eye, on the {bar.bolt} x {bar.sold_as} bolt. Nut "
        "finger-tight.",
    ]
    if order.setup.bar_longer:
        longer = order.setup.bar_longer
        way = "longer" if longer > 0 else "shorter"
        steps.append(
            f"Set the bar {h.length(abs(longer))} {way} than it was; both threads must keep their full engagement."
        )
    steps += [
        "Let the vehicle down on its wheels and settle it. With the full weight on the springs tighten the bar's bolt "
        f"to the vehicle maker's torque, or else {h.torque(bar.torque_plain)} dry, {h.torque(bar.torque_plated)} "
        "plated or oiled.",
        _place(order, kit),
    ]
    return steps


def _place(order: Order, kit: Kit) -> str:
    """Return the step that looks where the axle stands once the parts are on."""
    if not kit.at(order.setup.drop):
        return "Measure, left against right, where the axle stands in the body, and write it down."
    case, unit = _fitted(order), order.heading.unit
    y = float(case.study.poses.y[case.rest])
    stands = "in the middle of the body" if centred(y, unit) else f"{sideways(y, unit)} of the middle of the body"
    return (
        f"Measure, left against right: the axle should stand {stands}, to within {format_length(WITHIN, unit)}. If it "
        "does not, find out what was measured wrong before anybody drives."
    )


def _fitted(order: Order) -> Case:
    """Return the vehicle with its parts on."""
    return order.comparison.cases.get("corrected") or order.comparison.cases["as built"]


def _hole_number(kit: Kit, drop: float) -> int:
    """Return which hole for the bar is nearest to a drop, counted from 0."""
    holes = kit.bracket.holes
    return min(range(len(holes)), key=lambda i: abs(holes[i] - drop))


def _hole_for(kit: Kit, drop: float) -> str:
    if len(kit.bracket.holes) == 1:
        return "the lower hole"
    return f"bar hole {_hole_number(kit, drop) + 1}, counted from above"


def _valve(flow: Flow, order: Order) -> None:
    h, plate = order.heading, order.valve
    assert plate is not None
    flow.section("Brake valve", 40.0)
    view = flat_view(plate, h, 0.2)
    flow.figure(view.at_origin(), view.width, view.height, f"The bracket of the valve's rod, {scale_words(0.2)}.")
    flow.text(
        "The load-sensing valve reads how far the axle hangs below the body. After a lift it believes the vehicle is "
        "empty and takes the rear brakes away. This bracket raises its rod end again."
    )
    flow.bullets(
        (
            "Unbolt the rod end from the axle. Bolt the plate to the old holes by its lower pair, the rod end to the "
            f"pair that rises by {', '.join(h.length(r) for r in order.rises)}.",
            "Never leave the rod hanging, tied up or bent. Move the valve's arm through its travel by hand: it must "
            "be free.",
            "Raised too far, the rear wheels lock first and the vehicle spins. A licensed mechanic checks the setting "
            "and road-tests the brakes before use.",
        )
    )
