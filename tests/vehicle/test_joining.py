"""Lines joined into outlines: as the plain search through all of them does, which takes time by their square."""

from __future__ import annotations

import math
import random
import time

import pytest

from linkviz.errors import LinkvizError
from linkviz.vehicle.joining import JOIN, MOST_AT_A_PLACE, joined
from linkviz.vehicle.outline_files import Corners
from linkviz.vehicle.outlines import Corner


def plainly(lines: list[Corners], reach: float = JOIN) -> tuple[list[Corners], list[Corner]]:
    """Join lines by looking at every end each time."""
    closed: list[Corners] = []
    ends: list[Corner] = []
    left = list(lines)
    while left:
        chain = list(left.pop(0))
        while math.dist(chain[0], chain[-1]) > reach:
            best: tuple[float, int, bool] | None = None
            for index, line in enumerate(left):
                for turned, corner in ((False, line[0]), (True, line[-1])):
                    far = math.dist(corner, chain[-1])
                    if far <= reach and (best is None or far < best[0]):
                        best = (far, index, turned)
            if best is None:
                ends.append(chain[-1])
                break
            more = left.pop(best[1])
            chain += (more[::-1] if best[2] else more)[1:]
        else:
            outline = tuple(chain[:-1])
            if len(outline) >= 3:
                closed.append(outline)
    return closed, ends


def drawn(chance: random.Random) -> list[Corners]:
    """Return lines of a random drawing: some rings cut up, turned and shuffled, some crossing ends, some loose."""
    lines: list[Corners] = []
    for _ in range(chance.randrange(1, 5)):
        count = chance.randrange(2, 9)
        middle = (chance.choice([0.0, 5.0]), chance.choice([0.0, -7.0]))
        ring = [
            (middle[0] + round(math.cos(a), chance.choice([1, 6])), middle[1] + math.sin(a))
            for a in (2.0 * math.pi * i / count for i in range(count))
        ]
        for i in range(count):
            a, b = ring[i], ring[(i + 1) % count]
            off = (a[0] + chance.uniform(-0.4, 0.4) * JOIN, a[1] + chance.choice([0.0, 0.004, -0.004]))
            line = (off, b) if chance.random() < 0.8 else (off, (chance.random(), chance.random()), b)
            lines.append(line[::-1] if chance.random() < 0.5 else line)
    for _ in range(chance.randrange(3)):
        lines.append(((chance.random(), 0.0), (5.0, chance.choice([0.0, 1.0]))))
    if chance.random() < 0.3:
        lines.append(chance.choice(lines))
    if chance.random() < 0.3 and lines:
        del lines[chance.randrange(len(lines))]
    chance.shuffle(lines)
    return lines


def test_the_same_as_by_the_plain_search() -> None:
    chance = random.Random(20261125)
    made = 0
    for _ in range(1500):
        lines = drawn(chance)
        expected = plainly(lines)
        assert joined(lines) == expected
        made += bool(expected[0]) and bool(expected[1])
    assert made > 100


def ring(count: int) -> list[Corners]:
    corners = [(1000.0 * math.cos(a), 1000.0 * math.sin(a)) for a in (2.0 * math.pi * i / count for i in range(count))]
    return [(corners[i], corners[(i + 1) % count]) for i in range(count)]


def fan(count: int) -> list[Corners]:
    """Return lines that all end in one place."""
    return [((float(i + 1), 1.0), (0.0, 0.0)) for i in range(count)]


@pytest.mark.parametrize("made", [ring, fan])
def test_ten_times_the_lines_take_about_ten_times_as_long(made: object) -> None:
    assert callable(made)
    took = []
    for count in (3_000, 30_000):
        lines = made(count)
        random.Random(1).shuffle(lines)
        start = time.process_time()
        joined(lines)
        took.append(time.process_time() - start)
    assert took[1] < 40.0 * took[0]  # by the square it is a hundred times


def test_a_heap_of_ends_is_refused() -> None:
    lines = [((0.00001 * i, 0.0), (100.0, float(i))) for i in range(MOST_AT_A_PLACE + 2)]
    with pytest.raises(LinkvizError, match="Clean the drawing"):
        joined(lines)
