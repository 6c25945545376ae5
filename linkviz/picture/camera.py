"""How a drawing in mm lies on a piece of paper in screen points, v up there and y down here."""

from __future__ import annotations

from collections.abc import Sequence

from linkviz.frozen import Frozen
from linkviz.picture.shapes import Drawing, Pt

HEADING = 34.0
"""Room kept free above a drawing for its title, screen points."""
MESH = 200.0
"""Step of the quiet mesh on the paper, mm."""
Extent = tuple[float, float, float, float]


class Camera(Frozen):
    """Where one drawing lies in its pane.

    Attributes
    ----------
    scale : float
        Screen points per mm.
    x, y : float
        Where u = v = 0 lies in the pane, screen points, y down.
    width, height : float
        Size of the pane, screen points.
    """

    scale: float
    x: float
    y: float
    width: float
    height: float

    def to_screen(self, at: Pt) -> Pt:
        """Return where a point of the drawing, mm, lies in the pane."""
        return self.x + at[0] * self.scale, self.y - at[1] * self.scale

    def to_plane(self, at: Pt) -> Pt:
        """Return which point of the drawing, mm, lies at a place of the pane."""
        return (at[0] - self.x) / self.scale, (self.y - at[1]) / self.scale

    def zoom(self, at: Pt, factor: float) -> Camera:
        """Return the camera with its scale times `factor`; what lies at `at` stays there."""
        return self.replace(
            scale=self.scale * factor,
            x=at[0] + (self.x - at[0]) * factor,
            y=at[1] + (self.y - at[1]) * factor,
        )

    def pan(self, dx: float, dy: float) -> Camera:
        """Return the camera with the drawing shifted by screen points."""
        return self.replace(x=self.x + dx, y=self.y + dy)

    @classmethod
    def looking(cls, scale: float, middle: Pt, width: float, height: float) -> Camera:
        """Return the camera that has a point of the drawing, mm, in the middle of its pane."""
        return cls(scale, width / 2.0 - middle[0] * scale, height / 2.0 + middle[1] * scale, width, height)

    @classmethod
    def fit(cls, extent: Extent, width: float, height: float, heading: float = HEADING) -> Camera:
        """Return the camera that shows a whole extent, as large as it goes."""
        return fit_all([extent], [(width, height)], heading)[0]


def fit_all(extents: Sequence[Extent], panes: Sequence[tuple[float, float]], heading: float = HEADING) -> list[Camera]:
    """Return one camera for each pane: all of one scale, their ground lines at one height.

    Parameters
    ----------
    extents : sequence of (u_min, v_min, u_max, v_max)
        What each pane has to show, mm.
    panes : sequence of (float, float)
        Width and height of each pane, screen points.
    heading : float
        Room kept free at the top, screen points.
    """
    low, high = min(e[1] for e in extents), max(e[3] for e in extents)
    height = min(h for _, h in panes)
    scale = max(height - heading, 10.0) / max(high - low, 1.0)
    for extent, (width, _) in zip(extents, panes, strict=True):
        scale = min(scale, width / max(extent[2] - extent[0], 1.0))
    # Of the height to spare a little more goes above, so that the ground lies low.
    spare = max(height - heading - scale * (high - low), 0.0)
    middle = (low + high) / 2.0 + (heading / 2.0 + 0.1 * spare) / scale
    return [
        Camera.looking(scale, ((extent[0] + extent[2]) / 2.0, middle), width, pane)
        for extent, (width, pane) in zip(extents, panes, strict=True)
    ]


def mesh(camera: Camera, step: float = MESH) -> tuple[list[float], list[float]]:
    """Return where upright and level lines of a square mesh over the pane lie, screen points."""
    across, up = step * camera.scale, step * camera.scale
    if across < 6.0:
        return [], []
    first = -int(camera.x // across)
    upright = [camera.x + k * across for k in range(first, first + int(camera.width // across) + 2)]
    low = -int(camera.y // up)
    level = [camera.y + k * up for k in range(low, low + int(camera.height // up) + 2)]
    return [x for x in upright if 0 <= x <= camera.width], [y for y in level if 0 <= y <= camera.height]


class Pane(Frozen):
    """One drawing on a sheet: its camera and where its pane begins, screen points."""

    drawing: Drawing
    camera: Camera
    left: float
    top: float


def lay_out(drawings: Sequence[Drawing], width: float, height: float) -> list[Pane]:
    """Put drawings side by side on a sheet, on one scale and one ground, wider ones in wider panes."""
    spans = [d.extent[2] - d.extent[0] for d in drawings]
    widths = [width * span / sum(spans) for span in spans]
    cameras = fit_all([d.extent for d in drawings], [(w, height) for w in widths])
    panes, left = [], 0.0
    for drawing, camera, pane in zip(drawings, cameras, widths, strict=True):
        panes.append(Pane(drawing, camera, left, 0.0))
        left += pane
    return panes
