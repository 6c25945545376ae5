from __future__ import annotations

import tempfile
import threading
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QDrag, QGuiApplication, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog

from linkviz.analysis.setup import Setup
from linkviz.picture import against
from linkviz.session.document import Document
from linkviz.window import dialogs, share
from linkviz.window.window import MainWindow


def answer(monkeypatch: pytest.MonkeyPatch, path: Path, kind: str) -> None:
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), share.FILTERS[kind]))


def test_a_picture_is_saved_in_the_kind_that_was_chosen(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for kind in ("png", "svg"):
        answer(monkeypatch, tmp_path / "axle", kind)
        window.actions_by_name["picture"].trigger()
        assert (tmp_path / f"axle.{kind}").exists()
    image = QImage(str(tmp_path / "axle.png"))
    assert (image.width(), image.height()) == (2 * window.stage.width(), 2 * window.stage.height())
    text = (tmp_path / "axle.svg").read_text()
    assert ET.fromstring(text).tag.endswith("svg")
    assert "Rear view" in text


def test_a_moving_picture_is_made_beside_the_window(
    window: MainWindow, tmp_path: Path, qtbot: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(against, "FRAMES", 4)
    monkeypatch.setattr(against.frames_against, "__defaults__", ("mm", 4))
    window.session.edit_setup("parts", drop=95.0)
    answer(monkeypatch, tmp_path / "axle.gif", "gif")
    window.actions_by_name["picture"].trigger()
    assert "Making" in window.notice.text.text()
    qtbot.waitUntil(lambda: "Saved" in window.notice.text.text(), timeout=30000)
    with Image.open(tmp_path / "axle.gif") as picture:
        assert picture.n_frames == 4
        assert picture.size == share.SIZES[3]
        assert picture.info["loop"] == 0


def test_a_place_that_takes_no_picture_is_told(
    window: MainWindow, tmp_path: Path, qtbot: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []
    monkeypatch.setattr(dialogs.ProblemsDialog, "exec", lambda dialog: told.append("told"))
    window.share.save(str(tmp_path / "none" / "axle.png"))
    assert told == ["told"]
    monkeypatch.setattr(against.frames_against, "__defaults__", ("mm", 2))
    window.share.save(str(tmp_path / "none" / "axle.gif"))
    qtbot.waitUntil(lambda: "could not be saved" in window.notice.text.text(), timeout=30000)


def test_the_drawings_are_copied(window: MainWindow) -> None:
    window.actions_by_name["copy"].trigger()
    assert QGuiApplication.clipboard().image().size() == share.picture_of(window).size()
    assert "clipboard" in window.notice.text.text()


def test_a_picture_is_dragged_out_with_two_keys_held(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    dragged: list[Any] = []
    monkeypatch.setattr(QDrag, "exec", lambda drag, action: dragged.append(drag.mimeData()))
    pane, before = window.stage.rear, window.session.document
    start = QPoint(pane.width() // 2, pane.height() // 2)
    for keys in (Qt.KeyboardModifier.NoModifier, share.DRAG):
        QTest.mousePress(pane, Qt.MouseButton.LeftButton, keys, start)
        QTest.mouseMove(pane, start + QPoint(2, 0))
        QTest.mouseMove(pane, start + QPoint(60, 40))
        QTest.mouseRelease(pane, Qt.MouseButton.LeftButton, keys, start + QPoint(60, 40))
    assert len(dragged) == 1
    assert dragged[0].hasImage()
    assert b"<svg" in bytes(dragged[0].data("image/svg+xml").data())
    (url,) = dragged[0].urls()
    assert Path(url.toLocalFile()).read_bytes().startswith(b"\x89PNG")
    assert window.session.document == before


def test_captions_say_what_each_picture_is(window: MainWindow) -> None:
    document = Document(window.session.document.vehicle, Setup(lift=101.6, drop=76.2))
    frames = list(against.frames_against(document.vehicle, document.setup, "in", 8))
    assert [drawing.title for drawing in frames[0]] == ["As built", 'Lifted 4", no parts', 'Lifted 4", bracket 3"']
    assert len({drawing.extent for frame in frames for drawing in frame}) == 1
    assert frames[0][0].shapes != frames[2][0].shapes
    assert all("swings" in drawing.caption for drawing in frames[0])
    alone = list(against.frames_against(document.vehicle, Setup(), "in", 2))
    assert [len(frame) for frame in alone] == [1, 1]


def test_a_dragged_picture_lies_where_nobody_else_can_write(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    # what somebody else has laid in the shared folder is not followed
    (tmp_path / "victim").mkdir()
    (tmp_path / "linkviz-pictures").symlink_to(tmp_path / "victim")
    one, other = window.share.dragged_file(), window.share.dragged_file()
    assert one is not None
    assert one == other
    assert one.parent.stat().st_mode & 0o777 == 0o700
    assert list((tmp_path / "victim").iterdir()) == []


def test_a_second_moving_picture_waits_for_the_first(
    window: MainWindow, tmp_path: Path, qtbot: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    go = threading.Event()
    monkeypatch.setattr(share, "save_moving", lambda *_: go.wait(20.0))
    window.share.save(str(tmp_path / "one.gif"))
    window.share.save(str(tmp_path / "two.gif"))
    assert "when it is done" in window.notice.text.text()
    go.set()
    qtbot.waitUntil(lambda: "Saved" in window.notice.text.text())
    assert "one.gif" in window.notice.text.text()
