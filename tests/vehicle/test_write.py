"""Writing vehicle files: the numbers come back, comments and layout stay, a failed save loses nothing."""

from __future__ import annotations

import contextlib
import io
import os
import stat
import subprocess
import sys
import threading
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from linkviz.errors import LinkvizError
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import (
    Axle,
    Driveshaft,
    Envelope,
    Link,
    Links,
    Mass,
    Measuring,
    Sizes,
    Travel,
    Vehicle,
    Watch,
)
from linkviz.vehicle.part import Part, values_of
from linkviz.vehicle.problems import problems_of
from linkviz.vehicle.read import parse_vehicle, read_vehicle, vehicle_from_data
from linkviz.vehicle.saving import save_text
from linkviz.vehicle.write import data_of, dump_vehicle, write_vehicle
from tests.hang import no_hang
from tests.vehicles import SHOWN


def flat(value: Any) -> list[Any]:
    """Return the numbers and texts of a part in order."""
    if isinstance(value, Part):
        return [leaf for key, held in values_of(value).items() for leaf in (key, *flat(held))]
    if isinstance(value, list | tuple):
        return [leaf for item in value for leaf in flat(item)]
    return [value]


def assert_same(one: Vehicle, other: Vehicle) -> None:
    """Assert that two vehicles are equal, numbers to 1e-9."""
    a, b = flat(one), flat(other)
    assert len(a) == len(b)
    for x, y in zip(a, b, strict=True):
        assert x == y or (isinstance(x, float) and abs(x - y) <= 1e-9), (x, y)


def changed(vehicle: Vehicle, table: str, **changes: Any) -> Vehicle:
    """Return a vehicle with values of one table changed."""
    return vehicle.replace(**{table: getattr(vehicle, table).replace(**changes)})


def test_an_unchanged_vehicle_leaves_the_text_as_it_is(sound: str) -> None:
    assert dump_vehicle(parse_vehicle(sound), sound) == sound


@pytest.mark.parametrize("path", demo_vehicle_paths(), ids=lambda path: path.name.split(".")[0])
def test_demo_vehicles_survive_a_save_byte_for_byte(path: Path, tmp_path: Path) -> None:
    copy = tmp_path / path.name
    copy.write_bytes(path.read_bytes())
    write_vehicle(read_vehicle(copy), copy)
    assert copy.read_bytes() == path.read_bytes()


def test_only_the_changed_line_changes(sound: str) -> None:
    vehicle = changed(parse_vehicle(sound), "axle", track=1500.5, centre=(0.0, 0.0, 371.0))
    expected = sound.replace("track = 1480", "track = 1500.5").replace("370.0]  # under", "371.0]  # under")
    assert dump_vehicle(vehicle, sound) == expected


def test_a_moved_corner_keeps_the_comments_in_its_list(sound: str) -> None:
    vehicle = parse_vehicle(sound)
    tank = vehicle.envelopes[0]
    tank = tank.replace(rear=((111.0, 300.0), *tank.rear[1:]))
    text = dump_vehicle(vehicle.replace(envelopes=(tank, vehicle.envelopes[1])), sound)
    assert text == sound.replace("[100.0, 300.0],  # inner", "[111.0, 300.0],  # inner")


def test_an_inserted_corner_replaces_its_list_alone(sound: str) -> None:
    vehicle = parse_vehicle(sound)
    tank = vehicle.envelopes[0]
    tank = tank.replace(rear=(*tank.rear, (80.0, 400.0)))
    edited = vehicle.replace(envelopes=(tank, vehicle.envelopes[1]))
    text = dump_vehicle(edited, sound)
    assert_same(parse_vehicle(text), edited)
    assert "# the big one" in text and text.endswith(sound[sound.index("side = [[350.0, 300.0], [900.0") :])


def test_envelopes_come_go_and_change_places(sound: str) -> None:
    vehicle = parse_vehicle(sound)
    tank, exhaust = vehicle.envelopes
    plate = exhaust.replace(name="skid plate")
    for envelopes in (
        (tank,),
        (exhaust,),
        (exhaust, tank),
        (tank, exhaust, plate),
        (plate, tank),
        (tank.replace(name="long tank"), exhaust),
        (),
    ):
        edited = vehicle.replace(envelopes=envelopes)
        text = dump_vehicle(edited, sound)
        assert_same(parse_vehicle(text), edited)
        assert "# the links, left first" in text
        assert ("# the big one" in text) == any("tank" in envelope.name for envelope in envelopes)


