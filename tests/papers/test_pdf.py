from __future__ import annotations

import io
import math

import numpy as np
import pypdf
import pytest

from linkviz.papers.pdf import pdf
from linkviz.papers.shapes import SIZES, Circle, Clip, Contour, Page, Polyline, Text, box
from linkviz.sheetmetal.outline import Node, Outline, rectangle
from tests.papers.look import fonts, lines, middle, size, words

PAGE = Page(
    210.0,
    297.0,
    (
        box(20.0, 30.0, 60.0, 45.0),
        Circle((100.0, 200.0), 13.5 / 2.0),
        Contour(rectangle((0.0, 0.0), (80.0, 40.0), 12.0), (50.0, 100.0)),
        Text((20.0, 250.0), "Drill 13.5 mm, \N{LATIN CAPITAL LETTER O WITH STROKE}13.5, 45\N{DEGREE SIGN}", 4.0),
        Text((20.0, 240.0), "heavy", 4.0, bold=True, degrees=90.0),
    ),
)


def test_shapes_come_out_at_true_size() -> None:
    frame, ring, contour = lines(pdf([PAGE], "test"))
    assert size(frame) == pytest.approx((40.0, 15.0), abs=0.001)
    assert middle(ring) == pytest.approx((100.0, 200.0), abs=0.001)
    assert size(ring) == pytest.approx((13.5, 13.5), abs=0.001)
    assert size(contour) == pytest.approx((80.0, 40.0), abs=0.001)


def bezier(points: np.ndarray, steps: int = 40) -> np.ndarray:
    """Return points along the curves of a path that begins with a line and has a curve for every quarter."""
    t = np.linspace(0.0, 1.0, steps)[:, None]
    a, b, c, d = points
    return (1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * b + 3 * t**2 * (1 - t) * c + t**3 * d


def test_an_arc_keeps_its_radius_and_goes_the_right_way() -> None:
    # a half circle bulging out to the right, and one bulging in
    for bulge, x in ((math.tan(math.pi / 8), 10.0), (-math.tan(math.pi / 8), -10.0)):
        outline = Outline((Node(0.0, 0.0), Node(20.0, 0.0, bulge), Node(20.0, 20.0), Node(0.0, 20.0)))
        (path,) = lines(pdf([Page(100.0, 100.0, (Contour(outline, (30.0, 30.0)),))], "test"))
        # move, line, line of no length to where the curve begins, curve of 90 deg, lines
        curve = bezier(path[2:6])
        centre = np.array([40.0 if x > 0 else 60.0, 40.0])
        radii = np.hypot(*(curve - centre).T)
        assert radii == pytest.approx(10.0 * math.sqrt(2.0), abs=0.005)


def test_letters_are_embedded_as_a_subset_and_can_be_selected() -> None:
    data = pdf([PAGE], "test")
    found = fonts(data)
    assert len(found) == 2
    for name, embedded in found.items():
        assert "+" in name and embedded and len(embedded) < 40_000
    text = words(data)[0]
    assert "Drill 13.5 mm, \N{LATIN CAPITAL LETTER O WITH STROKE}13.5, 45\N{DEGREE SIGN}" in text
    assert "heavy" in text


def test_letters_that_the_font_lacks_are_asked_for_and_nothing_fails() -> None:
    assert "???" in words(pdf([Page(100.0, 50.0, (Text((5.0, 5.0), "\u4e2d\u6587\U0001f527"),))], "test"))[0]


def test_the_same_pages_give_the_same_bytes() -> None:
    assert pdf([PAGE], "test") == pdf([PAGE], "test")


def test_pages_have_their_size_and_ask_not_to_be_scaled() -> None:
    data = pdf([Page(*SIZES["a4"], PAGE.shapes), Page(*SIZES["letter"], PAGE.shapes)], "test", "subject")
    reader = pypdf.PdfReader(io.BytesIO(data))
    for page, mm in zip(reader.pages, ((210.0, 297.0), (215.9, 279.4)), strict=True):
        assert (float(page.mediabox.width) * 25.4 / 72, float(page.mediabox.height) * 25.4 / 72) == pytest.approx(
            mm, abs=0.001
        )
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert (reader.metadata.title, reader.metadata.subject) == ("test", "subject")


def test_what_is_clipped_does_not_clip_what_follows() -> None:
    import pypdfium2

    black = "#000000"
    inside = Clip((10.0, 10.0, 20.0, 20.0), (box(0.0, 0.0, 100.0, 100.0, None, black),))
    hole = Polyline(
        ((40.0, 10.0), (60.0, 10.0), (60.0, 30.0), (40.0, 30.0)), None, True, black, holes=(
            ((45.0, 15.0), (55.0, 15.0), (55.0, 25.0), (45.0, 25.0)),
        ),
    )  # fmt: skip
    document = pypdfium2.PdfDocument(pdf([Page(100.0, 50.0, (inside, hole))], "test"))
    seen = np.asarray(document[0].render(scale=72 / 25.4 * 2 / 72 * 25.4 / 2, grayscale=True).to_pil())
    document.close()

    def at(x: float, y: float) -> int:
        rows, columns = seen.shape[:2]
        return int(seen[int((50.0 - y) / 50.0 * rows), int(x / 100.0 * columns)].max())

    assert (at(15.0, 15.0), at(30.0, 15.0)) == (0, 255)
    assert (at(42.0, 20.0), at(50.0, 20.0)) == (0, 255)
