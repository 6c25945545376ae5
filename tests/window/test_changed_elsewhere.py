"""Save onto a file that others changed: the question, its answers, and that nothing is lost whichever is given."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtWidgets import QFileDialog, QMessageBox, QPushButton

from linkviz.session import edits
from linkviz.session.seen import Changed
from linkviz.vehicle.read import read_vehicle
from linkviz.window import dialogs
from linkviz.window.window import MainWindow
from tests.window.attend import Attend

THEIRS = "# theirs\n"


@pytest.fixture
def file(window: MainWindow, tmp_path: Path) -> Path:
    """Return a vehicle file that is open and edited in the window, and was changed by others."""
    path = tmp_path / "wagon.vehicle.toml"
    assert window.files.save_to(str(path))
    window.session.edit_vehicle(edits.rename(window.session.document.vehicle, "Ours"), "rename")
    with path.open("a") as stream:
        stream.write(THEIRS)
    return path


def answer(monkeypatch: pytest.MonkeyPatch, *words: str) -> list[QMessageBox]:
    """Click the buttons of these words, one in each question; return the questions."""
    asked: list[QMessageBox] = []
    left = list(words)

    def click(box: QMessageBox) -> int:
        asked.append(box)
        word = left.pop(0)
        next(button for button in box.findChildren(QPushButton) if button.text() == word).click()
        return 0

    monkeypatch.setattr(QMessageBox, "exec", click)
    return asked


def test_the_question_says_what_where_and_the_ways_out(
    window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[Any] = []
    monkeypatch.setattr(dialogs, "_ask", lambda *words: said.append(words) or "stay")
    assert not window.files.save()
    (_, title, text, more, answers) = said[0]
    assert title == "The file was changed elsewhere"
    assert text.startswith("wagon.vehicle.toml was changed by another program")
    assert "wagon.vehicle.toml, changed on " in more
    assert list(answers) == ["other", "over", "stay"]
    assert len(said) == 1


def test_left_alone(window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    theirs = file.read_text()
    asked = answer(monkeypatch, "Cancel")
    assert not window.files.save()
    assert len(asked) == 1
    assert file.read_text() == theirs
    assert window.session.dirty
    assert window.session.document.vehicle.name == "Ours"


def test_saved_over_and_theirs_is_kept(window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    theirs = file.read_text()
    answer(monkeypatch, "Save over it")
    said: list[str] = []
    window.files.said.connect(said.append)
    assert window.files.save()
    assert read_vehicle(file).name == "Ours"
    assert (file.parent / "wagon.vehicle.replaced.toml").read_text() == theirs
    assert "What was there is kept as wagon.vehicle.replaced.toml." in said[-1]
    assert not window.session.dirty
    assert window.files.save()


def test_saved_as_another_file(window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    theirs = file.read_text()
    answer(monkeypatch, "Save as another file")
    offered: list[str] = []

    def name(parent: object, title: str, start: str, *_: str) -> tuple[str, str]:
        offered.append(start)
        return start, ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", name)
    assert window.files.save()
    other = file.parent / "wagon-2.vehicle.toml"
    assert offered == [str(other)]
    assert file.read_text() == theirs
    assert read_vehicle(other).name == "Ours"
    assert window.session.document.path == str(other)


def test_the_same_name_again_asks_again(window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = answer(monkeypatch, "Save as another file", "Cancel")
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(file), ""))
    assert not window.files.save()
    assert len(asked) == 2
    assert THEIRS in file.read_text()


def test_changed_once_more_while_the_question_stood(
    window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from linkviz.window import files

    put_aside = files.put_aside

    def late(path: str) -> tuple[str, str]:
        kept = put_aside(path)
        if len(asked) == 1:
            file.write_text(f"{file.read_text()}# later\n")
        return kept

    asked = answer(monkeypatch, "Save over it", "Save over it")
    monkeypatch.setattr(files, "put_aside", late)
    assert window.files.save()
    assert len(asked) == 2
    kept = [path.read_text() for path in sorted(file.parent.glob("*.replaced*"))]
    assert len(set(kept)) == len(kept) == 2
    assert sum("# later" in text for text in kept) == 1


def test_gone_while_the_question_stood(window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def gone(parent: object, changed: Changed) -> str:
        file.unlink()
        return "over"

    monkeypatch.setattr(dialogs, "ask_changed", gone)
    assert window.files.save()
    assert read_vehicle(file).name == "Ours"
    assert list(file.parent.glob("*.replaced*")) == []


def test_not_left_when_the_save_before_it_was_called_off(
    window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(dialogs, "ask_unsaved", lambda parent, name: "save")
    answer(monkeypatch, "Cancel")
    assert not window.files.may_leave()
    assert window.session.document.vehicle.name == "Ours"


def test_the_random_user_answers_it_in_every_way(
    window: MainWindow, file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    attend = Attend(5, [file], tmp_path / "saved")
    attend.answer_files(monkeypatch.setattr)
    answers: list[str] = []
    ask = dialogs.ask_changed

    def asked(parent: Any, changed: Changed) -> str:
        answers.append(ask(parent, changed))
        return answers[-1]

    monkeypatch.setattr(dialogs, "ask_changed", asked)
    attend.begin()
    try:
        for i in range(60):
            path = Path(str(window.session.document.path))
            with path.open("a") as stream:
                stream.write(f"# {i}\n")
            window.files.save()
            if set(answers) == {"other", "over", "stay"}:
                break
    finally:
        attend.on = False
    assert set(answers) == {"other", "over", "stay"}
    assert any("changed elsewhere" in name for name in attend.seen)
