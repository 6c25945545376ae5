"""The SVG is well-formed, names both views and shows what the drawing holds."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from linkviz.errors import LinkvizError
from linkviz.picture import rear_view, side_view
from linkviz.picture.shapes import Drawing, Label
from linkviz.picture.style import styles
from linkviz.picture.svg import measure, svg, svg_of
from tests.picture.scenes import scene_of

NS = "{http://www.w3.org/2000/svg}"


def texts(root: ElementTree.Element) -> list[str]:
    return [e.text or "" for e in root.iter(f"{NS}text")]


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_it_is_well_formed_with_both_titles_and_all_labels(theme: str) -> None:
    scene = scene_of(0, 60.0, 2.0, zoned=True)
    root = ElementTree.fromstring(svg(scene, theme, 1280, 500))
    assert root.tag == f"{NS}svg"
    assert root.get("viewBox") == "0 0 1280 500"
    assert {"Rear view", "Side view"} <= {e.text for e in root.iter(f"{NS}title")}
    labels = [s.text for d in (rear_view(scene), side_view(scene)) for s in d.shapes if isinstance(s, Label)]
    assert labels
    written = texts(root)
    for text in (*labels, "Rear view", "Side view"):
        assert text in written
    assert any("as built" in text for text in written)


def test_a_touched_zone_is_filled_with_its_hatch() -> None:
    touched = svg(scene_of(0, 0.0, zoned=True), "light", 1280, 500)
    clear = svg(scene_of(0, 0.0, zoned=False), "light", 1280, 500)
    assert 'fill="url(#hatch-touched)"' in touched
    assert 'fill="url(#hatch-touched)"' not in clear
    ids = {e.get("id") for e in ElementTree.fromstring(touched).iter(f"{NS}pattern")}
    assert {"hatch-touched", "hatch-near"} <= ids


def test_every_hatch_used_is_defined() -> None:
    root = ElementTree.fromstring(svg(scene_of(1, 0.0, zoned=True), "dark", 1280, 500))
    ids = {e.get("id") for e in root.iter(f"{NS}pattern")}
    used = {e.get("fill", "")[5:-1] for e in root.iter() if e.get("fill", "").startswith("url(#")}
    assert used
    assert used <= ids


def test_the_ghost_is_dashed_and_goes_with_it() -> None:
    dash = " ".join(f"{d:g}" for d in styles("light")["ghost"].dash)
    mark = f'stroke-dasharray="{dash}"'
    line = f'stroke="{styles("light")["ghost"].line}"'
    both = svg(scene_of(0, 50.0), "light", 1280, 500)
    assert any(mark in row and line in row for row in both.splitlines())
    alone = svg(scene_of(0, 50.0, ghost=False, setup={}), "light", 1280, 500)
    assert not any(mark in row and line in row for row in alone.splitlines())


def test_the_same_scene_gives_the_same_text() -> None:
    scene = scene_of(2, -30.0, 4.0)
    assert svg(scene, "light", 900, 400) == svg(scene, "light", 900, 400)


def test_a_badge_stands_before_its_words() -> None:
    badged = Drawing("Badge", (Label((0.0, 0.0), "touches", "hit_text", icon="hit"),), (-100.0, -100.0, 100.0, 100.0))
    root = ElementTree.fromstring(svg_of((badged,), "light", 300, 300))
    (badge,) = root.iter(f"{NS}polygon")
    corners = [tuple(map(float, pair.split(","))) for pair in (badge.get("points") or "").split()]
    words = next(e for e in root.iter(f"{NS}text") if e.text == "touches")
    x, y = float(words.get("x") or "nan"), float(words.get("y") or "nan")
    assert all(u < x and y - 20.0 < v < y + 6.0 for u, v in corners)
    wide, high = (max(axis) - min(axis) for axis in zip(*corners, strict=True))
    assert wide == pytest.approx(high) and 8.0 < wide < 30.0


def test_letters_that_mean_something_in_xml_are_safe() -> None:
    odd = Drawing("A & B", (Label((0.0, 0.0), 'a "tank" <2> & co', "text"),), (-100.0, -100.0, 100.0, 100.0))
    root = ElementTree.fromstring(svg_of((odd,), "light", 300, 300))
    assert 'a "tank" <2> & co' in texts(root)


def test_an_unknown_theme_is_refused_in_words() -> None:
    with pytest.raises(LinkvizError, match="theme"):
        svg(scene_of(), "sepia", 1280, 500)


def test_longer_and_bolder_text_measures_wider() -> None:
    assert measure("gap 12 mm", 12.0, False)[0] > measure("gap", 12.0, False)[0] > 0.0
    assert measure("gap", 12.0, True)[0] > measure("gap", 12.0, False)[0]
