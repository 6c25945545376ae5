"""Reading vehicle files: sound ones become vehicles, others are refused with everything that is wrong."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from linkviz.errors import MOST_PROBLEMS, FileRefused, Problem
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.part import values_of
from linkviz.vehicle.problems import problems_of
from linkviz.vehicle.read import parse_vehicle, read_vehicle
from linkviz.vehicle.write import data_of
from tests.hang import no_hang


def refused(text: str) -> dict[str, Problem]:
    """Return the problems of a text by their place."""
    with pytest.raises(FileRefused) as caught:
        parse_vehicle(text, "some.vehicle.toml")
    assert caught.value.path == "some.vehicle.toml"
    return {problem.where: problem for problem in caught.value.problems}


def only(text: str) -> Problem:
    """Return the one problem of a text."""
    problems = refused(text)
    assert len(problems) == 1, problems
    return next(iter(problems.values()))


def test_every_table_is_read(sound: str) -> None:
    vehicle = parse_vehicle(sound)
    assert vehicle.name == "Test bench"
    assert vehicle.axle.track == 1480.0
    assert vehicle.links.lateral_bar.frame == (-130.0, -440.0, 520.0)
    assert vehicle.links.lower_left.stiffness == 4000.0
    assert vehicle.links.lower_right.stiffness is None
    assert vehicle.driveshaft is not None and vehicle.driveshaft.pinion_joint == (230.0, 0.0, 385.0)
    assert [envelope.name for envelope in vehicle.envelopes] == ["fuel tank", "exhaust"]
    assert vehicle.envelopes[1].margin == 10.0
    assert vehicle.mass is not None and vehicle.mass.cg_height == 690.0
    assert vehicle.travel.rebound == 90.0
    assert vehicle.measuring.points == (("links.lateral_bar.frame", 2.0),)
    assert problems_of(vehicle) == []


def test_format_name_axle_and_links_are_enough(sound: str) -> None:
    vehicle = parse_vehicle(sound.partition("[driveshaft]")[0].replace('units = "mm"   # tape in mm\n', ""))
    assert vehicle.units == "mm"
    assert vehicle.driveshaft is None and vehicle.mass is None and vehicle.envelopes == ()
    assert vehicle.travel.jounce == 80.0


def test_inches_are_lengths_only(sound: str) -> None:
    def to_inches(match: re.Match[str]) -> str:
        return f"{float(match[0]) / 25.4!r}"

    lines = []
    for line in sound.splitlines():
        kept = line.startswith(("stiffness", "total", "rear_axle", "format", "#", "["))
        lines.append(line if kept else re.sub(r"(?<![\w.])-?\d+(\.\d+)?", to_inches, line))
    vehicle = parse_vehicle("\n".join(lines).replace('"mm"', '"in"'))
    metric = parse_vehicle(sound)
    assert vehicle.units == "in"
    assert vehicle.axle.track == pytest.approx(metric.axle.track)
    assert vehicle.links.lower_left.frame == pytest.approx(metric.links.lower_left.frame)
    assert vehicle.links.lower_left.stiffness == 4000.0
    assert vehicle.envelopes[0].rear[2] == pytest.approx((300.0, 500.0))
    assert vehicle.envelopes[1].margin == 10.0  # the default is 10 mm whatever the unit
    assert vehicle.mass is not None and vehicle.mass.total == 1960.0
    assert vehicle.measuring.points[0][1] == pytest.approx(2.0)


def test_all_problems_are_told_at_once_in_the_order_of_the_file(sound: str) -> None:
    text = (
        sound.replace("track = 1480", "trak = 1480")
        .replace("[560.0, 420.0, 400.0]", "[560.0, nan, 400.0]")
        .replace("radius = 38.0", 'radius = "38"')
        .replace("cg_height = 690.0", "cg_height = 69000.0")
    )
    problems = refused(text)
    assert list(problems) == [
        "axle.trak",
        "axle.track",
        "links.lower_left.frame[1]",
        "driveshaft.radius",
        "mass.cg_height",
    ]
    assert problems["axle.trak"].expected == '"track", if that is meant'
    assert problems["links.lower_left.frame[1]"].found == "nan"
    assert problems["driveshaft.radius"].found == 'the text "38"'


def test_a_missing_point_is_named_in_plain_words(sound: str) -> None:
    problem = only(sound.replace("axle = [0.0, -460.0, 310.0]\n", ""))
    assert problem.where == "links.lower_right.axle"
    assert problem.found == "nothing"
    assert problem.expected == "lower right link, axle end: a point [x, y, z] of three numbers in mm"


def test_a_missing_link_is_one_problem(sound: str) -> None:
    text = re.sub(r"\[links.upper_right\][^\[]*\[[^\[]*\[[^\[]*", "", sound)
    assert "upper_right" not in text
    assert only(text).where == "links.upper_right"


@pytest.mark.parametrize("number", ["nan", "inf", "-inf", "1e400", "1" + "0" * 400])
def test_numbers_that_are_not_finite_are_refused(sound: str, number: str) -> None:
    assert "finite" in only(sound.replace("radius = 38.0", f"radius = {number}")).expected


@pytest.mark.parametrize(
    ("old", "new", "where", "found"),
    [
        ("track = 1480", 'track = "1480"', "axle.track", 'the text "1480"'),
        ("track = 1480", "track = true", "axle.track", "true"),
        ("track = 1480", "track = 2020-01-02", "axle.track", "the date or time 2020-01-02"),
        ("centre = [0.0, 0.0, 370.0]", "centre = [0.0, 370.0]", "axle.centre", "a list of 2"),
        ("centre = [0.0, 0.0, 370.0]", "centre = 370.0", "axle.centre", "370.0"),
        ('name = "Test bench"', "name = 5", "name", "5"),
        ('name = "Test bench"', 'name = " "', "name", "an empty name"),
        ('units = "mm"', 'units = "cm"', "units", 'the text "cm"'),
        ('units = "mm"', "units = [1]", "units", "a list of 1"),
        ("[mass]", "[[mass]]", "mass", "a list of 1"),
    ],
)
def test_a_wrong_type_is_named(sound: str, old: str, new: str, where: str, found: str) -> None:
    problem = only(sound.replace(old, new))
    assert (problem.where, problem.found) == (where, found)


def test_an_unknown_key_far_from_any_lists_what_there_is(sound: str) -> None:
    problem = only(sound.replace("[travel]", "[travel]\nwarp = 9"))
    assert problem.found == 'the unknown key "warp"'
    assert problem.expected == "one of jounce, rebound"


def test_text_that_is_not_toml_is_named_with_line_and_column(sound: str) -> None:
    problem = only(sound.replace("track = 1480", "track = = 1480"))
    assert problem.where == "line 8, column 9"
    assert "not TOML" in problem.found
    assert "end of the file" in only("a = [1, 2").where
    assert "nested" in only("a = " + "[" * 100_000).found


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('{"format": "x"}', "JSON"),
        ("<html></html>", "XML"),
        ("0\nSECTION\n2\nHEADER\n", "DXF"),
        ("units,mm\npoint,x,y,z\n", "measuring sheet"),
        ('format = "linkviz-job/1"', "job file"),
        ('format = "linkviz-vehicle/9"', "another version"),
        ('format = "something"', "something"),
        ("title = 'a settings file'", "nothing"),
    ],
)
def test_another_kind_of_file_is_called_by_its_name(text: str, words: str) -> None:
    assert words in only(text).found


def test_the_format_line_is_needed(sound: str) -> None:
    problem = only(sound.replace('format = "linkviz-vehicle/1"\n', ""))
    assert problem.where == "format"


def test_files_that_cannot_be_text_say_what_they_are(tmp_path: Path, sound: str) -> None:
    cases = {
        "zip": (b"PK\x03\x04rest", "ZIP"),
        "pdf": (b"%PDF-1.7", "PDF"),
        "empty": (b" \n", "an empty file"),
        "binary": (b"format\0\0", "binary data"),
        "utf16": (sound.encode("utf-16"), "UTF-16"),
        "large": (b"#" * 4_000_001, "more than 4 MB"),
        "latin": (sound.replace("Test", "T\xe4st").encode("latin-1"), "not UTF-8"),
    }
    for name, (data, words) in cases.items():
        path = tmp_path / name
        path.write_bytes(data)
        with pytest.raises(FileRefused, match=words) as caught:
            read_vehicle(path)
        assert str(path) in str(caught.value)
    assert "line 3" in str(caught.value)


def test_a_folder_and_a_missing_file_are_told_apart(tmp_path: Path) -> None:
    with pytest.raises(FileRefused, match="a folder"):
        read_vehicle(tmp_path)
    with pytest.raises(FileRefused, match="no file of this name"):
        read_vehicle(tmp_path / "gone.vehicle.toml")
    with pytest.raises(FileRefused, match="device or pipe"):
        read_vehicle("/dev/null")


def test_a_byte_order_mark_is_no_harm(tmp_path: Path, sound: str) -> None:
    path = tmp_path / "bom.vehicle.toml"
    path.write_text(sound, encoding="utf-8-sig")
    assert read_vehicle(path) == parse_vehicle(sound)


@pytest.mark.parametrize("path", demo_vehicle_paths(), ids=lambda path: path.name.split(".")[0])
def test_demo_vehicles_are_complete_and_say_that_they_are_invented(path: Path) -> None:
    vehicle = read_vehicle(path)
    assert "invented" in vehicle.name
    assert path.read_text(encoding="utf-8").startswith("# INVENTED VEHICLE")
    assert vehicle.driveshaft is not None and vehicle.mass is not None and vehicle.envelopes
    assert isinstance(Vehicle(**values_of(vehicle)), Vehicle)
    assert set(data_of(vehicle)) >= {
        "format",
        "name",
        "units",
        "axle",
        "links",
        "driveshaft",
        "envelopes",
        "mass",
        "travel",
    }


ENDLESS = {
    "digits": ("\nzz = " + "9" * 5000, "thousands of digits"),
    "hex digits": ("\nzz = 0x" + "f" * 100_000, "unknown key"),
    "keys": ("\n[zz]\n" + "".join(f"k{i} = 1\n" for i in range(60_000)), "unknown key"),
    "points": ("\n[measuring.points]\n" + "".join(f"k{i} = 1\n" for i in range(60_000)), "60000 names"),
    "corners": ('\n[[envelopes]]\nname = "q"\nrear = [' + "[1,1]," * 150_000 + "]", "150000"),
    "envelopes": ("\n[[envelopes]]" * 60_000, "60002"),
    "words": ('\n[[envelopes]]\nname = "q"\nrear = [' + '"a",' * 1900 + "]", "a corner"),
    "brackets": ("\nzz = " + "[" * 10_000 + "]" * 10_000, "nested too deeply"),
    "braces": ("\nzz = " + "{a=" * 10_000 + "1" + "}" * 10_000, "nested too deeply"),
    "dotted": ("\nzz" + ".a" * 100_000 + " = 1", "more than 40 parts"),
    "dotted heading": ("\n[zz" + " . 'a' . \"b\"" * 40_000 + "]", "more than 40 parts"),
    "one key": ("\n" + "k" * 500_000 + " = 1", "unknown"),
    "a long name": (f"\n[[hoses]]\nname = '{'n' * 5000}'\nbody = [0,0,500]\naxle = [0,0,300]\nlength = 9", "5000"),
}  # fmt: skip


@pytest.mark.parametrize("kind", ENDLESS)
def test_endless_files_are_refused_at_once_and_in_few_words(sound: str, kind: str) -> None:
    more, words = ENDLESS[kind]
    with no_hang(), pytest.raises(FileRefused, match=words) as caught:
        parse_vehicle(sound.partition("[measuring]")[0] + more)
    assert len(caught.value.problems) <= MOST_PROBLEMS + 1
    assert len(str(caught.value)) < 300_000


def test_many_unknown_keys_are_not_all_compared_with_the_known_ones(sound: str) -> None:
    with no_hang(), pytest.raises(FileRefused, match="unknown key"):
        parse_vehicle("".join(f"axl{i} = 1\n" for i in range(60_000)) + sound)


@pytest.mark.parametrize("letter", ["\x1b", "\x9b", "\u202e", "\u2028", "\n"])
@pytest.mark.parametrize("key", ["name", "envelopes[0].name"])
def test_letters_that_are_acted_on_are_refused_in_names(sound: str, letter: str, key: str) -> None:
    old = '"Test bench"' if key == "name" else '"fuel tank"'
    escaped = "".join(f"\\U{ord(c):08x}" for c in f"a{letter}b")
    problem = only(sound.replace(old, f'"{escaped}"'))
    assert problem.where == key
    assert "one line" in problem.expected
    assert letter not in str(problem)
