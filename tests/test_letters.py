"""Letters that a screen acts on instead of showing them."""

from __future__ import annotations

import pytest

from linkviz.letters import cut, hidden, many_lines, one_line, visible

ACTING = (
    *("\x00", "\x07", "\x1b", "\x7f", "\x85", "\x9b", "\u2028", "\u2029", "\u202a", "\u202e", "\u2066", "\u200e"),
    *("\ufeff", "\U000e0041", "\udc80"),
)
NAMES = (
    *(
        "O'Brien & Sons",
        "\u015eule \u0130n\u00f6n\u00fc",
        "\u4e2d\u6751",
        "\u05d3\u05d5\u05d3",
        "3\N{NO-BREAK SPACE}mm",
    ),
    *("\u0646\u0627\u0645\u0647\u200c\u0647\u0627", "\U0001f468\u200d\U0001f527"),
)


@pytest.mark.parametrize("letter", ACTING, ids=ascii)
def test_what_acts_is_found_shown_and_left_out(letter: str) -> None:
    text = f"A. {letter}Sample"
    assert hidden(text) == letter
    assert hidden(text, allowed=letter) == ""
    assert not hidden(visible(text))
    assert not hidden(one_line(text))
    assert one_line(text).replace(" ", "") == "A.Sample"
    assert not hidden(many_lines(text), allowed="\n")


@pytest.mark.parametrize("name", NAMES, ids=ascii)
def test_names_of_people_are_let_pass(name: str) -> None:
    assert hidden(name) == ""
    assert many_lines(name) == name


def test_lines_become_one_or_stay() -> None:
    assert one_line(" two\r\nlines\t") == "two  lines"
    assert many_lines("two\r\nlines\u2028three\n") == "two\nlines\nthree\n"
    assert hidden("two\nlines", allowed="\n\t") == ""


def test_long_text_is_cut_where_it_says_so() -> None:
    assert cut("a" * 10, 10) == "a" * 10
    assert cut("a" * 11, 10) == "aaaaaaa..."


def test_what_a_screen_would_act_on_is_spelt_out() -> None:
    assert visible("a\x1b[31mb\u202ec") == "a\\x1b[31mb\\u202ec"
    said = '3 1/2" Zug\N{LATIN SMALL LETTER U WITH DIAERESIS}'
    assert visible(said) == said
