from __future__ import annotations

import re
from collections.abc import Sequence

import pytest

from linkviz.bracket.loads import CASES, bar_force, loads
from linkviz.bracket.parts import DropBracket, FrameBracket
from linkviz.bracket.strength import Cases, distance_checks, longest_drop, strength_checks, worst_of_each

FRAME = FrameBracket(inside_width=46.0, thickness=5.0, lip=62.0, width=80.0, steel="S355")
BRACKET = DropBracket("one", (100.0,), brace_start=55.0)


def cases(drop: float, bracket: DropBracket = BRACKET, mass: float = 900.0) -> Cases:
    return [
        (
            case,
            loads(bar_force(case.lateral_g, mass, 0.1), 0.1, drop, bracket.anchor, bracket.shift, case.fore_aft),
        )
        for case in CASES
    ]


def at(drops: Sequence[float]) -> list[Cases]:
    return [cases(drop) for drop in drops]


def test_checks_come_worst_first_and_each_tells_all() -> None:
    checks = strength_checks(BRACKET, FRAME, cases(100.0))
    used = [check.utilisation for check in checks]
    assert used == sorted(used, reverse=True)
    for check in checks:
        assert check.formula and check.numbers and check.source and check.words
        assert "safe" not in f"{check.words} {check.verdict} {check.formula}".lower()
    where = {check.where for check in checks}
    assert where == {"bracket", "frame bracket", "bolt", "weld"}
    kept = worst_of_each(checks)
    assert len({check.key for check in kept}) == len(kept) < len(checks)
    assert kept[0] is checks[0]


BASE = {"kN m": 1e6, "kN": 1e3, "N/mm": 1.0, "mm3": 1.0, "mm2": 1.0, "mm": 1.0, "MPa": 1.0, "N": 1.0, "": 1.0}
UNIT = re.compile(r"(?<=[\d)]) (kN m|kN|N/mm|mm3|mm2|mm|MPa|N)(?![\w/])")


def worked(words: str) -> float:
    """Return what numbers on paper come to in N and mm: "2.4 x 12 mm x 10 mm x 470 MPa / 2.00"."""
    sum_ = UNIT.sub(lambda unit: f" * {BASE[unit[1]]}", words).replace(" x ", " * ")
    assert re.fullmatch(r"[\d. e*/+()-]+", sum_), words
    return float(eval(sum_))  # figures and signs alone


@pytest.mark.parametrize(("fit", "shift"), [("inside", 10.0), ("outside", -10.0), ("outside", 0.0)])
def test_the_numbers_on_paper_come_to_what_is_judged(fit: str, shift: float) -> None:
    """Worked again from the text a person would follow, units and all, to the rounding of its figures."""
    bracket = BRACKET.replace(fit=fit, shift=shift)  # type: ignore[arg-type]
    checks = [*strength_checks(bracket, FRAME, cases(100.0, bracket)), *distance_checks(bracket, FRAME)]
    assert len({check.key for check in checks}) >= 25
    for check in checks:
        text = re.sub(r" \([a-z][^)]*\)", "", check.numbers.rpartition(": ")[2])
        if check.unit == "":
            ratio, _, _ = text.rpartition(" kN m")
            found = worked(ratio), 1.0
        else:
            left, _, right = text.partition(" <= ")
            found = worked(left), worked(right.partition(", ")[0])
        wanted = (check.demand * BASE[check.unit], check.allowable * BASE[check.unit])
        assert found == pytest.approx(wanted, rel=0.01), check.key


def test_without_the_frame_bracket_its_checks_are_left_out() -> None:
    assert {c.where for c in strength_checks(BRACKET, None, cases(100.0))} == {"bracket", "bolt", "weld"}
    assert "frame_lip" not in {c.key for c in distance_checks(BRACKET, None)}


