from __future__ import annotations

import pytest

from linkviz.bracket.check import Check, plain


def check(demand: float, allowable: float, kind: str = "strength") -> Check:
    return Check("key", "words", "bolt", "case", "a <= b", "1 <= 2", "source", demand, allowable, "kN", kind)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("demand", "allowable", "used", "verdict"),
    [
        (5.0, 10.0, 0.5, "within the allowable"),
        (10.0, 10.0, 1.0, "within the allowable"),
        (10.1, 10.0, 1.01, "over the allowable"),
        (0.0, 0.0, 0.0, "within the allowable"),
        (1.0, 0.0, 999.0, "over the allowable"),
        (1.0, -5.0, 999.0, "over the allowable"),
        (1e9, 1e-9, 999.0, "over the allowable"),
    ],
)
def test_utilisation_is_a_number_and_a_word(demand: float, allowable: float, used: float, verdict: str) -> None:
    found = check(demand, allowable)
    assert found.utilisation == pytest.approx(used)
    assert found.verdict == verdict
    assert found.passes is (verdict == "within the allowable")


def test_a_distance_has_its_own_words() -> None:
    assert check(14.0, 14.0, "distance").verdict == "kept"
    assert check(14.0, 49.0 - 35.0000001, "distance").verdict == "too close"


def test_numbers_in_formulas_have_four_figures_and_no_exponent() -> None:
    shown = [plain(v) for v in (0.0, 12.7, 1034.2135, 24432.4, 0.012345, 7.0, 1.2e-5)]
    assert shown == ["0", "12.7", "1034", "24432", "0.01235", "7", "0.000012"]
