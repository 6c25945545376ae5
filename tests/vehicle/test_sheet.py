"""The measuring sheet: what is on it, what is missing, doubled or unknown, in plain words."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from linkviz.errors import FileRefused
from linkviz.vehicle.from_sheet import vehicle_from_sheet
from linkviz.vehicle.read import parse_vehicle
from linkviz.vehicle.sheet import parse_measuring_sheet, read_measuring_sheet
from linkviz.vehicle.sheet_lines import NEEDED, QUANTITIES, SHEET_POINTS, blank_measuring_sheet
from linkviz.vehicle.write import dump_vehicle
from tests.hang import no_hang

SHEET = """\
units,mm
point,x,y,z,+-,remarks
axle.centre,0,0,370,,
lower_left.frame,560,420,400,5,hard to reach
lower_left.axle,0,460,310,,
lower_right.frame,560,-420,400,,
lower_right.axle,0,-460,310,,
upper_left.frame,300,330,560,,
upper_left.axle,10,300,500,,
upper_right.frame,300,-330,560,,
upper_right.axle,10,-300,500,,
lateral_bar.frame,-130,-440,520,2,
lateral_bar.axle,-130,430,440,2,
driveshaft.front_joint,1150,0,520,,
driveshaft.pinion_joint,230,0,385,,
driveshaft.radius,38,,,,

