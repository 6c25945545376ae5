"""A photo behind a drawing: laid by two points, shown, hidden, taken away, undone; its file is never copied."""

from __future__ import annotations

import os
import struct
import zlib
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QImage, QPainter

from linkviz.analysis.photo import Photo
from linkviz.errors import LinkvizError
from linkviz.picture.scene import to_view
from linkviz.window import photo
from linkviz.window.photo import MOST, elsewhere, photo_size
from linkviz.window.window import MainWindow
from tests.hang import no_hang

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def photo_file(tmp_path: Path) -> str:
    """Paint a photo of 800 x 600: red, with a black spot of 40 pixels about (200, 500) and one about (600, 100)."""
    image = QImage(800, 600, QImage.Format.Format_RGB32)
    image.fill(QColor("#ff4040"))
    painter = QPainter(image)
    for x, y in ((200, 500), (600, 100)):
        painter.fillRect(x - 20, y - 20, 40, 40, QColor("black"))
    painter.end()
    path = tmp_path / "under the car.png"
    assert image.save(str(path))
    return str(path)


@pytest.fixture
def laid(window: MainWindow, photo_file: str, qtbot: Any) -> MainWindow:
    window.session.set_view(playing=False, travel=0.0)
    window.photos.put("rear", photo_file)
    window.frame_now()
    qtbot.waitUntil(lambda: window.stage.photos["rear"].ready, timeout=5000)
    window.frame_now()
    return window


def colour(window: MainWindow, place: QPointF) -> QColor:
    image = QImage(window.stage.rear.size(), QImage.Format.Format_RGB32)
    window.stage.rear.render(image)
    return image.pixelColor(place.toPoint())


def click_pixel(window: MainWindow, qtbot: Any, pixel: tuple[float, float]) -> QPoint:
    place = window.stage.photos["rear"].place(pixel).toPoint()
    qtbot.mouseClick(window.stage.rear, LEFT, pos=place)
    return place


def test_a_photo_lies_under_the_lines_and_two_points_lay_it(laid: MainWindow, qtbot: Any) -> None:
    window = laid
    bar = window.stage.photo_bar
    assert bar.isVisible()
    assert "Click a point of the photo" in window.notice.text.text()
    click_pixel(window, qtbot, (200.0, 500.0))
    click_pixel(window, qtbot, (600.0, 100.0))
    for box, text in zip(bar.boxes, ("300", "200", "-300", "800"), strict=False):
        qtbot.keyClicks(box, text)
    qtbot.keyClick(bar.boxes[3], Qt.Key.Key_Return)
    photo = window.session.document.photo("rear")
    # clicked to a screen point: a few mm of the vehicle
    mm = 1.5 / window.stage.camera.scale
    assert photo.to_body((200.0, 500.0)) == pytest.approx((300.0, 200.0), abs=mm)
    assert photo.to_body((600.0, 100.0)) == pytest.approx((-300.0, 800.0), abs=mm)
    window.frame_now()
    lift = window.session.shown.setup.lift
    spot = window.stage.rear.place(to_view("rear", (-300.0, 800.0), lift))
    window.stage.placer.pixels = ()
    dark = colour(window, spot)
    beside = colour(window, window.stage.rear.place(to_view("rear", (-420.0, 800.0), lift)))
    assert dark.lightness() < 150 < beside.red()
    assert beside.red() - beside.green() > 60
    assert window.session.undo_text == "place photo"
    window.session.undo()
    window.session.undo()
    assert window.session.document.photo("rear") is None
    window.frame_now()
    assert not window.stage.placing
    assert not bar.isVisible()


def test_a_known_distance_is_enough(laid: MainWindow, qtbot: Any) -> None:
    window, bar = laid, laid.stage.photo_bar
    click_pixel(window, qtbot, (100.0, 300.0))
    click_pixel(window, qtbot, (700.0, 300.0))
    qtbot.keyClicks(bar.boxes[4], "1200")
    bar.place_button.click()
    assert window.session.document.photo("rear").scale == pytest.approx(2.0, rel=0.01)
    qtbot.keyClicks(bar.boxes[0], "5")
    bar.place_button.click()
    assert "all four values" in window.notice.text.text()


