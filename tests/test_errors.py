"""Errors that people read."""

from __future__ import annotations

from linkviz.errors import FileRefused, Problem, visible


def test_what_a_screen_would_act_on_is_spelt_out() -> None:
    assert visible("a\x1b[31mb\u202ec") == "a\\x1b[31mb\\u202ec"
    assert (
        visible('3 1/2" Zug\N{LATIN SMALL LETTER U WITH DIAERESIS}')
        == '3 1/2" Zug\N{LATIN SMALL LETTER U WITH DIAERESIS}'
    )


def test_a_refusal_shows_no_control_character_of_the_file() -> None:
    refused = FileRefused("a\rb", [Problem("line 2", "the text \x1a", "a number")])
    assert str(refused) == "a\\rb: line 2: found the text \\x1a; expected a number"
