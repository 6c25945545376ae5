"""Templates at true size: flat patterns and the guide for drilling the vehicle, on tiles if need be."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from linkviz.frozen import Frozen
from linkviz.papers import letters
from linkviz.papers.flow import BLOCK, EDGE, LEFT, frame
from linkviz.papers.heading import Heading
from linkviz.papers.letters import bounds
from linkviz.papers.plate_views import View
from linkviz.papers.shapes import SIZES, THIN, Circle, Clip, Page, Pen, Shape, Text, box, cross, line, moved

OVERLAP: Final = 15.0
"""What two neighbouring tiles share, mm."""
BARS: Final = 29.0
"""Height of the strip with the scale bars, mm."""
JOIN: Final = "Lay the round marks over those of the next sheet, cut on the dashed line, tape on the back."
SAID: Final = "Measure this bar before drilling."
_SEAM: Final = Pen(0.25, (4.0, 2.0), "#5a5a5a")
_INCH: Final = 25.4
_ROOM: Final = 2.0


class Sheet(Frozen):
    """One thing at true size.

    Attributes
    ----------
    title : str
    view : View
        At scale 1.
    notes : tuple of str
        Written above it where there is room.
    """

    title: str
    view: View
    notes: tuple[str, ...] = ()


def window(heading: Heading) -> tuple[float, float, float, float]:
    """Return the part of a page that a template may fill, mm."""
    width, height = SIZES[heading.paper]
    return LEFT + _ROOM, EDGE + BLOCK + BARS, width - EDGE - _ROOM, height - EDGE - _ROOM


def template_pages(sheets: Sequence[Sheet], heading: Heading, title: str) -> tuple[Page, ...]:
    """Return the pages of templates.

    Parameters
    ----------
    sheets : sequence of Sheet
        What is printed at true size.
    heading : Heading
    title : str
        Of the paper.
    """
    made: list[list[Shape]] = []
    for sheet in sheets:
        made += _tiles(sheet, heading)
    width, height = SIZES[heading.paper]
    count = len(made)
    return tuple(
        Page(width, height, (*frame(heading, title, number, count), *scale_bars(heading), *shapes))
        for number, shapes in enumerate(made, 1)
    )


def scale_bars(heading: Heading) -> list[Shape]:
    """Return the bars of 100 mm and 4 in that say whether the printer kept to true size."""
    left, base = LEFT + 6.0, EDGE + BLOCK
    shapes: list[Shape] = [line((LEFT, base + BARS), (SIZES[heading.paper][0] - EDGE, base + BARS))]
    for y, long, step, ticks, name in (
        (base + 12.5, 100.0, 10.0, 10, "100 mm"),
        (base + 3.5, 4 * _INCH, _INCH / 2, 8, "4 in"),
    ):
        shapes.append(line((left, y), (left + long, y), Pen(0.35)))
        for tick in range(ticks + 1):
            high = (
                4.0 if tick in (0, ticks) else 2.6 if tick * 2 % ticks == 0 or (ticks == 8 and tick % 2 == 0) else 1.6
            )
            shapes.append(line((left + tick * step, y), (left + tick * step, y + high), Pen(0.25)))
        shapes.append(Text((left + long + 3.0, y), name, 3.4, True))
    at = (left, base + BARS - 5.6)
    shapes.append(Text(at, SAID, 3.3, True))
    words = 'If it is not exactly right, print again at 100 % ("actual size").'
    shapes.append(Text((at[0] + letters.width(SAID, 3.3, True) + 4.0, at[1]), words, 2.7))
    return shapes


def _tiles(sheet: Sheet, heading: Heading) -> list[list[Shape]]:
    x0, y0, x1, y1 = window(heading)
    wide, high = x1 - x0, y1 - y0
    top = 6.0 + 4.2 * len(sheet.notes)
    joined = sheet.replace(notes=(*sheet.notes, JOIN))
    if sheet.view.width <= wide and sheet.view.height + top <= high:
        shift = (x0 + (wide - sheet.view.width) / 2.0 - sheet.view.extent[0], y1 - top - sheet.view.extent[3])
        return [[*_headed(sheet, x0, y1, 1, 1), *moved(sheet.view.shapes, *shift)]]
    return _cut_up(joined, (x0, y0, x1, y1 - top - 4.2))


def _cut_up(sheet: Sheet, room: tuple[float, float, float, float]) -> list[list[Shape]]:
    """Return the tiles of a sheet, left to right, then down."""
    x0, y0, x1, y1 = room
    left, _, _, upper = sheet.view.extent
    across, down = _steps(sheet.view.width, x1 - x0), _steps(sheet.view.height, y1 - y0)
    step_x, step_y = x1 - x0 - OVERLAP, y1 - y0 - OVERLAP
    pages: list[list[Shape]] = []
    for row in range(down):
        for column in range(across):
            # where the tile's upper left corner lies on the sheet
            at = (left + column * step_x, upper - row * step_y)
            shift = (x0 - at[0], y1 - at[1])
            inside = [shape for shape in moved(sheet.view.shapes, *shift) if _seen(shape, room)]
            inside += _seams(room, (column, row), (across, down))
            number = row * across + column + 1
            head = _headed(sheet, x0, y1 + 6.0 + 4.2 * len(sheet.notes), number, across * down)
            pages.append([*head, Clip(room, tuple(inside)), box(*room, THIN)])
    return pages


def _seen(shape: Shape, room: tuple[float, float, float, float]) -> bool:
    """Return whether any of a shape may lie in a rectangle."""
    x0, y0, x1, y1 = bounds(shape)
    return x0 <= room[2] and x1 >= room[0] and y0 <= room[3] and y1 >= room[1]


def _steps(size: float, room: float) -> int:
    return 1 if size <= room else 1 + math.ceil((size - room) / (room - OVERLAP))


def _seams(room: tuple[float, float, float, float], tile: tuple[int, int], tiles: tuple[int, int]) -> list[Shape]:
    """Return the lines on which neighbours meet, in the middle of what they share, with marks to lay together."""
    x0, y0, x1, y1 = room
    shapes: list[Shape] = []
    upright = [x0 + OVERLAP / 2.0] * (tile[0] > 0) + [x1 - OVERLAP / 2.0] * (tile[0] < tiles[0] - 1)
    level = [y1 - OVERLAP / 2.0] * (tile[1] > 0) + [y0 + OVERLAP / 2.0] * (tile[1] < tiles[1] - 1)
    for x in upright:
        shapes.append(line((x, y0), (x, y1), _SEAM))
        for share in (0.2, 0.5, 0.8):
            shapes += _mark((x, y0 + share * (y1 - y0)))
    for y in level:
        shapes.append(line((x0, y), (x1, y), _SEAM))
        for share in (0.2, 0.5, 0.8):
            shapes += _mark((x0 + share * (x1 - x0), y))
    return shapes


def _mark(at: tuple[float, float]) -> list[Shape]:
    return [Circle(at, 2.0, Pen(0.25)), *cross(at, 4.0)]


def _headed(sheet: Sheet, x: float, y: float, number: int, count: int) -> list[Shape]:
    tiles = f", sheet {number} of {count}" if count > 1 else ""
    shapes: list[Shape] = [Text((x, y - 4.0), f"{sheet.title}{tiles}, true size 1:1", 3.8, True)]
    return shapes + [Text((x, y - 8.2 - 4.2 * row), note, 2.7) for row, note in enumerate(sheet.notes)]