def test_it_is_dimmed_hidden_and_removed_in_steps(laid: MainWindow) -> None:
    window, bar = laid, laid.stage.photo_bar
    pane = window.stage.rear
    corner = window.stage.photos["rear"].place((30.0, 30.0))
    strong = colour(window, corner)
    bar.opacity.setValue(20)
    bar.opacity.setValue(10)
    window.frame_now()
    weak = colour(window, corner)
    assert weak.green() > strong.green() + 30
    bar.shown.setChecked(False)
    window.frame_now()
    assert abs(colour(window, corner).red() - colour(window, corner).green()) < 15
    window.session.undo()
    assert window.session.document.photo("rear").opacity == 0.1
    window.session.undo()
    assert window.session.document.photo("rear").opacity == pytest.approx(0.6)
    next(b for b in bar.findChildren(type(bar.place_button)) if b.text() == "Remove").click()
    assert window.session.document.photo("rear") is None
    assert pane.tool is window.stage.hand


def test_a_photo_that_is_removed_is_not_kept_and_comes_back(laid: MainWindow, qtbot: Any) -> None:
    layer = laid.stage.photos["rear"]
    laid.session.edit(laid.session.document.with_photo("rear", None), "remove the photo")
    laid.frame_now()
    assert not layer.ready, "its pixels take as much room as the rest of the window"
    laid.session.undo()
    laid.frame_now()
    qtbot.waitUntil(lambda: layer.ready, timeout=5000)


def test_esc_takes_a_point_back_and_then_leaves_the_photo_where_it_is(laid: MainWindow, qtbot: Any) -> None:
    window, pane = laid, laid.stage.rear
    click_pixel(window, qtbot, (100.0, 300.0))
    qtbot.keyClick(pane, Qt.Key.Key_Right)
    qtbot.keyClick(pane, Qt.Key.Key_Space)
    assert len(window.stage.placer.pixels) == 2
    for left in (1, 0):
        qtbot.keyClick(pane, Qt.Key.Key_Escape)
        assert len(window.stage.placer.pixels) == left
    qtbot.keyClick(pane, Qt.Key.Key_Escape)
    assert not window.stage.placing
    assert window.session.document.photo("rear") is not None


def test_a_drawing_that_is_begun_is_not_lost_to_a_photo(window: MainWindow) -> None:
    window.actions_by_name["draw"].trigger()
    window.stage.pencil.put("rear", (0.0, 300.0))
    window.actions_by_name["photo_rear"].trigger()
    assert "Finish the outline first" in window.notice.text.text()
    assert window.stage.pencil.corners == ((0.0, 300.0),)


def test_what_is_no_photo_is_refused(window: MainWindow, tmp_path: Path) -> None:
    path = tmp_path / "a.jpg"
    with pytest.raises(LinkvizError, match="not there"):
        photo_size(str(path))
    path.write_text("no photo")
    window.photos.put("side", str(path))
    assert "no photo that can be read" in window.notice.text.text()
    assert window.session.document.photo("side") is None


def test_a_large_photo_is_kept_small_and_shows_the_same_place(window: MainWindow, tmp_path: Path, qtbot: Any) -> None:
    image = QImage(MOST * 2, 400, QImage.Format.Format_RGB32)
    image.fill(QColor("#ff4040"))
    path = str(tmp_path / "wide.png")
    image.save(path)
    window.photos.put("rear", path)
    window.frame_now()
    layer = window.stage.photos["rear"]
    qtbot.waitUntil(lambda: layer.ready, timeout=5000)
    kept, factor = layer._image
    assert kept.width() == MOST
    assert factor == pytest.approx(2.0)


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "photo.jpg"
    os.mkfifo(pipe)
    with pytest.raises(LinkvizError, match="not there any more"):
        photo_size(str(pipe))


HOSTILE = ("/dev/zero", "pipe", "folder", ".", "../../x.png", "x" * 4000, "C:\\con", "a.png/b")


