"""Contrast of letters and lines on the paper (WCAG 2.2)."""

from __future__ import annotations

import pytest

from linkviz.errors import LinkvizError
from linkviz.picture.style import paint, styles
from tests.contrast import contrast

QUIET = {"grid", "ground", "soil", "body", "rail"}
"""Lines that mean nothing by themselves."""


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_letters_and_lines_stand_out_from_the_paper(theme: str) -> None:
    paper = paint(theme).paper
    for name, style in styles(theme).items():
        if style.size:
            assert contrast(style.line, paper) >= 4.5, name
        elif style.line and name not in QUIET:
            assert contrast(style.line, paper) >= 3.0, name


def test_both_themes_have_the_same_styles() -> None:
    assert set(styles("light")) == set(styles("dark"))


def test_large_letters_are_larger() -> None:
    book = styles("light")
    assert book["number+"].size > 1.3 * book["number"].size


def test_a_theme_nobody_knows_is_refused_in_words() -> None:
    with pytest.raises(LinkvizError, match="light or dark"):
        paint("sepia")
