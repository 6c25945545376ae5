from __future__ import annotations

from pathlib import Path

import pytest

from linkviz.analysis.photo import Photo
from linkviz.analysis.setup import Setup
from linkviz.errors import FileRefused, LinkvizError
from linkviz.session import edits
from linkviz.session.document import Document
from linkviz.session.session import EditRefused, Event, Session
from linkviz.session.unsaved import Leftover
from linkviz.vehicle.model import Envelope, Vehicle
from linkviz.vehicle.read import read_vehicle
from linkviz.vehicle.sheet_lines import blank_measuring_sheet
from linkviz.vehicle.write import write_vehicle

BOW_TIE = ((0.0, 300.0), (100.0, 400.0), (100.0, 300.0), (0.0, 400.0))


def heard(session: Session) -> list[Event]:
    events: list[Event] = []
    session.subscribe(events.append)
    return events


def test_an_edit_is_told_and_can_be_taken_back(session: Session) -> None:
    events = heard(session)
    session.edit_setup("bracket drop", drop=90.0)
    assert session.document.setup.drop == 90.0
    assert events == ["document", "history"]
    assert session.undo_text == "bracket drop"
    session.undo()
    assert session.document.setup.drop == 0.0
    assert session.redo_text == "bracket drop"
    session.redo()
    assert session.document.setup.drop == 90.0


def test_nobody_is_told_when_nothing_changed(session: Session) -> None:
    events = heard(session)
    session.edit_setup("ride height", lift=100.0)
    session.set_view(travel=0.0)
    session.undo()
    session.redo()
    assert events == []


def test_a_subscriber_can_leave(session: Session) -> None:
    events: list[Event] = []
    leave = session.subscribe(events.append)
    leave()
    leave()
    session.edit_setup("bracket drop", drop=90.0)
    assert events == []


def test_edits_of_one_gesture_are_one_step(session: Session) -> None:
    for drop in range(1, 30):
        session.edit_setup("bracket drop", "drag", drop=float(drop))
    session.end_gesture()
    session.edit_setup("bracket drop", "drag", drop=50.0)
    session.undo()
    assert session.document.setup.drop == 29.0
    session.undo()
    assert session.document.setup.drop == 0.0


def test_setup_is_held_inside_what_the_controls_offer(session: Session) -> None:
    session.edit_setup("ride height", lift=9999.0)
    assert session.document.setup.lift == 200.0
    session.edit_setup("bracket drop", drop=-5.0)
    assert session.document.setup.drop == 0.0


def test_a_vehicle_with_problems_is_refused_and_nothing_changes(session: Session) -> None:
    events = heard(session)
    bad = edits.change_envelope(session.document.vehicle, 0, rear=BOW_TIE)
    before = session.document
    with pytest.raises(EditRefused) as caught:
        session.edit_vehicle(bad, "move corner")
    assert "cross" in str(caught.value)
    assert session.last_error == str(caught.value)
    assert session.document is before
    assert events == []


def test_what_was_typed_is_refused_in_words_and_in_the_unit_of_the_screen(session: Session) -> None:
    session.set_view(unit="in")
    vehicle = session.document.vehicle

    def type_track(track: float) -> str:
        axle = vehicle.axle.replace(track=track)
        with pytest.raises(EditRefused) as caught:
            session.edit_vehicle(vehicle.replace(axle=axle), "set track")
        return str(caught.value)

    assert type_track(40.0).startswith("Axle, track: 1.5748 in (40 mm); expected ")
    assert type_track(1500.0 * 25.4).endswith("or type its unit with it: 1500 mm.")


def test_numbers_that_are_none_are_refused(session: Session) -> None:
    with pytest.raises(EditRefused):
        session.edit_setup("bar longer", bar_longer=float("nan"))
    assert session.document.setup.bar_longer == 0.0


def test_a_preview_is_shown_but_not_kept(session: Session, wagon: Vehicle) -> None:
    events = heard(session)
    assert session.preview(session.document.with_vehicle(edits.rename(wagon, "Other")))
    assert session.shown.vehicle.name == "Other"
    assert session.document.vehicle.name == wagon.name
    assert session.previewing
    session.drop_preview()
    assert session.shown is session.document
    assert events == ["document", "document"]


