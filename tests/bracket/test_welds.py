"""Which welds there are, and what they bear."""

from __future__ import annotations

import pytest

from linkviz.bracket.loads import loads
from linkviz.bracket.parts import DropBracket
from linkviz.bracket.strength import distance_checks, strength_checks
from linkviz.bracket.weld_checks import group_of, unwelded, welds

ASTRIDE = DropBracket("astride", (100.0,), brace_start=55.0, tube_wall=3.0)
NESTED = ASTRIDE.replace(fit="inside")
LOAD = loads(20e3, 0.0, 100.0, 45.0, fore_aft=0.1)


def words(bracket: DropBracket) -> list[str]:
    return [check.words for check in welds(bracket, LOAD, "a case")]


@pytest.mark.parametrize(
    ("bracket", "held"),
    [(ASTRIDE, "brace"), (NESTED, "tube and brace"), (NESTED.replace(brace=False), "tube")],
)
def test_the_words_name_what_is_welded(bracket: DropBracket, held: str) -> None:
    assert words(bracket)[0].startswith(f"Welds of the {held},")
    assert unwelded(bracket, 100.0) == ""


@pytest.mark.parametrize("bare", [ASTRIDE.replace(brace=False), ASTRIDE.replace(brace_start=85.0)])
def test_a_loose_tube_without_a_brace_has_no_weld_and_says_so(bare: DropBracket) -> None:
    assert group_of(bare, 100.0) is None and words(bare) == []
    assert unwelded(bare, 100.0).startswith("No weld to look at: the spacer tube lies loose")
    checks = (*strength_checks(bare, None, ()), *distance_checks(bare, None))
    assert "weld" not in {check.where for check in checks}


def test_the_weld_of_a_brace_alone_by_hand() -> None:
    """Half of 2 kN on 45 mm of weld, at its end: P/L (1 + 6 (L/2) / L) = 4 P/L, as a strip pushed at its end."""
    weld = next(iter(welds(ASTRIDE, LOAD, "a case")))
    assert weld.demand == pytest.approx(4.0 * 1000.0 / 45.0)
    assert "1000 N on 45 mm, 22.5 mm off" in weld.numbers


def test_the_leg_follows_the_thinner_part_that_is_welded() -> None:
    """AISC 360-16 table J2.4: 1/8 in up to 1/4 in, 3/16 in above; a loose tube's wall is not among the parts."""

    def least(bracket: DropBracket) -> float:
        return next(c.demand for c in distance_checks(bracket, None) if c.key == "weld_least_leg")

    thick = ASTRIDE.replace(thickness=9.5)
    assert (least(thick), least(thick.replace(fit="inside"))) == pytest.approx((3 * 25.4 / 16, 2 * 25.4 / 16))