@pytest.mark.parametrize("path", HOSTILE)
def test_a_mailed_job_may_name_any_photo(window: MainWindow, tmp_path: Path, qtbot: Any, path: str) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "folder").mkdir()
    named = str(tmp_path / path) if path in ("pipe", "folder") else path
    session = window.session
    with qtbot.waitSignal(window.stage.photos["rear"].refused, timeout=5000) as told:
        session.edit(session.document.with_photo("rear", Photo(view="rear", path=named)), "photo")
        window.frame_now()
    assert "is not there" in told.args[0]
    with pytest.raises(LinkvizError):
        photo_size(named)


@pytest.mark.parametrize("path", ["\\\\thief\\share\\a.png", "//thief/share/a.png"])
def test_no_other_machine_is_asked_for_a_photo_that_nobody_chose(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, qtbot: Any, path: str
) -> None:
    layer = window.stage.photos["rear"]
    asked: list[str] = []
    monkeypatch.setattr(layer.work, "ask", lambda key, what: asked.append(what))
    named = Photo(view="rear", path=path)
    with qtbot.waitSignal(layer.refused, timeout=1000) as told:
        layer.show(named, 0.0)
    assert "another machine" in told.args[0]
    layer.show(None, 0.0)
    assert asked == []
    # beside the job it is asked for, and so it is where it was chosen by hand
    assert not elsewhere(path, beside="\\\\THIEF\\jobs\\a.job.toml")
    monkeypatch.setattr(photo, "CHOSEN", {"thief"})
    assert not elsewhere(path)
    assert not elsewhere("C:\\a.png") and not elsewhere("/shop/a.png")


def test_a_photo_whose_name_is_no_text_is_refused_in_words(window: MainWindow, photo_file: str, tmp_path: Path) -> None:
    strange = os.fsdecode(os.fsencode(tmp_path) + b"/br\xfccke.png")
    os.link(photo_file, strange)
    said: list[str] = []
    window.photos.refused.connect(said.append)
    before = window.session.document
    window.photos.put("rear", strange)
    assert "another name" in said[0]
    assert window.session.document is before


def test_a_photo_that_was_missing_is_read_once_it_is_chosen_again(
    window: MainWindow, photo_file: str, qtbot: Any
) -> None:
    layer, said = window.stage.photos["rear"], []
    layer.refused.connect(said.append)
    window.photos.put("rear", photo_file)
    window.session.undo()
    away = Path(photo_file).rename(f"{photo_file}.away")
    layer.forget()
    window.session.redo()
    window.frame_now()
    qtbot.waitUntil(lambda: bool(said), timeout=5000)
    assert "not there any more" in said[0]
    away.rename(photo_file)
    # in the same place as before, so that the document does not change
    window.photos.put("rear", photo_file)
    window.frame_now()
    qtbot.waitUntil(lambda: layer.ready, timeout=5000)


def test_a_drawing_that_names_further_files_is_no_photo(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    image = f'<image width="9" height="9" href="file://{tmp_path}/pipe"/>'
    path = tmp_path / "a.png"
    path.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" width="99" height="99">{image}</svg>')
    with no_hang(), pytest.raises(LinkvizError, match="Choose a JPEG or a PNG"):
        photo_size(str(path))
    assert "no photo" in str(photo._read(str(path)))


def test_a_photo_that_fills_the_memory_is_refused(tmp_path: Path, qtlog: Any) -> None:
    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = chunk(b"IHDR", struct.pack(">IIBBBBB", 50_000, 50_000, 8, 2, 0, 0, 0))
    path = tmp_path / "a.png"
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b""))
    with qtlog.disabled():
        assert "no photo" in str(photo._read(str(path)))


@pytest.mark.parametrize("kind", ["jpg", "jpeg", "png", "bmp", "webp", "gif"])
def test_every_kind_that_is_offered_is_read_whatever_it_is_called(tmp_path: Path, kind: str) -> None:
    assert f"*.{kind}" in photo.PICTURES
    path = tmp_path / f"a.{kind}"
    Image.new("RGB", (60, 40), "red").save(path)
    assert photo_size(str(path)) == (60.0, 40.0)
    assert photo_size(str(path.rename(tmp_path / "b.png"))) == (60.0, 40.0)