def test_undo_with_nothing_to_take_back_ends_a_preview_and_says_so(session: Session, wagon: Vehicle) -> None:
    for walk in (session.undo, session.redo):
        session.preview(session.document.with_vehicle(edits.rename(wagon, "Other")))
        events = heard(session)
        walk()
        assert session.shown is session.document
        assert events == ["document"]


def test_a_committed_preview_is_one_step(session: Session, wagon: Vehicle) -> None:
    for i in range(5):
        session.preview(session.document.with_vehicle(edits.rename(wagon, f"Other {i}")))
    session.commit_preview("rename")
    assert not session.previewing
    assert session.document.vehicle.name == "Other 4"
    session.undo()
    assert session.document.vehicle == wagon


def test_a_preview_with_problems_leaves_the_last_good_one(session: Session, wagon: Vehicle) -> None:
    good = edits.rename(wagon, "Good")
    session.preview(session.document.with_vehicle(good))
    assert not session.preview(session.document.with_vehicle(edits.change_envelope(wagon, 0, rear=BOW_TIE)))
    assert session.shown.vehicle == good
    assert "cross" in session.last_error


def test_the_view_stays_in_its_ranges_and_out_of_the_history(session: Session) -> None:
    session.set_view(travel=500.0, roll_deg=-90.0, envelope=7)
    assert session.view.travel == 85.0
    assert session.view.roll_deg == -10.0
    assert session.view.envelope == 0
    assert session.undo_text == ""


def test_a_picked_envelope_that_is_deleted_is_let_go(session: Session, wagon: Vehicle) -> None:
    session.set_view(envelope=0)
    session.edit_vehicle(edits.remove_envelope(wagon, 0), "delete")
    assert session.view.envelope == -1


# -- files


def test_save_and_open_again(session: Session, tmp_path: Path, wagon: Vehicle) -> None:
    file = tmp_path / "mine.vehicle.toml"
    session.edit_vehicle(edits.rename(wagon, "Mine"), "rename")
    assert session.dirty
    session.save_as(str(file))
    assert not session.dirty
    assert session.document.path == str(file)
    assert read_vehicle(file).name == "Mine"
    assert session.store.recent() == [str(file)]
    session.edit_vehicle(edits.rename(session.document.vehicle, "Mine too"), "rename")
    session.save()
    assert read_vehicle(file).name == "Mine too"
    session.undo()
    assert session.dirty
    session.open(str(file))
    assert session.document.vehicle.name == "Mine too"
    assert session.undo_text == ""
    assert session.document.setup == Setup(lift=100.0)


def test_a_bad_file_changes_nothing(session: Session, tmp_path: Path) -> None:
    file = tmp_path / "bad.vehicle.toml"
    file.write_text('format = "linkviz-vehicle/1"\nname = 5\n')
    session.edit_setup("bracket drop", drop=90.0)
    before = session.document
    with pytest.raises(FileRefused):
        session.open(str(file))
    assert session.document is before
    assert session.undo_text == "bracket drop"
    assert session.store.recent() == []


def test_a_vehicle_without_a_file_is_not_saved_anywhere(session: Session) -> None:
    with pytest.raises(LinkvizError, match="Save as"):
        session.save()


def test_a_folder_that_takes_nothing_is_named(session: Session, tmp_path: Path) -> None:
    with pytest.raises(LinkvizError) as caught:
        session.save_as(str(tmp_path / "not there" / "a.vehicle.toml"))
    assert "not there" in str(caught.value)
    assert session.document.path is None
    assert session.last_error


def test_a_demo_has_no_file(session: Session, tmp_path: Path, wagon: Vehicle) -> None:
    write_vehicle(wagon, tmp_path / "demo.vehicle.toml")
    session.new_from(str(tmp_path / "demo.vehicle.toml"))
    assert session.document.path is None
    assert not session.dirty


