"""Marks in numbers: decimals, thousands, and what may be either."""

from __future__ import annotations

import math

import pytest

from linkviz.marks import TwoMeanings, decimal_mark, refuse_two_meanings
from linkviz.units import parse_angle, parse_length, parse_number


@pytest.mark.parametrize(
    ("text", "ways"),
    [
        ("1,000", "1000 or 1.0"),
        ("12,500 mm", "12500 mm or 12.5 mm"),
        ("-3,125 in", "-3125 in or -3.125 in"),
        ("999,999", "999999 or 999.999"),
        ("1,000.5", "1000.5"),
        ("1.000,5", "1000.5"),
        ("1,234.5", "1234.5"),
        ("1,000,000", "1000000"),
        ("1.000.000", "1000000"),
        ("12.345.678,25", "12345678.25"),
        ("1,000e3", "1000e3 or 1.0e3"),
        ("1,250' 6", "1250' 6 or 1.25' 6"),
    ],
)
def test_what_may_mean_two_numbers_is_refused_with_the_ways_to_write_it(text: str, ways: str) -> None:
    for parse in (parse_length, parse_angle, parse_number):
        if parse is not parse_length and text.endswith(("mm", "in", "6")):
            continue
        with pytest.raises(TwoMeanings) as caught:
            parse(text)
        assert str(caught.value).endswith(f"Write {ways}.")
        assert text in str(caught.value)
    for way in ways.split(" or "):
        parse_length(way)
        if way.replace(".", "").isdigit():
            assert parse_length(way) == float(way)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12,5", 12.5),
        ("12,50", 12.5),
        ("0,125", 0.125),
        (",125", 0.125),
        ("1000,125", 1000.125),
        ("1,0000", 1.0),
        ("1,", 1.0),
        ("1.000", 1.0),
        ("1250.125", 1250.125),
    ],
)
def test_a_comma_that_can_be_nothing_but_decimal_is_one(text: str, value: float) -> None:
    assert parse_length(text) == parse_number(text) == value
    assert math.degrees(parse_angle(text)) == pytest.approx(value)
    assert parse_length(f"{text} mm") == value


def test_inches_behind_feet_are_no_thousands() -> None:
    assert parse_length("5'3,250\"") == parse_length("5'3.250\"") == parse_length("5 ft 3 1/4 in")


@pytest.mark.parametrize(
    ("text", "write"),
    [
        ("1'250", "1250"),
        ("1\N{RIGHT SINGLE QUOTATION MARK}250", "1250"),
        ("1'000,5", "1000,5"),
        ("-12'345'678.25", "-12345678.25"),
        ("1'250 mm", "1250 mm"),
        ("1'011", "1011"),
    ],
)
def test_an_apostrophe_between_thousands_is_no_foot(text: str, write: str) -> None:
    for parse in (parse_length, parse_number, parse_angle):
        if parse is not parse_length and "mm" in text:
            continue
        with pytest.raises(TwoMeanings) as caught:
            parse(text)
        assert str(caught.value).endswith(f"Write {write}, or a space behind the ' of feet and inches.")
    assert parse_length(write) == parse_number(write, "mm")
    assert parse_length("1' 011") == parse_length("1'11") == 23 * 25.4


@pytest.mark.parametrize(
    ("text", "decimal", "write"),
    [
        ("1.250", ",", "1250, or 1,250 if the point is a decimal one"),
        ("-1.250 mm", "", "-1250 mm, or -1.2500 mm if the point is a decimal one"),
        ("1,250", "", "1250 or 1.25"),
        ("1.250,5", ",", "1250,5"),
        ("1.250,5", "", "1250.5"),
    ],
)
def test_a_mark_is_no_decimal_one_where_another_is(text: str, decimal: str, write: str) -> None:
    with pytest.raises(TwoMeanings) as caught:
        parse_length(text, decimal=decimal)
    assert caught.value.write == write
    for fine in ("1.25", "0.125", "1250.125", "1.2500", "1,25", "0,125"):
        refuse_two_meanings(fine, decimal)


def test_a_mark_is_a_decimal_one_where_that_is_known() -> None:
    assert parse_length("1,250", decimal=",") == parse_length("1.250", decimal=".") == 1.25


@pytest.mark.parametrize(
    ("numbers", "mark"),
    [
        (["-90,5 mm", "1.250"], ","),
        (["0,125"], ","),
        (["\N{MINUS SIGN}1234.567", "1,250"], "."),
        (["0.125"], "."),
        (["12,5", "12.5"], ""),
        (["1,250", "1.250", "90", "tank, rear", "1.000.000", ""], None),
    ],
)
def test_a_table_tells_its_decimal_mark(numbers: list[str], mark: str | None) -> None:
    assert decimal_mark(numbers, ".") == ("." if mark is None else mark)
    assert decimal_mark(numbers) == (mark or "")