def test_tables_come_and_go(sound: str) -> None:
    vehicle = parse_vehicle(sound)
    bare = vehicle.replace(driveshaft=None, mass=None, envelopes=(), measuring=Measuring(), note="new")
    text = dump_vehicle(bare, sound)
    assert_same(parse_vehicle(text), bare)
    assert "driveshaft" not in text and "# tape in mm" in text
    again = dump_vehicle(vehicle, text)
    assert_same(parse_vehicle(again), vehicle)


def test_defaults_are_not_written_into_an_old_file(sound: str) -> None:
    short = sound.partition("[driveshaft]")[0]
    assert dump_vehicle(changed(parse_vehicle(short), "axle", track=1481.0), short) == short.replace("1480", "1481.0")


def test_a_change_of_unit_rewrites_the_lengths_and_keeps_the_comments(sound: str) -> None:
    vehicle = parse_vehicle(sound).replace(units="in")
    text = dump_vehicle(vehicle, sound)
    assert_same(parse_vehicle(text), vehicle)
    assert "# inner lower corner" in text and "stiffness = 4000.0" in text


def test_inches_are_written_with_the_digits_they_need(sound: str) -> None:
    vehicle = changed(parse_vehicle(sound), "axle", track=3.5 * 25.4 * 17)
    text = dump_vehicle(vehicle.replace(units="in"))
    assert "track = 59.5\n" in text


@pytest.mark.parametrize("layout", ["links_inline", "dotted", "split"])
def test_other_ways_to_write_the_same_tables_are_edited_too(sound: str, layout: str) -> None:
    if layout == "links_inline":
        head, _, rest = sound.partition("[links.lateral_bar]")
        _, _, tail = rest.partition("[driveshaft]")
        bar = "lateral_bar = {frame = [-130.0, -440.0, 520.0], axle = [-130.0, 430.0, 440.0]}"
        text = f"{head}[links]\n{bar}\n[driveshaft]{tail}"
    elif layout == "dotted":
        text = sound.replace("[travel]\n", "").replace("jounce =", "#").replace("rebound =", "#")
        text = text.replace('name = "Test bench"', 'name = "Test bench"\ntravel.jounce = 85.0\ntravel.rebound = 90.0')
    else:
        bar = sound[sound.index("[links.lateral_bar]") : sound.index("[driveshaft]")]
        text = sound.replace(bar, "") + "\n" + bar
    vehicle = parse_vehicle(text)
    assert_same(vehicle, parse_vehicle(sound))
    bar_link = vehicle.links.lateral_bar.replace(frame=(-130.0, -440.0, 425.0))
    edited = changed(changed(vehicle, "links", lateral_bar=bar_link), "travel", jounce=70.0)
    assert_same(parse_vehicle(dump_vehicle(edited, text)), edited)


def test_text_that_is_no_vehicle_file_is_replaced_whole(sound: str) -> None:
    vehicle = parse_vehicle(sound)
    for old in ("", "x = [", 'format = "other"', "a = " + "[" * 20_000):
        assert dump_vehicle(vehicle, old) == dump_vehicle(vehicle)


def test_embedded_data_give_the_vehicle_again(sound: str) -> None:
    vehicle = parse_vehicle(sound).replace(units="in")
    assert_same(vehicle_from_data(data_of(vehicle)), vehicle)


def _at(around: float, spread: float) -> st.SearchStrategy[float]:
    return st.floats(around - spread, around + spread)


def _point(x: float, y: float, z: float) -> st.SearchStrategy[tuple[float, float, float]]:
    return st.tuples(_at(x, 40.0), _at(y, 40.0), _at(z, 40.0))


def _link(frame: tuple[float, float, float], axle: tuple[float, float, float]) -> st.SearchStrategy[Link]:
    return st.builds(Link, frame=_point(*frame), axle=_point(*axle), stiffness=st.none() | st.floats(100.0, 9000.0))


