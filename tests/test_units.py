"""Lengths and angles as people type and read them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from linkviz.errors import LinkvizError
from linkviz.marks import TwoMeanings
from linkviz.units import (
    angle_number,
    format_angle,
    format_length,
    from_mm,
    length_number,
    list_parts,
    parse_angle,
    parse_length,
    parse_lengths,
    parse_number,
    to_mm,
)
from tests.hang import no_hang


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("100", 100.0),
        (" 100mm ", 100.0),
        ("90 mm", 90.0),
        ("4in", 101.6),
        ("3.5in", 88.9),
        ("3.5 IN", 88.9),
        ('3 1/2"', 88.9),
        ("3-1/2 in", 88.9),
        ("3½ in", 88.9),
        ("13/16 in", 20.6375),
        (".5 in", 12.7),
        ("1' 2\"", 355.6),
        ("1'", 304.8),
        ("2 ft 3-1/4 in", 692.15),
        ("-12.5", -12.5),
        ("\N{MINUS SIGN}12,5", -12.5),
        ('-3 1/2"', -88.9),
        ("12,5 mm", 12.5),
        ("9 cm", 90.0),
        ("+7", 7.0),
    ],
)
def test_a_length_is_read_as_people_write_it(text: str, mm: float) -> None:
    assert parse_length(text) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "write"),
    [("5' 14\"", "74 in"), ("-1 ft 250", "-262 in"), ("5' 12", "72 in"), ("2ft 25/2in", "36.5 in")],
)
def test_more_inches_than_a_foot_has_are_refused_behind_feet(text: str, write: str) -> None:
    with pytest.raises(LinkvizError) as caught:
        parse_length(text)
    assert str(caught.value).endswith(f" has 12 inches or more behind its feet. Write {write}, if that is meant.")
    assert parse_length(write) == float(write.removesuffix(" in")) * 25.4
    assert parse_length("5' 11 15/16\"") == pytest.approx((71 + 15 / 16) * 25.4)


def test_a_bare_number_takes_the_unit_it_is_told() -> None:
    assert parse_length("3 1/2", default="in") == pytest.approx(88.9)
    assert parse_length("90 mm", default="in") == 90.0


@pytest.mark.parametrize("text", ["", "junk", "nan", "inf", "1e999", "5/0", "--2", "3 in mm", "1,23.5", "1 2 3", "4x"])
def test_junk_is_named_with_what_to_write(text: str) -> None:
    with pytest.raises(LinkvizError, match=r"is not a length\. Write a number with mm or in") as caught:
        parse_length(text)
    assert repr(text) in str(caught.value)


def test_a_long_text_is_cut_in_the_message() -> None:
    with pytest.raises(LinkvizError) as caught:
        parse_length("x" * 5000)
    assert len(str(caught.value)) < 200


@pytest.mark.parametrize(
    ("mm", "metric", "inches"),
    [
        (90.0, "90 mm", '3 9/16"'),
        (88.9, "89 mm", '3 1/2"'),
        (25.39, "25 mm", '1"'),
        (-9.525, "-10 mm", '-3/8"'),
        (-0.2, "0 mm", '0"'),
        (0.0, "0 mm", '0"'),
        (2.5, "3 mm", '1/8"'),
        (-2.5, "-3 mm", '-1/8"'),
        (math.nan, "-", "-"),
    ],
)
def test_a_length_is_shown_to_1_mm_or_a_sixteenth(mm: float, metric: str, inches: str) -> None:
    assert format_length(mm) == metric
    assert format_length(mm, "in") == inches
    assert length_number(mm) == metric.removesuffix(" mm")
    assert length_number(mm, "in") == inches.removesuffix('"')


@given(st.integers(-4000, 4000))
def test_what_is_shown_in_inches_is_read_back_exactly(sixteenths: int) -> None:
    mm = sixteenths * 25.4 / 16
    assert parse_length(format_length(mm, "in")) == pytest.approx(mm, abs=1e-9)


@given(st.floats(-1e4, 1e4))
def test_units_convert_there_and_back(value: float) -> None:
    assert from_mm(to_mm(value, "in"), "in") == pytest.approx(value, abs=1e-12, rel=1e-12)
    assert to_mm(value, "mm") == value


@pytest.mark.parametrize(
    ("text", "degrees"),
    [("5", 5.0), ("-2,5 deg", -2.5), ("2.5°", 2.5), ("0.1 rad", math.degrees(0.1)), ("3 degrees", 3.0)],
)
def test_an_angle_is_read_in_degrees(text: str, degrees: float) -> None:
    assert parse_angle(text) == pytest.approx(math.radians(degrees))


@pytest.mark.parametrize("text", ["", "steep", "nan", "5 mm"])
def test_what_is_no_angle_is_named(text: str) -> None:
    with pytest.raises(LinkvizError, match="is not an angle"):
        parse_angle(text)


def test_an_angle_is_shown_in_degrees_without_minus_zero() -> None:
    assert format_angle(math.radians(-2.46)) == "-2.5\N{DEGREE SIGN}"
    assert angle_number(math.radians(-0.01)) == "0.0"
    assert angle_number(math.radians(1.234), digits=2) == "1.23"
    assert format_angle(math.inf) == "-"


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [("26", "N/mm", 26.0), ("26,5 n/mm", "N/mm", 26.5), ("60kg", "kg", 60.0), (" 9.3 ", "", 9.3)],
)
def test_numbers(text: str, unit: str, value: float) -> None:
    assert parse_number(text, unit) == value


@pytest.mark.parametrize("text", ["", "stiff", "nan", "26 lb", "1e999"])
def test_no_numbers(text: str) -> None:
    with pytest.raises(LinkvizError, match="is not a number"):
        parse_number(text, "N/mm")


@pytest.mark.parametrize(
    "text", ["9" * 5000 + "/2", "9" * 400 + "/2", "1'" + " " * 20_000 + "x", "1" + " " * 20_000 + "x"]
)
def test_what_nobody_types_is_refused_at_once(text: str) -> None:
    for parse in (parse_length, parse_angle, parse_number):
        with no_hang(0.5), pytest.raises(LinkvizError, match="is not a") as caught:
            parse(text)
        assert len(str(caught.value)) < 200


@pytest.mark.parametrize(
    "text", ["40,5, 50", "40,5", "40,50,75", "40, 50,75", "1,000", "0,3", "40.5,50,75", "1.250,5", "1,250.5"]
)
def test_a_list_whose_commas_may_be_decimal_is_refused(text: str) -> None:
    with pytest.raises(TwoMeanings, match=r"may mean two lists.* as in 40\.5, 50, or ; between") as caught:
        parse_lengths(text)
    assert repr(text) in str(caught.value)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("40, 50", (40.0, 50.0)),
        ("40.5, 50", (40.5, 50.0)),
        ("40,5; 50", (40.5, 50.0)),
        ("40mm,50mm", (40.0, 50.0)),
        ("40.5,50", (40.5, 50.0)),
        ("1/2,3/4", (0.5, 0.75)),
        ("1 1/2in,2 3/4in", (38.1, 69.85)),
        ("40,5;", (40.5,)),
        ("1 1/2in, 2in", (38.1, 50.8)),
        ("40", (40.0,)),
        ("", ()),
    ],
)
def test_a_list_is_read_as_people_write_it(text: str, found: tuple[float, ...]) -> None:
    assert parse_lengths(text) == pytest.approx(found)


@pytest.mark.parametrize(
    "text",
    [
        "0,3",
        "0,3,6",
        "38,51,76",
        "76,51,38",
        "-3,0,3",
        "38,51,76.5",
        "40.0,50.0",
        "12.0,5",
        "-40mm,0mm",
        "98,4.5in",
        "0,x",
    ],
)
def test_on_a_command_line_a_comma_stands_between_numbers(text: str) -> None:
    assert list_parts(text, glued=True) == text.split(",")
    assert list_parts("38, 51", glued=True) == ["38", " 51"]
    assert list_parts("38,5;51", glued=True) == ["38,5", "51"]


@pytest.mark.parametrize(
    ("text", "one", "two"),
    [
        ("12,5", "12.5", "12.0,5.0"),
        ("2,5", "2.5", "2.0,5.0"),
        ("0,05", "0.05", "0.0,5.0"),
        ("-40,0", "-40.0", "-40.0,0.0"),
        ("40,50mm", "40.50mm", "40.0,50mm"),
        ("1,250", "1250 or 1.25", "1.0,250.0"),
        ("1,250.5", "1250.5", "1.0,250.5"),
    ],
)
def test_on_a_command_line_a_pair_that_may_be_one_number_is_asked_about(text: str, one: str, two: str) -> None:
    with pytest.raises(TwoMeanings) as caught:
        list_parts(text, glued=True)
    assert caught.value.write == f"{one} for one number, or {two} for two"
    assert list_parts(two, glued=True) == two.split(",")
    for way in one.split(" or "):
        assert list_parts(way, glued=True) == [way]
        parse_length(way)


@pytest.mark.parametrize("text", ["40,5, 50", "38, 51,76", "12,5,14", "2,5,3,5", "3,5in,6in", "1,2" + ",2" * 5000])
def test_on_a_command_line_longer_lists_that_may_hold_decimal_commas_are_asked_about(text: str) -> None:
    with pytest.raises(TwoMeanings) as caught:
        list_parts(text, glued=True)
    assert len(str(caught.value)) < 300
    assert list_parts(f"1,2,{'9' * 5000}", glued=True)[2] == "9" * 5000
