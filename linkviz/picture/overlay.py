"""What lies over the drawing: envelopes, what is touched, picked points, an outline being drawn."""

from __future__ import annotations

from functools import lru_cache

from linkviz.clearance.zone import Region
from linkviz.linkage.layout import BAR, LINKS
from linkviz.picture.scene import Scene
from linkviz.picture.shapes import Circle, Label, Path, Pt, Shape
from linkviz.picture.stand import Point3, Stand, View, flat
from linkviz.vehicle.described import on_axle, point_words, table_points


def lettering(scene: Scene, style: str) -> str:
    """Return the name of a style of letters, large if the scene is."""
    return style + "+" if scene.large else style


def envelopes(scene: Scene, view: View) -> list[Shape]:
    """Return the envelopes with their names, and over them what is nearly touched and what is touched."""
    build = scene.live.build
    lift = build.setup.lift
    swept = scene.swept_rear if view == "rear" else scene.swept_side
    shapes: list[Shape] = [_region(region, view, lift, "swept") for region in swept]
    for i, envelope in enumerate(build.vehicle.envelopes):
        corners = flat(view, envelope.rear if view == "rear" else envelope.side, lift)
        style = "envelope_picked" if i == scene.envelope else "envelope"
        shapes.append(Path(corners, style, closed=True))
        if i < len(scene.zones):
            zone = scene.zones[i]
            near, touched = (
                (zone.near_rear, zone.touched_rear) if view == "rear" else (zone.near_side, zone.touched_side)
            )
            old = "_stale" if scene.stale else ""
            shapes += [_region(region, view, lift, "near" + old) for region in near]
            shapes += [_region(region, view, lift, "touched" + old) for region in touched]
            if view == "side":
                shapes += _reached(scene, touched, near, lift)
        (u, v), within = _named(view, envelope.rear if view == "rear" else envelope.side)
        at, style = (u, v + lift), lettering(scene, "envelope_text")
        shapes.append(Label(at, envelope.name, style, "centre", leader=at, name=f"envelope {i}", within=within))
    return shapes


@lru_cache(maxsize=128)
def _named(view: View, outline: tuple[Pt, ...]) -> tuple[Pt, tuple[Pt, ...]]:
    """Return the point of an envelope that its name speaks of, without a lift, and its outline from there, mm."""
    corners = flat(view, outline, 0.0)
    low, high = min(v for _, v in corners), max(v for _, v in corners)
    left, right = min(u for u, _ in corners), max(u for u, _ in corners)
    at = ((left + right) / 2.0, low + 0.18 * (high - low))
    return at, tuple((u - at[0], v - at[1]) for u, v in corners)


def _reached(scene: Scene, touched: tuple[Region, ...], near: tuple[Region, ...], lift: float) -> list[Shape]:
    """Return what a zone means in words, where the axle does not touch as it stands."""
    if float(scene.live.tightest.gap[0]) <= 0.0 or not (touched or near):
        return []
    regions, text, icon = (touched, "touched in travel", "hit") if touched else (near, "near in travel", "warn")
    corners = flat("side", max((region.outer for region in regions), key=len), lift)
    at = (sum(u for u, _ in corners) / len(corners), sum(v for _, v in corners) / len(corners))
    style = lettering(scene, f"{icon}_text")
    return [Label(at, text, style, "left", leader=at, icon=icon, above=False, name="zone")]


def _region(region: Region, view: View, lift: float, style: str) -> Path:
    holes = tuple(flat(view, hole, lift) for hole in region.holes)
    return Path(flat(view, region.outer, lift), style, closed=True, holes=holes)


def point_places(scene: Scene, stand: Stand) -> dict[str, Point3]:
    """Return where each measured point stands, body frame, by its name; brackets are on."""
    build = scene.live.build
    layout = build.layout
    places: dict[str, Point3] = {"axle.centre": stand.at}
    for i, name in enumerate(LINKS):
        frame, axle = layout.ends(i)
        places[f"links.{name}.frame"] = frame
        places[f"links.{name}.axle"] = stand.on_axle(*axle)
    for name, place in table_points(build.vehicle).items():
        places[name] = stand.on_axle(*place) if on_axle(name) else place
    return places


def marks(scene: Scene, view: View, stand: Stand) -> list[Shape]:
    """Return points, handles of the picked envelope, and the outline being drawn."""
    put = stand.body(view)
    build = scene.live.build
    shapes: list[Shape] = []
    places = point_places(scene, stand) if scene.show_points or scene.point else {}
    if scene.show_points:
        shapes += [Circle(put(*place), 8.0, "point") for place in places.values()]
    if scene.point in places:
        at, named = put(*places[scene.point]), point_words(build.vehicle, scene.point)
        shapes += [
            Circle(at, 24.0, "point_picked"),
            Circle(at, 8.0, "point"),
            Label(
                at,
                named,
                lettering(scene, "pick_text"),
                "left",
                leader=at,
                name="point",
            ),
        ]
    if 0 <= scene.envelope < len(build.vehicle.envelopes):
        envelope = build.vehicle.envelopes[scene.envelope]
        corners = flat(view, envelope.rear if view == "rear" else envelope.side, build.setup.lift)
        shapes += [Circle(corner, 10.0, "handle") for corner in corners]
    if scene.draft and scene.draft_view == view:
        corners = flat(view, scene.draft, build.setup.lift)
        shapes.append(Path(corners, "draft"))
        shapes += [Circle(corner, 10.0, "handle") for corner in corners]
    return shapes


def bar_ends(scene: Scene, stand: Stand, view: View) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return frame end and axle end of the lateral bar on the paper."""
    layout = scene.live.build.layout
    f, a = layout.ends(BAR)
    return stand.body(view)(*f), stand.axle(view)(*a)