VEHICLES = st.builds(
    Vehicle,
    name=st.text(SHOWN, min_size=1, max_size=20).filter(str.strip),
    units=st.sampled_from(["mm", "in"]),
    note=st.text(SHOWN | st.sampled_from("\n\t"), max_size=30),
    axle=st.builds(
        Axle,
        centre=_point(0, 0, 370),
        track=_at(1500, 300),
        tyre_radius=_at(400, 90),
        tyre_width=_at(250, 70),
        pinion_angle_deg=_at(0, 10),
    ),
    links=st.builds(
        Links,
        lower_left=_link((560, 420, 400), (0, 460, 310)),
        lower_right=_link((560, -420, 400), (0, -460, 310)),
        upper_left=_link((300, 330, 560), (10, 300, 500)),
        upper_right=_link((300, -330, 560), (10, -300, 500)),
        lateral_bar=_link((-130, -440, 520), (-130, 430, 440)),
    ),
    driveshaft=st.none()
    | st.builds(Driveshaft, front_joint=_point(1150, 0, 520), pinion_joint=_point(230, 0, 385), radius=_at(40, 20)),
    envelopes=st.lists(
        st.builds(
            Envelope,
            name=st.text(SHOWN, min_size=1, max_size=8).filter(str.strip),
            rear=st.tuples(
                st.tuples(_at(100, 20), _at(300, 20)),
                st.tuples(_at(300, 20), _at(300, 20)),
                st.tuples(_at(200, 20), _at(500, 20)),
            ),
            side=st.just(((350.0, 300.0), (900.0, 320.0), (600.0, 500.0))),
            margin=st.floats(0, 50),
        ),
        max_size=3,
        unique_by=lambda envelope: envelope.name,
    ).map(tuple),
    mass=st.none()
    | st.builds(Mass, wheelbase=_at(2800, 300), total=_at(2000, 300), rear_axle=_at(900, 200), cg_height=_at(700, 100)),
    travel=st.builds(Travel, jounce=st.floats(0, 200), rebound=st.floats(0, 200)),
    measuring=st.builds(
        Measuring,
        u=st.floats(0, 20),
        points=st.sampled_from([(), (("links.lower_left.frame", 2.5), ("axle.centre", 1.0))]),
    ),
)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(vehicle=VEHICLES)
def test_any_vehicle_comes_back_exactly_alone_and_over_an_old_text(sound: str, vehicle: Vehicle) -> None:
    assert_same(parse_vehicle(dump_vehicle(vehicle)), vehicle)
    over = dump_vehicle(vehicle, sound)
    assert_same(parse_vehicle(over), vehicle)
    assert "# measured by hand" in over and "# the links, left first" in over