# quantities
track,1480,,,,
tyre_radius,370,,,,
tyre_width,255,,,,
pinion_angle_deg,4,,,,
wheelbase,2720,,,,
mass.total,1960,,,,
mass.rear_axle,905,,,,
cg_height,690,,,,
"""


def save(tmp_path: Path, text: str, encoding: str = "utf-8") -> Path:
    """Write a sheet and return its path."""
    path = tmp_path / "sheet.csv"
    path.write_bytes(text.encode(encoding))
    return path


def refused(path: Path, mirror: bool = False) -> list[tuple[str, str]]:
    """Return where and what is wrong with a sheet."""
    with pytest.raises(FileRefused) as caught:
        vehicle_from_sheet(path, "x", mirror=mirror)
    assert caught.value.path == str(path)
    return [(problem.where, problem.found) for problem in caught.value.problems]


def test_a_whole_sheet_makes_a_vehicle_that_can_be_saved(tmp_path: Path) -> None:
    vehicle = vehicle_from_sheet(save(tmp_path, SHEET), "From a sheet")
    assert vehicle.name == "From a sheet" and vehicle.units == "mm"
    assert vehicle.links.lower_right.frame == (560.0, -420.0, 400.0)
    assert vehicle.axle.track == 1480.0 and vehicle.axle.pinion_angle_deg == 4.0
    assert vehicle.driveshaft is not None and vehicle.driveshaft.radius == 38.0
    assert vehicle.mass is not None and vehicle.mass.rear_axle == 905.0
    assert dict(vehicle.measuring.points) == {
        "links.lower_left.frame": 5.0,
        "links.lateral_bar.frame": 2.0,
        "links.lateral_bar.axle": 2.0,
    }
    assert parse_vehicle(dump_vehicle(vehicle)) == vehicle


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_spreadsheets_write_it_their_own_way(tmp_path: Path, encoding: str, mark: str) -> None:
    text = SHEET.replace("+-", "\N{PLUS-MINUS SIGN}").replace(",", mark).replace("\n", "\r\n")
    vehicle = vehicle_from_sheet(save(tmp_path, text, encoding), "x")
    assert vehicle == vehicle_from_sheet(save(tmp_path, SHEET), "x")


def test_a_decimal_comma_goes_with_semicolons(tmp_path: Path) -> None:
    text = "sep=;\n" + SHEET.replace(",", ";").replace("track;1480", "track;1480,5")
    assert vehicle_from_sheet(save(tmp_path, text), "x").axle.track == 1480.5


def test_inches_may_be_fractions(tmp_path: Path) -> None:
    text = 'units,in\npoint,x,y,z,+-\nlower_left.frame,22 1/16",16-1/2,15.75 in,1/8\ntyre_width,255 mm\n'
    sheet = read_measuring_sheet(save(tmp_path, text))
    assert sheet.units == "in" and sheet.problems == ()
    assert sheet.points["links.lower_left.frame"] == pytest.approx((22.0625 * 25.4, 16.5 * 25.4, 15.75 * 25.4))
    assert sheet.uncertainty["links.lower_left.frame"] == pytest.approx(3.175)
    assert sheet.quantities["axle.tyre_width"] == 255.0


def test_names_are_taken_as_people_type_them_and_columns_by_their_heading() -> None:
    sheet = parse_measuring_sheet(
        "units;mm\npoint;z;remarks;y;x\nLower-Left Frame;1;;2;3\nlinks.lateral_bar.axle;4;;5;6\n"
    )
    assert sheet.points == {"links.lateral_bar.axle": (6.0, 5.0, 4.0)}
    assert '"lower_left.frame"' in sheet.problems[0].expected


def test_every_missing_point_is_told_in_plain_words(tmp_path: Path) -> None:
    lines = [
        line for line in SHEET.splitlines() if not line.startswith(("lower_left.frame", "lateral_bar.axle", "track"))
    ]
    found = refused(save(tmp_path, "\n".join(lines)))
    assert found == [
        ("track", "nothing"),
        ("lower left link, frame end", "nothing"),
        ("lateral bar, axle end", "nothing"),
    ]


def test_a_line_left_empty_counts_as_missing(tmp_path: Path) -> None:
    path = save(tmp_path, SHEET.replace("lower_left.axle,0,460,310", "lower_left.axle,,,"))
    assert refused(path) == [("lower left link, axle end", "nothing")]


def test_a_driveshaft_and_masses_are_wanted_whole_or_not_at_all(tmp_path: Path) -> None:
    text = SHEET.replace("driveshaft.radius,38,,,,\n", "").replace("mass.total,1960,,,,\n", "")
    assert refused(save(tmp_path, text)) == [
        ("driveshaft, radius of the tube", "nothing"),
        ("total mass in kg", "nothing"),
    ]
    bare = "\n".join(line for line in SHEET.splitlines() if not line.startswith(("driveshaft", "wheel", "mass", "cg")))
    vehicle = vehicle_from_sheet(save(tmp_path, bare), "x")
    assert vehicle.driveshaft is None and vehicle.mass is None


def test_the_other_side_is_mirrored_only_when_asked(tmp_path: Path) -> None:
    one_sided = "\n".join(line for line in SHEET.splitlines() if not line.startswith(("lower_right", "upper_left")))
    path = save(tmp_path, one_sided)
    assert [where for where, _ in refused(path)] == [
        "lower right link, frame end",
        "lower right link, axle end",
        "upper left link, frame end",
        "upper left link, axle end",
    ]
    assert "or mirror the other side" in read_measuring_sheet(path).missing()[0].expected
    vehicle = vehicle_from_sheet(path, "x", mirror=True)
    assert vehicle.links == vehicle_from_sheet(save(tmp_path, SHEET), "x").links
    assert dict(vehicle.measuring.points)["links.lower_right.frame"] == 5.0


def test_mirroring_does_not_invent_what_neither_side_has(tmp_path: Path) -> None:
    path = save(tmp_path, "\n".join(line for line in SHEET.splitlines() if not line.startswith("lower_")))
    assert next(where for where, _ in refused(path, mirror=True)) == "lower left link, frame end"


def test_what_is_doubled_unknown_or_no_number_is_told_by_line(tmp_path: Path) -> None:
    text = (
        SHEET.replace("tyre_width,255", "track,1490,,,,\ntyre_with,255")
        .replace("upper_left.axle,10,300,500", "upper_left.axle,10,three,500")
        .replace("upper_right.axle,10,-300,500", "upper_right.axle,10,-300,")
    )
    found = refused(save(tmp_path, text))
    assert found == [
        ("line 9", 'y of upper left link, axle end: the text "three"'),
        ("line 11", "no z for upper right link, axle end"),
        ("line 21", "track again, as in line 19"),
        ("line 22", "the unknown point 'tyre_with'"),
        ("tyre width", "nothing"),
    ]


def test_a_decimal_comma_between_commas_is_noticed() -> None:
    sheet = parse_measuring_sheet("units,mm\npoint,x,y,z\ntrack,1480,5\n")
    assert sheet.problems[0].found == "more than one number for track"
    assert "separate columns by ;" in sheet.problems[0].expected


@pytest.mark.parametrize("typed", ["26 in", "26mm", '26"', "1' 2"])
def test_a_length_is_no_mass_rate_or_angle(typed: str) -> None:
    sheet = parse_measuring_sheet(f"units;mm\npoint;x;y;z\nspring.rate;{typed}\nsprings.rate;{typed}\n")
    assert sheet.quantities == {}
    assert sheet.problems[-1].expected == "a plain number"
    plain = parse_measuring_sheet("units;in\npoint;x;y;z\nsprings.rate;26,5\npinion_angle_deg;-3 1/2\n")
    assert plain.quantities == {"springs.rate": 26.5, "axle.pinion_angle_deg": -3.5}


def test_absurd_values_are_refused_in_plain_words(tmp_path: Path) -> None:
    assert refused(save(tmp_path, SHEET.replace("track,1480", "track,148"))) == [("track", "148 mm")]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("hello\nworld\n", "no line that begins with point or units"),
        ("point,x,y,z\nlower_left.frame,1,2,3\n", "no unit"),
        ("units,cm\npoint,x,y,z\n", 'the text "cm"'),
        ("units,mm\nlower_left.frame,1,2,3\n", "no heading"),
        ("units,mm\npoint,x,y\n", "a heading without z"),
        ("units,mm\0\npoint,x,y\n", "binary data"),
        ("", "an empty file"),
    ],
)
def test_what_is_no_measuring_sheet_is_refused(tmp_path: Path, text: str, words: str) -> None:
    with pytest.raises(FileRefused, match=words):
        read_measuring_sheet(save(tmp_path, text))


@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_blank_sheet_explains_every_line_and_is_read_back_as_empty(units: str) -> None:
    text = blank_measuring_sheet("in" if units == "in" else "mm")
    rows = list(csv.reader(io.StringIO(text)))
    assert rows[0] == ["units", units]
    assert len(rows) == 2 + len(SHEET_POINTS) + len(QUANTITIES)
    assert all(len(row[5]) > 15 for row in rows[2:])
    sheet = parse_measuring_sheet(text)
    assert sheet.units == units and sheet.problems == ()
    assert len(sheet.missing()) == len(NEEDED)


def test_a_blank_sheet_filled_in_makes_a_vehicle(tmp_path: Path) -> None:
    values = {row[0]: row[1:5] for row in csv.reader(io.StringIO(SHEET)) if row}
    filled = io.StringIO()
    writer = csv.writer(filled)
    for row in csv.reader(io.StringIO(blank_measuring_sheet("mm"))):
        known = row[0] in values and row[0] not in ("units", "point")
        writer.writerow([row[0], *values[row[0]], *row[5:]] if known else row)
    vehicle = vehicle_from_sheet(save(tmp_path, filled.getvalue()), "x")
    assert vehicle == vehicle_from_sheet(save(tmp_path, SHEET), "x")


FITTINGS = """\
driveshaft.output_angle_deg;4,5
driveshaft.slip.extend;35
driveshaft.slip.compress;40
springs.body;-20;430;610;5
springs.axle;-15;440;385
springs.free_length;367
springs.rate;26
dampers.body;-110;360;720
dampers.axle;-130;480;330
dampers.shortest;310
dampers.longest;515
bump_stops.body;40;390;610
bump_stops.axle;40;400;440
bump_stops.free_height;75
"""


def with_fittings(lines: str) -> str:
    return SHEET.rstrip("\n") + "\n" + lines.replace(",", ".").replace(";", ",")


def test_springs_and_the_rest_on_a_sheet(tmp_path: Path) -> None:
    vehicle = vehicle_from_sheet(save(tmp_path, with_fittings(FITTINGS)), "x")
    assert vehicle.springs is not None and vehicle.dampers is not None and vehicle.bump_stops is not None
    assert vehicle.springs.body == (-20.0, 430.0, 610.0)
    assert vehicle.springs.rate == 26.0
    assert vehicle.dampers.longest == 515.0
    assert vehicle.bump_stops.free_height == 75.0
    assert vehicle.driveshaft is not None and vehicle.driveshaft.slip is not None
    assert (vehicle.driveshaft.slip.extend, vehicle.driveshaft.slip.compress) == (35.0, 40.0)
    assert vehicle.driveshaft.output_angle_deg == 4.5
    assert ("springs.body", 5.0) in vehicle.measuring.points
    assert parse_vehicle(dump_vehicle(vehicle)) == vehicle


def test_half_a_spring_is_not_enough(tmp_path: Path) -> None:
    with pytest.raises(FileRefused) as caught:
        vehicle_from_sheet(save(tmp_path, with_fittings("springs.body;-20;430;610\n")), "x")
    text = str(caught.value)
    assert "left spring, lower seat" in text and "spring rate in N/mm" in text


def test_slip_without_a_shaft_is_not_dropped(tmp_path: Path) -> None:
    lines = [line for line in SHEET.splitlines() if not line.startswith(("driveshaft", "radius"))]
    text = "\n".join([*lines, "driveshaft.slip.extend,35", "driveshaft.slip.compress,40"])
    with pytest.raises(FileRefused, match="driveshaft, radius of the tube"):
        vehicle_from_sheet(save(tmp_path, text), "x")


HEADING = "units,mm\npoint,x,y,z,+-\n"
ENDLESS = {
    "rows": (HEADING + "track,1\n" * 100_000, "again"),
    "unknown": (HEADING + "trakc,1,2,3\n" * 80_000, "unknown point"),
    "known": (HEADING + "track;;;\n" * 100_000, "unknown point"),
    "cell": (HEADING + "track," + "9" * 200_000 + "\n", "no CSV"),
    "long name": (HEADING + "n" * 100_000 + ",1,2,3\n", "unknown point"),
    "digits": (HEADING + "track," + "9" * 5000 + "/2\n", "track"),
    "blanks": (HEADING + "track,1'" + " " * 100_000 + "x\n", "track"),
    "quotes": (HEADING + '"' * 99_999 + "\n", "line"),
    "spaces": (" " * 900_000 + "\npoint", "no line that begins"),
    "columns": ("units,mm\npoint" + ",x" * 400_000 + "\n", "heading without"),
    "escape": (HEADING + "a\x1b[31m\u202e\x9b,1,2,3\n", "unknown point"),
    "one line": (HEADING + "track,1," * 100_000, "more than one number"),
}


@pytest.mark.parametrize("kind", ENDLESS)
def test_endless_and_strange_sheets_are_refused_at_once(tmp_path: Path, kind: str) -> None:
    text, words = ENDLESS[kind]
    path = tmp_path / "a.csv"
    path.write_text(text, encoding="utf-8")
    with no_hang(), pytest.raises(FileRefused, match=words) as caught:
        vehicle_from_sheet(path, "bench")
    assert len(str(caught.value)) < 300_000
    assert all(line.isprintable() for line in str(caught.value).splitlines())


def test_a_sheet_with_the_line_ends_of_old_machines_is_read(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes(HEADING.replace("\n", "\r").encode() + b"track,1480\rtyre radius,370\r")
    assert read_measuring_sheet(path).quantities == {"axle.track": 1480.0, "axle.tyre_radius": 370.0}


@pytest.mark.parametrize(
    ("line", "found", "expected"),
    [
        ("track;1,480", 'value of track: the text "1,480"', "1480 or 1.48"),
        ("track;1.480", 'value of track: the text "1.480"', "1480, or 1.4800 if the point is a decimal one"),
        ("track;1.480,5", 'value of track: the text "1.480,5"', "1480.5"),
        (
            "mass.total;1.960",
            'value of total mass in kg: the text "1.960"',
            "1960, or 1.9600 if the point is a decimal one",
        ),
        (
            "axle.centre;0;-1.370;12",
            'y of axle centre: the text "-1.370"',
            "-1370, or -1.3700 if the point is a decimal one",
        ),
        (
            "axle.centre;0;1.370;2,5",
            'y of axle centre: the text "1.370"',
            "1370, or 1,370 if the point is a decimal one",
        ),
        (
            "axle.centre;0,5;1.370;2.5",
            'y of axle centre: the text "1.370"',
            "1370, or 1.3700 if the point is a decimal one",
        ),
        ("axle.centre;0;0;1,370", 'z of axle centre: the text "1,370"', "1370 or 1.37"),
    ],
)
def test_numbers_that_may_mean_two_are_asked_about(line: str, found: str, expected: str) -> None:
    sheet = parse_measuring_sheet(f"units;mm\npoint;x;y;z;+-\n{line}\n")
    (problem,) = sheet.problems
    assert problem.found == f"{found}, whose mark may stand between thousands"
    assert problem.expected == expected
    assert not sheet.points and not sheet.quantities


@pytest.mark.parametrize("proof", ["1234.567", "0.125", "370.5"])
@pytest.mark.parametrize("mark", [".", ","])
def test_one_number_of_a_sheet_tells_its_decimal_mark(proof: str, mark: str) -> None:
    lines = f"track;812.345\naxle.centre;-1.250 mm;0;999.999\ntyre_radius;{proof}\n".replace(".", mark)
    sheet = parse_measuring_sheet(f"units;mm\npoint;x;y;z;+-\n{lines}".replace("axle,centre", "axle.centre"))
    assert not sheet.problems
    assert sheet.quantities["axle.track"] == 812.345
    assert sheet.points["axle.centre"] == (-1.25, 0.0, 999.999)


def test_eighths_of_an_inch_have_three_decimals() -> None:
    sheet = parse_measuring_sheet("units;in\npoint;x;y;z;+-\ntrack;58.125\n")
    assert sheet.quantities["axle.track"] == pytest.approx(58.125 * 25.4)
    assert parse_measuring_sheet("units;in\npoint;x;y;z\ntrack;58.125\ntyre_radius;14,5\n").problems
    sheet = parse_measuring_sheet("units,mm\npoint,x,y,z,+-\ntrack,1480.125\ntyre_radius,370.125\n")
    assert sheet.quantities["axle.tyre_radius"] == 370.125
    assert not sheet.problems


@pytest.mark.parametrize("heads", ["point,x,y,z,+-", "point,x,y,z,+-,what it is", "point,x,y,z"])
@pytest.mark.parametrize("line", ["lower_left.frame,1,000,420,400,3", "lower_left.frame,560,5,420,5,400,3"])
def test_commas_in_numbers_between_commas_are_noticed(heads: str, line: str) -> None:
    sheet = parse_measuring_sheet(f"units,mm\n{heads}\n{line}\n")
    (problem,) = sheet.problems
    assert problem.where == "line 3"
    assert "more numbers than columns" in problem.found
    assert "no comma between thousands, or separate columns by ;" in problem.expected
    assert not sheet.points


def test_a_number_of_a_photo_behind_a_point_is_none_of_the_point() -> None:
    sheet = parse_measuring_sheet("units,mm\npoint,x,y,z,+-,photo\nlower_left.frame,560,420,400,3,17\n")
    assert not sheet.problems
    assert sheet.points["links.lower_left.frame"] == (560.0, 420.0, 400.0)
    sheet = parse_measuring_sheet("units,mm\npoint,x,y,z,+-\nlower_left.frame,560,420,400,3,bolt, rusty\n")
    assert not sheet.problems
