"""Papers read back: as pictures for the eye, as lines in mm, as words."""

from __future__ import annotations

import ctypes
import io
from pathlib import Path
from typing import Any

import numpy as np
import pypdf
import pypdfium2
import pypdfium2.raw as raw

MM = 25.4 / 72.0


def to_png(data: bytes, folder: Path, stem: str, dots_per_inch: float = 100.0) -> list[Path]:
    """Write every page of a PDF as a PNG and return where they are."""
    found = []
    document = pypdfium2.PdfDocument(data)
    for number, page in enumerate(document, 1):
        path = folder / f"{stem}-{number}.png"
        page.render(scale=dots_per_inch / 72.0).to_pil().save(path)
        found.append(path)
    document.close()
    return found


def lines(data: bytes, number: int = 0) -> list[np.ndarray]:
    """Return the points of every path on a page, mm from its lower left corner, control points of curves among them."""
    document = pypdfium2.PdfDocument(data)
    found = []
    for item in document[number].get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
        matrix = np.array(item.get_matrix().get()).reshape(3, 2)
        points = []
        for index in range(raw.FPDFPath_CountSegments(item.raw)):
            x, y = ctypes.c_float(), ctypes.c_float()
            raw.FPDFPathSegment_GetPoint(raw.FPDFPath_GetPathSegment(item.raw, index), x, y)
            points.append((x.value, y.value, 1.0))
        found.append(np.array(points) @ matrix * MM)
    document.close()
    return found


def size(points: np.ndarray) -> tuple[float, float]:
    """Return the width and the height of a path, mm."""
    return tuple(np.ptp(points, axis=0))


def middle(points: np.ndarray) -> tuple[float, float]:
    """Return the middle of a path, mm."""
    return tuple((points.max(axis=0) + points.min(axis=0)) / 2.0)


def circles(data: bytes, number: int, diameter: float) -> list[tuple[float, float]]:
    """Return the middles of all circles of a diameter on a page, mm, to 0.05 mm of it, from above."""
    found = []
    for points in lines(data, number):
        if len(points) >= 12 and np.allclose(size(points), diameter, atol=0.05):
            found.append(middle(points))
    return sorted(found, key=lambda at: -at[1])


def words(data: bytes) -> list[str]:
    """Return the text of every page, as a reader selects it."""
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]


def fonts(data: bytes) -> dict[str, Any]:
    """Return the fonts of a document by name, with what is embedded of each (None for nothing)."""
    found = {}
    for page in pypdf.PdfReader(io.BytesIO(data)).pages:
        for font in page["/Resources"]["/Font"].values():
            font = font.get_object()
            descriptor = font.get("/FontDescriptor")
            embedded = descriptor.get_object().get("/FontFile2") if descriptor else None
            found[font["/BaseFont"]] = embedded.get_object().get_data() if embedded else None
    return found
