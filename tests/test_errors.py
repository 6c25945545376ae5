"""Errors that people read."""

from __future__ import annotations

from linkviz.errors import MOST_LETTERS, MOST_PROBLEMS, FileRefused, Problem


def test_a_refusal_shows_no_control_character_of_the_file() -> None:
    refused = FileRefused("a\rb", [Problem("line 2", "the text \x1a", "a number")])
    assert str(refused) == "a\\rb: line 2: found the text \\x1a; expected a number"


def test_of_endless_problems_the_first_are_told() -> None:
    refused = FileRefused("a", [Problem(f"line {i}", "nothing", "a number") for i in range(10_000)])
    assert len(refused.problems) == MOST_PROBLEMS + 1
    assert refused.problems[0].where == "line 0"
    assert "these first" in str(refused)


def test_an_endless_problem_is_cut_short() -> None:
    problem = Problem("k" * 5000, "\x9b" * 5000, "a number")
    assert all(len(cell) <= MOST_LETTERS for cell in problem.cells)
    assert len(str(problem)) < 3 * MOST_LETTERS
