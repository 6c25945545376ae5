from __future__ import annotations

import pytest

from linkviz.analysis.telling import depth_words
from linkviz.units import Unit


@pytest.mark.parametrize(
    ("gap", "unit", "words"),
    [
        (-3.0, "mm", ", 3 mm deep"),
        (-12.7, "in", ', 1/2" deep'),
        (-0.3, "mm", ""),
        (-0.3, "in", ""),
        (0.0, "mm", ""),
    ],
)
def test_a_contact_without_depth_only_touches(gap: float, unit: Unit, words: str) -> None:
    assert depth_words(gap, unit) == words


def test_what_is_not_fully_known_is_at_least_so_deep() -> None:
    assert depth_words(-3.0, "mm", least=True) == ", at least 3 mm deep"
