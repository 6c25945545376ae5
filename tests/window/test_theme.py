"""Letters and signs stand out in both palettes (WCAG 2.2 AA: 1.4.3 text 4.5, 1.4.11 parts of the interface 3)."""

from __future__ import annotations

import pytest

from linkviz.window.theme import THEMES
from tests.contrast import contrast

GROUNDS = ("window", "base", "alternate", "button")
LETTERS = ("text", "soft", "built", "lifted", "corrected", "danger")


def test_the_ratio_is_that_of_the_guideline() -> None:
    # WCAG 2.2, understanding 1.4.3: black on white 21, #767676 on white just above 4.5, #777777 just below
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert 4.5 < contrast("#767676", "#ffffff") < 4.6
    assert contrast("#777777", "#ffffff") < 4.5


@pytest.mark.parametrize("theme", sorted(THEMES))
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("letters", LETTERS)
def test_letters_stand_out_from_every_ground(theme: str, ground: str, letters: str) -> None:
    colours = THEMES[theme]
    assert contrast(getattr(colours, letters), getattr(colours, ground)) >= 4.5


@pytest.mark.parametrize("theme", sorted(THEMES))
def test_letters_on_what_is_picked_stand_out(theme: str) -> None:
    colours = THEMES[theme]
    assert contrast(colours.on_accent, colours.accent) >= 4.5
    assert contrast(colours.text, colours.picked) >= 4.5


@pytest.mark.parametrize("theme", sorted(THEMES))
@pytest.mark.parametrize("ground", GROUNDS)
def test_the_ring_around_what_has_the_keys_stands_out(theme: str, ground: str) -> None:
    colours = THEMES[theme]
    assert contrast(colours.accent, getattr(colours, ground)) >= 3.0
