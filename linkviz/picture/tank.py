"""Envelopes: their solid outlines, the touched and the nearly touched zone, the gap, handles, the outline being drawn."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from linkviz.picture.scene import Scene
from linkviz.picture.shapes import Circle, Label, Path, Pt, Shape
from linkviz.picture.stand import Stand
from linkviz.units import format_length


def fills(stand: Stand) -> list[Shape]:
    """Return the envelopes as calm areas."""
    return [Path(stand.outline(_own(stand, e)), "part", True) for e in stand.vehicle.envelopes]


def edges(stand: Stand, picked: int) -> list[Shape]:
    """Return the outlines of the envelopes, the picked one stronger."""
    return [
        Path(stand.outline(_own(stand, e)), "part.picked" if i == picked else "part.edge", True)
        for i, e in enumerate(stand.vehicle.envelopes)
    ]


def zones(stand: Stand, scene: Scene) -> list[Shape]:
    """Return the zones of interference: first all that is near, then what is touched."""
    result: list[Shape] = []
    for kind in ("near", "touched"):
        for zone in scene.zones:
            for region in getattr(zone, f"{kind}_{stand.view}"):
                outer, holes = _region(region)
                if len(outer) > 2:
                    result.append(Path(stand.outline(outer), kind, True, tuple(stand.outline(h) for h in holes)))
    return result


def gap_line(stand: Stand) -> list[Shape]:
    """Return the line between the nearest points of shaft and envelope."""
    found = gap_ends(stand)
    if found is None:
        return []
    a, b, status = found
    return [Path((a, b), f"gap.{status}"), Circle(a, 5.0, f"gap.{status}"), Circle(b, 5.0, f"gap.{status}")]


def gap_ends(stand: Stand) -> tuple[Pt, Pt, str] | None:
    """Return the nearest points of shaft and envelope as drawn, and "ok", "warn" or "hit"; None with no gap."""
    study = stand.study
    near = int(study.near[0])
    if near < 0:
        return None
    gap = float(study.gap[0])
    margin = stand.vehicle.envelopes[near].margin if near < len(stand.vehicle.envelopes) else 0.0
    status = "hit" if gap <= 0 else "warn" if gap < margin else "ok"
    a, b = stand.body([study.on_shaft[0], study.on_solid[0]])
    return a, b, status


def gap_words(stand: Stand, scene: Scene) -> str:
    """Return the gap in words."""
    gap = float(stand.study.gap[0])
    if gap > 0:
        return f"gap {format_length(gap, scene.unit)}"
    deep = format_length(-gap, scene.unit)
    return f"touches, {deep} deep" if deep.strip('0 m"') else "touches"


def handles(stand: Stand, scene: Scene) -> list[Shape]:
    """Return handles on the corners of the picked envelope."""
    if not 0 <= scene.envelope < len(stand.vehicle.envelopes):
        return []
    corners = stand.outline(_own(stand, stand.vehicle.envelopes[scene.envelope]))
    return [Circle(c, 9.0, "handle") for c in corners]


def draft(stand: Stand, scene: Scene) -> list[Shape]:
    """Return the outline being drawn in this view."""
    if scene.draft_view != stand.view or not scene.draft:
        return []
    corners = stand.outline(scene.draft)
    result: list[Shape] = [Path(corners, "draft")] if len(corners) > 1 else []
    result.extend(Circle(c, 8.0, "draft.corner") for c in corners)
    return result


def names(stand: Stand) -> list[Label]:
    """Return the envelopes' names, inside them."""
    result = []
    for i, e in enumerate(stand.vehicle.envelopes):
        us, vs = zip(*stand.outline(_own(stand, e)), strict=True)
        middle = ((min(us) + max(us)) / 2.0, (min(vs) + max(vs)) / 2.0)
        result.append(Label(middle, e.name, "text.part", "centre", middle, name=f"envelope {i}"))
    return result


def _own(stand: Stand, envelope: Any) -> Any:
    return envelope.rear if stand.view == "rear" else envelope.side


def _region(region: Any) -> tuple[Iterable[Any], tuple[Iterable[Any], ...]]:
    """Return the outer outline and the holes of a region, or of a bare polygon."""
    if hasattr(region, "outer"):
        return tuple(region.outer), tuple(region.holes)
    return tuple(region), ()
