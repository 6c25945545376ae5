"""Names of the parts that are watched for clearance, and checks of the tables `sizes` and `pairs`."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from linkviz.errors import Problem
from linkviz.vehicle.model import Envelope, Sizes, Watch
from linkviz.vehicle.points import nearest
from linkviz.vehicle.wording import Parts, Range, Words

PART_NAMES: Final = (
    "driveshaft",
    "front yoke",
    "rear yoke",
    "pinion yoke",
    "lateral bar",
    "drop bracket",
    "axle tube",
    "housing",
    "left tyre",
    "right tyre",
    "left damper",
    "right damper",
    "bump stops",
    "link ends",
)
"""Parts that clearance is watched for, as a vehicle file and screens call them; envelopes go by their own names."""

MARGIN: Final = Range(0.0, 300.0)
"""Clearance that anyone asks for, mm."""
SIZES: Final = {
    "yoke_radius": Range(15.0, 200.0),
    "yoke_length": Range(10.0, 400.0),
    "bar_radius": Range(5.0, 80.0),
    "eye_radius": Range(8.0, 100.0),
    "tube_radius": Range(20.0, 120.0),
    "housing_radius": Range(60.0, 300.0),
    "damper_radius": Range(10.0, 80.0),
    "bracket_length": Range(10.0, 400.0),
    "bracket_width": Range(10.0, 400.0),
    "bracket_lip": Range(5.0, 200.0),
}
"""Sensible sizes, mm."""


def check_sizes(parts: Parts, say: Words) -> Iterator[Problem]:
    """Yield what is wrong with the sizes of parts that move."""
    sizes = parts.get("sizes")
    if isinstance(sizes, Sizes):
        for key, allowed in SIZES.items():
            if (value := getattr(sizes, key)) is not None:
                yield from say.outside(f"sizes.{key}", value, allowed)


def check_pairs(parts: Parts, say: Words) -> Iterator[Problem]:
    """Yield what is wrong with the pairs that are watched."""
    envelopes = [part.name for part in parts.values() if isinstance(part, Envelope)]
    known = [*PART_NAMES, *envelopes]
    seen: dict[frozenset[str], str] = {}
    for key, pair in parts.items():
        if not isinstance(pair, Watch):
            continue
        for end, name in (("one", pair.one), ("other", pair.other)):
            if name not in known:
                near = nearest(name, known)
                hint = f'"{near}", if that is meant' if near else f"one of {', '.join(known)}"
                yield Problem(f"{key}.{end}", f'the unknown part "{name}"', hint)
        both = frozenset((pair.one, pair.other))
        if pair.one == pair.other:
            yield Problem(key, f'"{pair.one}" against itself', "two different parts")
        elif both in seen:
            yield Problem(key, f"the same two parts as {seen[both]}", "each pair once")
        seen.setdefault(both, key)
        if pair.margin is not None and not MARGIN.holds(pair.margin):
            yield Problem(f"{key}.margin", say.length(pair.margin), say.span(MARGIN))