@pytest.mark.parametrize(
    "stronger",
    [
        {"thickness": 9.5, "key": "net_section"},
        {"width": 100.0, "key": "net_section"},
        {"steel": "A572-50", "key": "plate_buckling"},
        {"anchor_bolt": "5/8-11", "key": "anchor_bolt_shear"},
        {"grade": "5", "key": "anchor_bolt_shear", "weaker": True},
        {"threads": "in", "key": "anchor_bolt_shear", "weaker": True},
        {"anchor": 60.0, "key": "anchor_bolt_shear"},
        {"brace": False, "fit": "inside", "key": "weld", "weaker": True},
        {"brace_start": 75.0, "key": "weld", "weaker": True},
        {"brace": False, "key": "plate_fore_aft", "weaker": True},
        {"end_bottom": 40.0, "key": "bar_block_shear"},
        {"weld_leg": 8.0, "key": "weld"},
        {"tube_wall": 3.0, "key": "tube_crush", "weaker": True},
    ],
)
def test_each_measure_works_on_its_check(stronger: dict[str, object]) -> None:
    changes = {name: value for name, value in stronger.items() if name not in ("key", "weaker")}
    other = BRACKET.replace(**changes)  # type: ignore[arg-type]

    def used(bracket: DropBracket) -> float:
        found = {c.key: c for c in worst_of_each(strength_checks(bracket, FRAME, cases(100.0, bracket)))}
        return found[str(stronger["key"])].utilisation

    if stronger.get("weaker"):
        assert used(other) > used(BRACKET) * 1.02
    else:
        assert used(other) < used(BRACKET) * 0.98


def test_the_longest_drop_is_where_the_first_check_gives() -> None:
    found = longest_drop(BRACKET, FRAME, at, 60.0, 250.0)
    assert found.drop is not None and found.check is not None
    assert strength_checks(BRACKET, FRAME, cases(found.drop))[0].passes
    assert not strength_checks(BRACKET, FRAME, cases(found.drop + 0.01))[0].passes
    # by brute force on a 0.1 mm grid
    grid = [*range(60, int(found.drop) - 5, 2), *(int(found.drop) - 5 + 0.1 * i for i in range(100))]
    first = next(drop for drop in grid if not strength_checks(BRACKET, FRAME, cases(drop))[0].passes)
    assert first - 0.1 <= found.drop <= first


def test_no_drop_passes_on_a_bracket_of_tin() -> None:
    tin = BRACKET.replace(thickness=1.0)
    found = longest_drop(tin, FRAME, lambda drops: [cases(drop, tin) for drop in drops], 60.0, 200.0)
    assert found.drop is None and found.check is not None and not found.check.passes


def test_layout_rules_name_what_is_too_close() -> None:
    tight = BRACKET.replace(anchor=30.0, holes=(75.0, 85.0), weld_leg=2.0)
    failed = {check.key for check in distance_checks(tight, FRAME.replace(lip=40.0)) if not check.passes}
    assert failed == {"bolt_spacing", "hole_step", "frame_lip", "weld_least_leg"}
    assert all(check.verdict in ("kept", "too close") for check in distance_checks(tight, FRAME))


def test_clear_distances_by_hand() -> None:
    """Two 3 in plates of 1/4 in A36: 1/2 in bolt (9/16 in hole) in the middle, M14 (15.5 mm hole) 25 mm from the end.

    AISC 360-16 J3.10 and J4.3: 1.2 lc t Fu / 2, and along half the width with half the end torn off, 1/16 in lost at
    each hole.
    """
    found = {check.key: check.allowable for check in worst_of_each(strength_checks(BRACKET, FRAME, cases(100.0)))}
    kip = 4.4482216
    assert found["anchor_plate_tear_out"] == pytest.approx(1.2 * (3.0 - 9 / 16) / 2 * 0.5 * 58.0 / 2 * kip, rel=1e-4)
    assert found["anchor_frame_tear_out"] == pytest.approx(1.2 * (80.0 - 14.2875) / 2 * 10.0 * 470.0 / 2e3, rel=1e-4)
    t, fu, fy = 12.7, 58.0 * 6.894757, 36.0 * 6.894757
    for key in ("original_end_tear_out", "bar_end_tear_out"):
        assert found[key] == pytest.approx(1.2 * (25.0 - 15.5 / 2) * t * fu / 2e3, rel=1e-4)
    lost = (15.5 + 25.4 / 16) / 2
    torn = min(0.6 * fu * (38.1 - lost), 0.6 * fy * 38.1) + fu * (25.0 - lost)
    assert found["bar_block_shear"] == pytest.approx(torn * t / 2e3, rel=1e-4)
