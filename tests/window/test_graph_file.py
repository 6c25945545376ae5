"""What is saved of a graph, read back."""

from __future__ import annotations

import csv
import time
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QFileDialog

from linkviz.errors import LinkvizError
from linkviz.vehicle.model import Vehicle
from linkviz.window import dialogs
from linkviz.window.graph import KINDS
from linkviz.window.graph_file import FILTERS, save_graph, setup_words
from linkviz.window.window import MainWindow


@pytest.fixture
def shown(window: MainWindow) -> MainWindow:
    window.session.set_view(doubt=False)
    window.session.edit_setup("bracket drop", drop=75.0)
    window.session.set_view(graph="pinion_angle", unit="in", roll_deg=3.0)
    window.frame_now()
    return window


def test_a_table_is_what_is_drawn(shown: MainWindow, tmp_path: Path) -> None:
    file = tmp_path / "graph.csv"
    save_graph(shown, str(file))
    rows = list(csv.reader(file.read_text(encoding="utf-8").splitlines()))
    assert rows[0] == [
        "Wheel travel (in)",
        "as built: Pinion angle (deg)",
        "lifted: Pinion angle (deg)",
        "corrected: Pinion angle (deg)",
    ]
    numbers = np.array(rows[1:], dtype=float)
    curves, plot = shown.graph.curves, shown.graph.plot
    assert curves is not None
    assert numbers[:, 0] * 25.4 == pytest.approx(curves.x, abs=1e-4)
    for column, state in enumerate(plot.shown, 1):
        assert numbers[:, column] == pytest.approx(plot.line(state), abs=1e-6)


def test_intervals_are_saved_with_the_graph(shown: MainWindow, tmp_path: Path) -> None:
    shown.session.set_view(roll_deg=0.0)
    shown.frame_now()
    curves = shown.graph.curves
    assert curves is not None
    values = curves.values["lifted"]
    shown.graph.show_band("lifted", curves.x, values - 1.0, values + 1.0)
    save_graph(shown, str(tmp_path / "graph.csv"))
    rows = list(csv.reader((tmp_path / "graph.csv").read_text(encoding="utf-8").splitlines()))
    assert rows[0][3:5] == [f"lifted: Pinion angle (deg), {end} end of 95 %" for end in ("low", "high")]
    assert float(rows[1][4]) - float(rows[1][3]) == pytest.approx(2.0, abs=1e-5)
    save_graph(shown, str(tmp_path / "graph.svg"))
    assert "lifted, with its 95 % interval" in (tmp_path / "graph.svg").read_text(encoding="utf-8")


def test_a_drawing_says_what_it_was_drawn_for(shown: MainWindow, tmp_path: Path) -> None:
    save_graph(shown, str(tmp_path / "graph.svg"))
    text = (tmp_path / "graph.svg").read_text(encoding="utf-8")
    for words in (
        shown.session.document.vehicle.name,
        'lifted 3 15/16", bracket drop 2 15/16"',
        "rolled 3.0\N{DEGREE SIGN}",
        "Pinion angle over wheel travel",
        "Wheel travel (in)",
        "Pinion angle (deg)",
    ):
        assert words in text


def test_a_picture_is_the_drawing_in_light_colours(shown: MainWindow, tmp_path: Path) -> None:
    save_graph(shown, str(tmp_path / "light.png"))
    picture = QImage(str(tmp_path / "light.png"))
    assert (picture.width(), picture.height()) == (2000, 1120)
    colours = {picture.pixelColor(x, y).name() for x in range(0, 2000, 3) for y in range(0, 1120, 3)}
    assert {shown.colours.lifted, shown.colours.corrected, shown.colours.built, shown.colours.paper} <= colours
    shown.session.set_view(theme="dark")
    shown.frame_now()
    save_graph(shown, str(tmp_path / "dark.png"))
    assert QImage(str(tmp_path / "dark.png")) == picture


def test_what_cannot_be_saved_is_said_and_an_old_file_stays(shown: MainWindow, tmp_path: Path) -> None:
    for kind in FILTERS:
        with pytest.raises(LinkvizError, match="folder that you may write"):
            save_graph(shown, str(tmp_path / "no folder" / f"graph.{kind}"))
    with pytest.raises(LinkvizError, match=r"\.png, \.svg or \.csv"):
        save_graph(shown, str(tmp_path / "graph.txt"))
    old = tmp_path / "old.csv"
    old.write_text("mine")
    vehicle = shown.session.document.vehicle
    shown.session.edit_vehicle(Vehicle(name="Bare", axle=vehicle.axle, links=vehicle.links), "less")
    shown.session.set_view(graph="anti_squat")
    shown.frame_now()
    with pytest.raises(LinkvizError, match=r"no numbers to save.*\[mass\]"):
        save_graph(shown, str(old))
    assert old.read_text() == "mine"
    assert [path.name for path in tmp_path.iterdir()] == ["old.csv"]
    shown.session.set_view(graph="free_articulation")
    shown.frame_now()
    with pytest.raises(LinkvizError, match="still being worked out"):
        save_graph(shown, str(old))
    until = time.monotonic() + 30.0
    while shown.graph.curves is None or shown.graph.curves.stale:
        assert time.monotonic() < until
        QApplication.processEvents()
    save_graph(shown, str(old))
    assert old.read_text().startswith("Wheel travel (in),as built: Free articulation (deg)")


def test_the_button_and_the_menu_ask_where_to(
    shown: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []
    answer = [str(tmp_path / "a")]

    def ask(parent: Any, title: str, start: str, filters: str, *_: object) -> tuple[str, str]:
        asked.append(filters)
        return answer[0], filters.split(";;")[-1]

    monkeypatch.setattr(QFileDialog, "getSaveFileName", ask)
    menu = shown.graph.save.menu()
    assert [action.text() for action in menu.actions()] == list(KINDS.values())
    for action in menu.actions():
        action.trigger()
    assert asked == list(FILTERS.values())
    assert sorted(path.name for path in tmp_path.glob("a.*")) == ["a.csv", "a.png", "a.svg"]
    assert "a.csv" in shown.notice.text.text()
    # from the menu of the window the ending decides
    answer[0] = str(tmp_path / "b.SVG")
    shown.actions_by_name["graph"].trigger()
    assert asked[-1].count(";;") == 2
    assert (tmp_path / "b.SVG").read_text(encoding="utf-8").startswith("<?xml")
    answer[0] = ""
    shown.actions_by_name["graph"].trigger()
    told: list[str] = []
    monkeypatch.setattr(dialogs.ProblemsDialog, "exec", lambda self: told.append(self.windowTitle()))
    answer[0] = str(tmp_path / "none" / "c.csv")
    shown.actions_by_name["graph"].trigger()
    assert len(told) == 1


def test_a_setup_in_words(shown: MainWindow) -> None:
    setup = shown.session.document.setup
    assert setup_words(setup.with_(lift=0.0, drop=0.0), "mm") == "not lifted, no bracket"
    assert setup_words(setup.with_(drop=0.0), "mm") == "lifted 100 mm, no bracket"
    everything = setup.with_(shift=5.0, bar_longer=6.0, axle_raise=7.0)
    assert setup_words(everything, "mm") == (
        "lifted 100 mm, bracket drop 75 mm, bracket shift 5 mm, bar longer by 6 mm, bar raised at the axle by 7 mm"
    )
