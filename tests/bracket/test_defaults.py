from __future__ import annotations

import pytest

from linkviz.bracket.bolts import SIZES, coarse_sizes, find_size, least_spacing
from linkviz.bracket.defaults import anchor_for, default_bracket
from linkviz.bracket.parts import BarEnd, FrameBracket
from linkviz.bracket.strength import distance_checks
from linkviz.errors import LinkvizError

FRAME = FrameBracket(46.0, 5.0, 49.0, 80.0, "M12", "S355")
BAR = BarEnd(46.0, 36.0, "M12")


@pytest.mark.parametrize("bolt", ["M12", "M14x1.5", "1/2-13", "5/8-18"])
@pytest.mark.parametrize("lip", [50.0, 60.0, 80.0])
def test_a_bracket_to_start_from_keeps_all_rules_of_layout(bolt: str, lip: float) -> None:
    frame = FRAME.replace(bolt=bolt, lip=lip)
    bracket = default_bracket(frame, BAR.replace(bolt=bolt), (lip + 25.0,))
    if lip >= least_spacing(SIZES[bolt], SIZES[bolt]) + SIZES[bolt].diameter:
        assert all(check.passes for check in distance_checks(bracket, frame))


def test_the_anchor_makes_the_most_of_the_lip() -> None:
    size, distance = anchor_for(SIZES["M12"], 49.0)
    others = [s for s in SIZES.values() if s.key in ("M8", "M10", "M12", "M14", "M16")]
    possible = [s.body_area * (49.0 - s.diameter) for s in others
                if 49.0 - s.diameter >= least_spacing(SIZES["M12"], s)]  # fmt: skip
    assert size.body_area * distance == pytest.approx(max(possible))


def test_the_largest_anchor_is_proposed_as_soon_as_the_lip_has_room_for_it() -> None:
    first, last = SIZES["M12"], SIZES["M16"]
    lip = last.diameter + least_spacing(first, last)
    assert anchor_for(first, lip) == (last, lip - last.diameter)
    assert anchor_for(first, lip - 0.1)[0].key == "M14"
    assert anchor_for(first, 200.0)[0] is last  # and no larger one


def test_coarse_sizes_are_one_for_each_diameter() -> None:
    """UNC threads per inch (ASME B1.1) and the coarse pitches of ISO 261, by their keys."""
    assert [size.key for size in coarse_sizes(metric=False)] == ["3/8-16", "7/16-14", "1/2-13", "5/8-11", "3/4-10"]
    assert [size.key for size in coarse_sizes(metric=True)] == ["M8", "M10", "M12", "M14", "M16", "M18", "M20"]


@pytest.mark.parametrize("lip", [40.0, 48.0, 55.0, 70.0])
def test_an_inch_bracket_gets_an_anchor_with_coarse_threads(lip: float) -> None:
    assert anchor_for(SIZES["1/2-13"], lip)[0] in coarse_sizes(metric=False)


def test_a_lip_too_short_for_a_second_bolt_is_told() -> None:
    frame = FRAME.replace(lip=25.0)
    bracket = default_bracket(frame, BAR, (75.0,))
    assert "frame_lip" in {check.key for check in distance_checks(bracket, frame) if not check.passes}


def test_without_measurements_there_is_a_bracket_all_the_same() -> None:
    assert default_bracket(None, None, (100.0, 75.0)).holes == (75.0, 100.0)


def test_sizes_are_found_as_people_write_them() -> None:
    assert find_size("1/2").key == "1/2-13"
    assert find_size('1/2"').key == "1/2-13"
    assert find_size("M12").key == "M12"
    assert find_size("M12x1.25").key == "M12x1.25"
    for wrong in ("M13", "1/2-12", "a bolt"):
        with pytest.raises(LinkvizError, match="Choose one of"):
            find_size(wrong)
