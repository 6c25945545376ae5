"""The preview of a page against the same page of the PDF, rendered by a library that has nothing to do with either."""

from __future__ import annotations

from typing import Any

import numpy as np
import pypdfium2
import pytest
from PySide6.QtGui import QImage, QPainter

from linkviz.painter.page import paint_page
from linkviz.papers.pdf import pdf
from linkviz.papers.registry import PAPERS
from linkviz.papers.shapes import Page
from tests.papers.orders import order_of

WIDTH = 1000
"""Of the pictures, pixels."""


def shown_page(page: Page) -> QImage:
    image = QImage(WIDTH, round(WIDTH * page.height / page.width), QImage.Format.Format_RGB32)
    image.fill(0xFFFFFFFF)
    painter = QPainter(image)
    paint_page(painter, page, WIDTH / page.width)
    painter.end()
    return image


def grey(image: QImage) -> np.ndarray:
    bits = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine() // 4, 4)
    return bits[:, : image.width(), :3].mean(axis=2)


def soft(picture: np.ndarray, step: int = 12) -> np.ndarray:
    """Return the means of small squares: what the eye sees from afar, whatever each library's anti-aliasing."""
    rows, columns = (n // step * step for n in picture.shape)
    return picture[:rows, :columns].reshape(rows // step, step, columns // step, step).mean(axis=(1, 3))


@pytest.mark.parametrize("paper", [p for p in PAPERS if p.pages], ids=lambda p: p.name)
def test_the_preview_looks_like_the_print(qapp: Any, paper: Any) -> None:
    pages = paper.pages(order_of(1, "in", "letter", "bent"))
    document = pypdfium2.PdfDocument(pdf(pages, "test"))
    for number, page in enumerate(pages[:2]):
        shown = grey(shown_page(page))
        scale = WIDTH / (page.width * 72.0 / 25.4)
        printed = np.asarray(document[number].render(scale=scale, grayscale=True).to_pil()).astype(float)
        if printed.ndim == 3:
            printed = printed[..., 0]
        rows, columns = (min(a, b) for a, b in zip(shown.shape, printed.shape, strict=True))
        one, two = soft(shown[:rows, :columns]), soft(printed[:rows, :columns])
        # much more than nothing is on the page, and both have it in the same places
        assert one.min() < 200.0

        def alike(a: np.ndarray, b: np.ndarray) -> float:
            return float(np.corrcoef(a.ravel(), b.ravel())[0, 1])

        assert alike(one, two) > 0.95
        # a row of squares lower it is another page: 12 pixels of 1000
        assert alike(one[1:], two[:-1]) < 0.7
    document.close()