def test_an_empty_measuring_sheet_is_refused(session: Session, tmp_path: Path) -> None:
    file = tmp_path / "sheet.csv"
    file.write_text(blank_measuring_sheet())
    before = session.document
    with pytest.raises(FileRefused):
        session.import_sheet(str(file))
    assert session.document is before


def test_a_measuring_sheet_becomes_an_unsaved_vehicle(session: Session, tmp_path: Path) -> None:
    rows = ["units;mm", "point;x;y;z;+-", "axle.centre;0;0;370;3", "track;1480", "tyre radius;370", "tyre width;255"]
    rows += ["lower_left.frame;560;420;400;3", "lower_left.axle;0;460;310;3"]
    rows += ["upper_left.frame;300;330;560;3", "upper_left.axle;10;300;500;3"]
    rows += ["lateral_bar.frame;-130;-440;520;3", "lateral_bar.axle;-130;430;440;3"]
    file = tmp_path / "green_van.csv"
    file.write_text("\n".join(rows) + "\n")
    session.import_sheet(str(file), mirror=True)
    assert session.document.vehicle.name == "green van"
    assert session.document.vehicle.links.lower_right.frame == (560.0, -420.0, 400.0)
    assert session.dirty
    assert session.document.path is None


# -- unsaved work


def test_unsaved_work_is_kept_and_dropped_when_saved(session: Session, tmp_path: Path, wagon: Vehicle) -> None:
    folder = session.store.folder / "autosave"
    session.autosave()
    assert not list(folder.glob("*.toml"))
    session.edit_vehicle(edits.rename(wagon, "Half done"), "rename")
    session.autosave()
    assert len(list(folder.glob("*.job.toml"))) == 1
    session.save_as(str(tmp_path / "a.vehicle.toml"))
    assert list(folder.iterdir()) == []


def test_a_lift_that_a_vehicle_file_does_not_hold_is_still_kept_after_a_save(session: Session, tmp_path: Path) -> None:
    session.edit_setup("ride height", lift=120.0)
    session.save_as(str(tmp_path / "a.vehicle.toml"))
    assert not session.dirty
    session.autosave()
    assert session.store.unsaved.file.exists()


def test_recovered_work_is_marked_unsaved_and_touches_no_file(session: Session, tmp_path: Path, wagon: Vehicle) -> None:
    file = tmp_path / "a.vehicle.toml"
    write_vehicle(wagon, file)
    text = file.read_text()
    changed = edits.add_envelope(
        wagon,
        Envelope(
            name="box",
            rear=((0.0, 300.0), (100.0, 300.0), (100.0, 400.0)),
            side=((400.0, 300.0), (500.0, 300.0), (500.0, 400.0)),
        ),
    )
    left = tmp_path / "left.vehicle.toml"
    left.write_text("")
    session.recover(Leftover(left, Document(changed, Setup(lift=50.0), str(file)), 0.0))
    assert session.document.vehicle == changed
    assert session.document.setup.lift == 50.0
    assert session.dirty
    assert file.read_text() == text
    assert not left.exists()
    # the work is safe again at once
    assert session.store.unsaved.file.exists()


def test_recovered_work_without_a_file_is_unsaved(session: Session, tmp_path: Path, wagon: Vehicle) -> None:
    left = tmp_path / "left.vehicle.toml"
    left.write_text("")
    session.recover(Leftover(left, Document(wagon, Setup(), None), 0.0))
    assert session.dirty


def test_a_photo_is_undone_and_kept_with_the_job_without_its_file(session: Session, tmp_path: Path) -> None:
    photo = Photo(view="rear", path=str(tmp_path / "tank.jpg"), left=10.0, top=900.0, scale=0.5, turn=0.1)
    session.edit(session.document.with_photo("rear", photo), "photo behind the rear view")
    session.undo()
    assert session.document.photo("rear") is None
    session.redo()
    assert session.document.photo("rear") == photo
    path = str(tmp_path / "a.job.toml")
    session.save_as(path)
    session.edit(session.document.with_photo("rear", None), "remove photo")
    session.open(path)
    assert session.document.photo("rear") == photo
    assert list(tmp_path.glob("**/*.jpg")) == []