def test_a_failed_save_leaves_the_old_file_whole(tmp_path: Path, sound: str, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.vehicle.toml"
    path.write_text(sound, encoding="utf-8")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("linkviz.vehicle.saving.os.fsync", full)
    with pytest.raises(
        LinkvizError, match=r"could not be saved: No space left on device. Nothing was changed; save under"
    ):
        write_vehicle(changed(parse_vehicle(sound), "axle", track=1500.0), path)
    assert path.read_text(encoding="utf-8") == sound
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is read-only for the root user")
def test_a_read_only_folder_is_told(tmp_path: Path, sound: str) -> None:
    tmp_path.chmod(0o555)
    with pytest.raises(LinkvizError, match="could not be saved: Permission denied"):
        write_vehicle(parse_vehicle(sound), tmp_path / "a.vehicle.toml")
    tmp_path.chmod(0o755)


def test_a_folder_that_refuses_is_told_by_its_reason(
    tmp_path: Path, sound: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("linkviz.vehicle.saving.os.open", refuse)
    with pytest.raises(LinkvizError, match="Permission denied") as caught:
        write_vehicle(parse_vehicle(sound), tmp_path / "a.vehicle.toml")
    assert str(tmp_path / "a.vehicle.toml") in str(caught.value)


def test_a_path_that_cannot_be_is_told(tmp_path: Path, sound: str) -> None:
    vehicle = parse_vehicle(sound)
    with pytest.raises(LinkvizError, match="it is a folder"):
        write_vehicle(vehicle, tmp_path)
    with pytest.raises(LinkvizError, match="could not be saved"):
        write_vehicle(vehicle, tmp_path / "no such folder" / "a.vehicle.toml")


def test_a_link_is_followed_and_permissions_stay(tmp_path: Path, sound: str) -> None:
    real, link = tmp_path / "real.vehicle.toml", tmp_path / "link.vehicle.toml"
    real.write_text(sound, encoding="utf-8")
    real.chmod(0o640)
    link.symlink_to(real)
    write_vehicle(changed(parse_vehicle(sound), "axle", track=1500.0), link)
    assert link.is_symlink() and read_vehicle(real).axle.track == 1500.0
    assert real.stat().st_mode & 0o777 == 0o640


def test_new_files_have_the_permissions_the_user_wants_whatever_else_is_saved_just_then(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The mask of permissions belongs to the whole process: who changes it for a moment changes it for all threads."""
    real, both = os.umask, threading.Barrier(2)

    def slow(mask: int) -> int:
        with contextlib.suppress(threading.BrokenBarrierError):
            both.wait(1.0)
        return real(mask)

    before = real(0o027)
    try:
        with monkeypatch.context() as patched:
            patched.setattr(os, "umask", slow)
            threads = [threading.Thread(target=save_text, args=(tmp_path / name, "text")) for name in "ab"]
            for thread in threads:
                thread.start()
            for thread in threads:
                thread.join()
        assert [(tmp_path / name).stat().st_mode & 0o777 for name in "ab"] == [0o640, 0o640]
    finally:
        assert real(before) == 0o027


def test_reading_does_not_import_the_writers_library() -> None:
    code = (
        "import sys, linkviz.vehicle.write, linkviz.vehicle.from_sheet;"
        "print({'tomlkit', 'shapely', 'scipy', 'numpy'} & set(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "set()"


@pytest.mark.parametrize("name", ["a\x00b", "n" * 5000, "pipe", "/dev/null", "no/such/folder"])
def test_what_is_no_place_for_a_file_is_left_as_it_is(tmp_path: Path, name: str) -> None:
    os.mkfifo(tmp_path / "pipe")
    there = {p.name: p.lstat().st_mode for p in tmp_path.iterdir()}
    with pytest.raises(LinkvizError, match="could not be saved"):
        save_text(str(tmp_path / name), "text")
    assert {p.name: p.lstat().st_mode for p in tmp_path.iterdir()} == there
    assert stat.S_ISCHR(os.stat("/dev/null").st_mode)


def test_a_letter_that_is_no_text_is_told(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("old")
    with pytest.raises(LinkvizError, match="a letter that is no text") as caught:
        save_text(tmp_path / "a", "the photo br\udcfccke.png")
    assert str(caught.value).isprintable()
    assert (tmp_path / "a").read_text() == "old"


@pytest.mark.parametrize("call", ["write", "fsync", "replace", "chmod"])
def test_a_disk_that_is_full_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    (tmp_path / "a").write_text("old")
    if call == "write":
        monkeypatch.setattr("linkviz.vehicle.saving.os.fdopen", lambda handle, mode: FullDisk(handle))
    else:
        monkeypatch.setattr(f"linkviz.vehicle.saving.os.{call}", full)
    with pytest.raises(LinkvizError, match="No space left"):
        save_text(tmp_path / "a", "new")
    assert (tmp_path / "a").read_text() == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["a"]


class FullDisk(io.BytesIO):
    """A file on a full disk."""

    def __init__(self, handle: int) -> None:
        super().__init__()
        os.close(handle)

    def write(self, _: object) -> int:
        raise OSError(28, "No space left on device")


def test_a_file_of_nothing_but_lines_is_written_anew_at_once(sound: str) -> None:
    vehicle = parse_vehicle(sound)
    with no_hang(5.0):
        text = dump_vehicle(vehicle, sound + "\n" * 900_000)
    assert_same(parse_vehicle(text), vehicle)
    assert len(text) < 2 * len(sound)


def test_values_at_the_end_of_their_ranges_come_back_from_a_file_in_inches() -> None:
    vehicle = read_vehicle(demo_vehicle_paths()[0])
    far = vehicle.envelopes[0].replace(
        name="far", margin=300.0, side=((-6000.0, 0.0), (-5900.0, 0.0), (-5900.0, 900.0), (-6000.0, 900.0))
    )
    ends = vehicle.replace(
        units="in",
        axle=vehicle.axle.replace(tyre_width=700.0),
        travel=vehicle.travel.replace(jounce=500.0, rebound=500.0),
        measuring=Measuring(u=100.0, points=(("springs.body", 100.0), ("dampers.body", 0.1))),
        sizes=Sizes(yoke_radius=200.0, eye_radius=100.0, housing_radius=300.0, bracket_length=400.0),
        pairs=(Watch(one="lateral bar", other="far", margin=300.0),),
        envelopes=(*vehicle.envelopes, far),
    )
    assert problems_of(ends) == []
    assert_same(parse_vehicle(dump_vehicle(ends)), ends)
