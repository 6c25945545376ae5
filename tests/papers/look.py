"""Papers as pictures and as numbers, for tests and for the eye."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pypdfium2


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


def grey(data: bytes, page: int = 0, dots_per_inch: float = 50.0) -> Any:
    """Return one page in shades of grey, as an array (0 black, 255 white)."""
    import numpy as np

    document = pypdfium2.PdfDocument(data)
    picture = np.asarray(document[page].render(scale=dots_per_inch / 72.0, grayscale=True).to_pil())
    document.close()
    return picture
