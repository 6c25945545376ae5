from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.figures import LEAST, figure, read_in, unit_word
from linkviz.analysis.quantities import QUANTITIES


@pytest.mark.parametrize(
    ("value", "kind", "unit", "words"),
    [
        (88.9, "mm", "mm", "89 mm"),
        (88.9, "mm", "in", '3 1/2"'),
        (-2.46, "deg", "in", "-2.5\N{DEGREE SIGN}"),
        (1234.4, "N", "mm", "1234 N"),
        (63.52, "%", "mm", "63.5 %"),
        (1.234, "", "mm", "1.23"),
        (np.nan, "mm", "mm", "-"),
        (np.inf, "N", "mm", "-"),
    ],
)
def test_numbers_carry_their_unit(value: float, kind: str, unit: str, words: str) -> None:
    assert figure(value, kind, unit) == words  # type: ignore[arg-type]


def test_only_lengths_are_converted() -> None:
    assert read_in(np.array([25.4]), "mm", "in").tolist() == [1.0]
    assert read_in(np.array([25.4]), "deg", "in").tolist() == [25.4]
    assert (unit_word("mm", "in"), unit_word("%", "in"), unit_word("", "in")) == ("in", "%", "")


def test_every_unit_has_a_least_range() -> None:
    assert {q.unit for q in QUANTITIES} <= LEAST.keys()
