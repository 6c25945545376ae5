"""Our icons: one size, one colour that the theme gives, nothing from outside."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest

from linkviz.resources import data_dir

ICONS = sorted(data_dir("icons").glob("*.svg"))


def test_there_are_icons() -> None:
    assert {"open", "save", "undo", "redo", "play", "pause", "draw", "warn", "hit", "ok", "linkviz"} <= {
        path.stem for path in ICONS
    }


@pytest.mark.parametrize("path", ICONS, ids=lambda path: path.stem)
def test_an_icon_is_well_formed_and_of_the_set(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    root = ElementTree.fromstring(text)
    assert "href" not in text
    if path.stem == "linkviz":
        assert root.get("viewBox") == "0 0 128 128"
        return
    assert root.get("viewBox") == "0 0 20 20"
    assert root.get("stroke") == "currentColor"
    assert "#" not in text
