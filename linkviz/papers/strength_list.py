"""The strength of a drop bracket on the shop drawing: worst first, each with its formula, numbers and source."""

from __future__ import annotations

from linkviz.analysis.bracket.design import STRENGTH_CAUTION, cases_said
from linkviz.papers.flow import Flow
from linkviz.papers.order import Kit, Order
from linkviz.vehicle.described import typed_at


def strength(flow: Flow, order: Order, kit: Kit) -> None:
    """Write the checks of strength and of layout at the longest drop of the bracket."""
    bracket = kit.bracket
    flow.section("Strength", 40.0)
    if kit.cases:
        names = "; ".join(dict.fromkeys(case.name for case, _ in kit.cases))
        verdict = f"{len(kit.over)} NOT KEPT" if kit.over else "within the allowable of the sources named"
        flow.text(f"At a drop of {order.heading.length(bracket.longest)}, for {names}: {verdict}.", bold=True)
    else:
        flow.text(
            "Not looked at: the mass on the rear axle was not measured. Weigh the rear axle and type it under "
            f"{typed_at('mass')}: wheelbase, total, rear axle, height of the centre of gravity. Do not send the "
            "bracket before that.",
            bold=True,
        )
    rows = [
        (
            f"{check.utilisation:.2f} {check.verdict if check.passes else check.verdict.upper()}",
            check.said,
            f"{check.formula}: {check.numbers}",
            check.source,
        )
        for check in kit.checks
    ]
    flow.table(("Of the allowable", "What", "Formula and numbers", "Source"), rows, (19, 36, 55, 35), 2.3)
    for sentence in cases_said(kit.cases, bracket):
        flow.text(sentence, 2.6)
    if order.comparison.vehicle.frame_bracket is None:
        flow.text("The vehicle's own frame bracket was not measured and is not in the table.", 2.6, True)
    flow.text(f"{STRENGTH_CAUTION} Figures support a qualified person's judgement and replace nobody's.", 2.6)
