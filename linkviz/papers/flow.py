"""Sets text, tables and pictures one below the other on framed pages with a title block, and turns pages by itself."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from linkviz import __version__
from linkviz.papers import letters
from linkviz.papers.heading import Heading
from linkviz.papers.shapes import GREY, PALE, SIZES, THICK, THIN, Page, Pen, Shape, Text, box, line, moved

LEFT: Final = 20.0
EDGE: Final = 10.0
"""Margins of the frame, mm: 20 on the left, 10 elsewhere (ISO 5457)."""
PAD: Final = 4.0
BLOCK: Final = 21.0
"""Height of the title block, mm."""
BODY: Final = 3.1
"""Size of ordinary letters, mm."""
LEADING: Final = 1.42
_CELL = 1.1
TICK: Final = "[ ]"
"""A cell with a square to tick."""


class Flow:
    """Pages being filled from the top.

    Parameters
    ----------
    heading : Heading
        What the title block says.
    title : str
        Of the paper.
    """

    def __init__(self, heading: Heading, title: str) -> None:
        self.heading, self.title = heading, title
        self.width, self.height = SIZES[heading.paper]
        self.left, self.right = LEFT + PAD, self.width - EDGE - PAD
        self.bottom = EDGE + BLOCK + PAD
        self._sheets: list[list[Shape]] = []
        self.new_page()

    @property
    def room(self) -> float:
        """Return the width there is, mm."""
        return self.right - self.left

    @property
    def left_over(self) -> float:
        """Return the height that is left on this page, mm."""
        return self.y - self.bottom

    def new_page(self) -> None:
        """Begin a page."""
        self._sheets.append([])
        self.y = self.height - EDGE - PAD
        self._fresh = True

    def need(self, height: float) -> None:
        """Turn the page if there is less height left than this, mm."""
        if self.left_over < height and not self._fresh:
            self.new_page()

    def add(self, *shapes: Shape) -> None:
        """Put shapes where they say they are, on this page."""
        self._sheets[-1] += shapes
        self._fresh = False

    def space(self, height: float = 3.0) -> None:
        """Leave some height free, mm."""
        self.y -= height

    def head(self, text: str) -> None:
        """Write the title of the paper."""
        size = 6.0
        for words in letters.wrapped(text, self.room, size, True):
            self.y -= 1.05 * size
            self.add(Text((self.left, self.y), words, size, True))
        self.y -= 0.5 * size

    def section(self, text: str, keep: float = 24.0) -> None:
        """Write a heading, kept together with at least `keep` mm of what follows."""
        self.need(8.0 + keep)
        self.y -= 3.0 if not self._fresh else 0.0
        self.y -= 4.0
        self.add(
            Text((self.left, self.y), text, 3.8, True), line((self.left, self.y - 1.6), (self.right, self.y - 1.6))
        )
        self.y -= 3.4

    def text(
        self,
        text: str,
        size: float = BODY,
        bold: bool = False,
        indent: float = 0.0,
        mark: str = "",
    ) -> None:
        """Write a paragraph; `mark` stands before its first line."""
        lines = letters.wrapped(text, self.room - indent, size, bold)
        step = LEADING * size
        self.need(min(len(lines), 3) * step)
        for number, words in enumerate(lines):
            self.need(step)
            self.y -= step
            if mark and not number:
                self.add(Text((self.left, self.y + 0.3 * size), mark, size, True))
            self.add(Text((self.left + indent, self.y + 0.3 * size), words, size, bold))
        self.y -= 0.35 * size

    def bullets(self, items: Sequence[str], size: float = BODY) -> None:
        """Write a list."""
        for item in items:
            self.text(item, size, indent=4.0, mark="\N{EN DASH}")

    def boxed(self, title: str, items: Sequence[str], size: float = BODY) -> None:
        """Write a list in a frame, kept on one page."""
        inner = self.room - 6.0
        blocks = [letters.wrapped(item, inner - 4.0, size) for item in items]
        step = LEADING * size
        height = 3.0 + 1.5 * step + sum(len(b) for b in blocks) * step + 0.35 * size * len(blocks) + 1.0
        self.need(height + 2.0)
        self.y -= 1.5
        self.add(box(self.left, self.y - height, self.right, self.y, THICK))
        y = self.y - 2.0 - step
        self.add(Text((self.left + 3.0, y + 0.3 * size), title, 1.05 * size, True))
        y -= 0.3 * step
        for block in blocks:
            for number, words in enumerate(block):
                y -= step
                if not number:
                    self.add(Text((self.left + 3.0, y + 0.3 * size), "\N{EN DASH}", size))
                self.add(Text((self.left + 7.0, y + 0.3 * size), words, size))
            y -= 0.35 * size
        self.y -= height + 2.0

    def warnings(self, over: Sequence[str], assumed: Sequence[str], then: str) -> None:
        """Write what is not kept and what was taken without measuring, each in a frame; nothing where there is none."""
        if over:
            self.boxed("NOT KEPT. DO NOT MAKE OR FIT IT LIKE THIS; SEE STRENGTH ON THE SHOP DRAWING.", over)
        if assumed:
            self.boxed(f"TAKEN, NOT MEASURED. {then}", assumed)

    def table(
        self,
        heads: Sequence[str],
        rows: Sequence[Sequence[str]],
        shares: Sequence[float],
        size: float = 2.8,
    ) -> None:
        """Write a table; its columns take shares of the width, its rows stay whole, its head is repeated."""
        total = sum(shares)
        widths = [self.room * share / total for share in shares]
        step = LEADING * size

        def blocks_of(cells: Sequence[str], bold: bool) -> tuple[list[list[str]], float]:
            blocks = [
                letters.wrapped(cell, w - 2.0 * _CELL, size, bold)
                for i, (cell, w) in enumerate(zip(cells, widths, strict=True))
            ]
            return blocks, max(map(len, blocks)) * step + 2.0 * _CELL - 0.3

        def row(cells: Sequence[str], bold: bool, fill: str) -> None:
            blocks, height = blocks_of(cells, bold)
            if self.left_over < height and not bold:
                self.new_page()
                row(heads, True, PALE)
            x = self.left
            for i, (block, w) in enumerate(zip(blocks, widths, strict=True)):
                self.add(box(x, self.y - height, x + w, self.y, THIN, fill))
                if cells[i] == TICK:
                    middle = self.y - height / 2.0
                    self.add(box(x + 3.0, middle - 1.5, x + 6.0, middle + 1.5))
                    block = []
                for number, words in enumerate(block):
                    at = (x + _CELL, self.y - _CELL - (number + 1) * step + 0.38 * size)
                    self.add(Text(at, words, size, bold))
                x += w
            self.y -= height

        self.need(blocks_of(heads, True)[1] + (blocks_of(rows[0], False)[1] if rows else 0.0))
        row(heads, True, PALE)
        for cells in rows:
            row(cells, False, "")
        self.y -= 2.5

    def figure(self, shapes: Sequence[Shape], width: float, height: float, caption: str = "") -> None:
        """Put a figure in the middle, its own lower left corner at the origin, with a caption below it."""
        self.need(height + (5.0 if caption else 1.0))
        x = self.left + (self.room - width) / 2.0
        self.y -= height
        self.add(*moved(shapes, x, self.y))
        if caption:
            self.y -= 4.2
            self.add(Text((self.left + self.room / 2.0, self.y), caption, 2.7, anchor="centre", colour=GREY))
        self.y -= 2.5

    def pages(self) -> tuple[Page, ...]:
        """Return the pages, each with its frame and title block."""
        sheets = [sheet for sheet in self._sheets if sheet]
        count = len(sheets)
        return tuple(
            Page(self.width, self.height, (*frame(self.heading, self.title, number, count), *sheet))
            for number, sheet in enumerate(sheets, 1)
        )


def frame(heading: Heading, title: str, number: int, count: int) -> list[Shape]:
    """Return the frame of a page and its title block.

    Parameters
    ----------
    heading : Heading
    title : str
        Of the paper.
    number, count : int
        Of the page and of all pages.
    """
    width, height = SIZES[heading.paper]
    x0, x1, y0, y1 = LEFT, width - EDGE, EDGE, EDGE + BLOCK
    thin = Pen(0.25)
    shapes: list[Shape] = [box(x0, y0, x1, height - EDGE, THICK), line((x0, y1), (x1, y1), THICK)]
    half = y0 + BLOCK / 2.0
    shapes.append(line((x0, half), (x1, half), thin))
    whole = x1 - x0
    upper = (("PAPER", title, 0.42), ("VEHICLE", heading.vehicle, 0.38), ("PAGE", f"{number} of {count}", 0.20))
    unit = "millimetres" if heading.unit == "mm" else "inches"
    lower = (
        ("JOB", heading.job or "-", 0.20),
        ("CUSTOMER", heading.customer or "-", 0.32),
        ("DATE", heading.date or "-", 0.16),
        ("LENGTHS IN", unit, 0.16),
        ("MADE WITH", f"Linkviz {__version__}", 0.16),
    )
    for y, cells in ((half, upper), (y0, lower)):
        x = x0
        for index, (name, value, share) in enumerate(cells):
            wide = whole * share
            if index:
                shapes.append(line((x, y), (x, y + BLOCK / 2.0), thin))
            shapes.append(Text((x + 1.5, y + BLOCK / 2.0 - 2.9), name, 1.9, colour=GREY))
            bold = name in ("PAPER", "JOB")
            shapes.append(_fitted((x + 1.5, y + 2.2), value, wide - 3.0, 3.4, bold))
            x += wide
    return shapes


def _fitted(at: tuple[float, float], text: str, room: float, size: float, bold: bool) -> Text:
    """Return a line that is made smaller, then shorter, until it fits."""
    while letters.width(text, size, bold) > room and size > 2.2:
        size -= 0.1
    while letters.width(text, size, bold) > room and len(text) > 4:
        text = text[:-4] + "..."
    return Text(at, text, size, bold)
