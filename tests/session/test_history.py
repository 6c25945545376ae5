from __future__ import annotations

from linkviz.analysis.setup import Setup
from linkviz.session.document import Document
from linkviz.session.history import History
from linkviz.vehicle.model import Vehicle


def lifted(wagon: Vehicle, lift: float) -> Document:
    return Document(wagon, Setup(lift=lift))


def test_undo_and_redo_walk_over_every_state(wagon: Vehicle) -> None:
    history = History(lifted(wagon, 0))
    for lift in (10, 20, 30):
        history.push(lifted(wagon, lift), f"lift {lift}")
    seen = []
    while history.undo():
        seen.append(history.document.setup.lift)
    assert seen == [20, 10, 0]
    assert not history.undo()
    while history.redo():
        seen.append(history.document.setup.lift)
    assert seen[3:] == [10, 20, 30]
    assert not history.redo()


def test_texts_name_what_would_happen(wagon: Vehicle) -> None:
    history = History(lifted(wagon, 0))
    assert (history.undo_text, history.redo_text) == ("", "")
    history.push(lifted(wagon, 10), "ride height")
    assert (history.undo_text, history.redo_text) == ("ride height", "")
    history.undo()
    assert (history.undo_text, history.redo_text) == ("", "ride height")


def test_a_gesture_is_one_step(wagon: Vehicle) -> None:
    history = History(lifted(wagon, 0))
    key = object()
    for lift in range(1, 21):
        history.push(lifted(wagon, lift), "ride height", key)
    assert len(history) == 1
    history.undo()
    assert history.document.setup.lift == 0


def test_two_gestures_are_two_steps(wagon: Vehicle) -> None:
    history = History(lifted(wagon, 0))
    history.push(lifted(wagon, 10), "ride height", "key")
    history.seal()
    history.push(lifted(wagon, 20), "ride height", "key")
    assert len(history) == 2


def test_an_edit_after_undo_or_redo_is_a_step_of_its_own(wagon: Vehicle) -> None:
    history = History(lifted(wagon, 0))
    history.push(lifted(wagon, 10), "photo strength", "strength")
    history.push(lifted(wagon, 20), "another")
    history.undo()
    history.push(lifted(wagon, 30), "photo strength", "strength")
    assert len(history) == 2
    history.undo()
    assert history.document.setup.lift == 10
    history.redo()
    history.push(lifted(wagon, 40), "photo strength", "strength")
    assert len(history) == 3


def test_a_gesture_that_ends_where_it_began_leaves_no_step(wagon: Vehicle) -> None:
    history = History(lifted(wagon, 0))
    key = object()
    history.push(lifted(wagon, 10), "ride height", key)
    history.push(lifted(wagon, 0), "ride height", key)
    assert len(history) == 0
    assert history.document.setup.lift == 0


def test_an_edit_that_changes_nothing_is_no_step(wagon: Vehicle) -> None:
    history = History(lifted(wagon, 0))
    history.push(lifted(wagon, 0), "nothing")
    assert len(history) == 0


def test_a_new_edit_ends_what_was_taken_back(wagon: Vehicle) -> None:
    history = History(lifted(wagon, 0))
    history.push(lifted(wagon, 10), "one")
    history.undo()
    history.push(lifted(wagon, 20), "two")
    assert history.redo_text == ""
    history.undo()
    assert history.document.setup.lift == 0


def test_only_so_many_steps_are_kept(wagon: Vehicle) -> None:
    history = History(lifted(wagon, 0), limit=3)
    for lift in range(1, 10):
        history.push(lifted(wagon, lift), "ride height")
    assert len(history) == 3
    while history.undo():
        pass
    assert history.document.setup.lift == 6


def test_a_new_path_goes_to_every_state(wagon: Vehicle) -> None:
    history = History(lifted(wagon, 0))
    history.push(lifted(wagon, 10), "one")
    history.move_to("/tmp/a.vehicle.toml", "vehicle")
    history.undo()
    assert history.document.path == "/tmp/a.vehicle.toml"
    assert history.redo_text == "one"
