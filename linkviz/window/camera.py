"""The camera both drawings share: one scale, one ground line, and where each looks sideways."""

from __future__ import annotations

from collections.abc import Mapping

from linkviz.picture.camera import HEADING, Camera, fit_all
from linkviz.session.edits import ViewName

Extent = tuple[float, float, float, float]
"""(u_min, v_min, u_max, v_max), mm."""
Size = tuple[float, float]
"""Width and height, screen points."""

SCALES = (0.03, 8.0)
"""Least and greatest scale, screen points per mm."""


class SharedCamera:
    """Where the drawings look.

    Attributes
    ----------
    scale : float
        Screen points per mm, the same in both panes.
    v : float
        Height in the middle of both panes, mm.
    u : dict
        Sideways place in the middle of each pane, mm.
    fitted : bool
        Whether it still shows everything: a resize then fits again.
    """

    def __init__(self) -> None:
        self.scale = 0.3
        self.v = 450.0
        self.u: dict[ViewName, float] = {"rear": 0.0, "side": 300.0}
        self.fitted = True

    def fit(self, extents: Mapping[ViewName, Extent], sizes: Mapping[ViewName, Size]) -> None:
        """Show all of both drawings: the largest scale at which both fit, the same ground line.

        Parameters
        ----------
        extents : mapping
            What each pane has to show, mm.
        sizes : mapping
            How large each pane is, screen points.
        """
        names = list(extents)
        cameras = fit_all([extents[name] for name in names], [sizes[name] for name in names], HEADING)
        self.scale = min(max(cameras[0].scale, SCALES[0]), SCALES[1])
        for name, camera in zip(names, cameras, strict=True):
            size = sizes[name]
            self.u[name], self.v = camera.to_plane((size[0] / 2.0, size[1] / 2.0))
        self.fitted = True

    def of(self, view: ViewName, size: Size) -> Camera:
        """Return the camera of one pane."""
        return Camera.looking(self.scale, (self.u[view], self.v), *size)

    def to_screen(self, view: ViewName, at: tuple[float, float], size: Size) -> tuple[float, float]:
        """Return where a point of the drawing, mm, stands in a pane, screen points."""
        return self.of(view, size).to_screen(at)

    def to_plane(self, view: ViewName, at: tuple[float, float], size: Size) -> tuple[float, float]:
        """Return which point of the drawing, mm, stands at a place of a pane."""
        return self.of(view, size).to_plane(at)

    def zoom(self, view: ViewName, at: tuple[float, float], size: Size, factor: float) -> None:
        """Change the scale of both panes so that what lies at `at` of one pane stays there."""
        scale = min(max(self.scale * factor, SCALES[0]), SCALES[1])
        camera = self.of(view, size).zoom(at, scale / self.scale)
        self.scale = scale
        self.u[view], self.v = camera.to_plane((size[0] / 2.0, size[1] / 2.0))
        self.fitted = False

    def pan(self, view: ViewName, by: tuple[float, float]) -> None:
        """Shift one pane sideways and both up and down, by screen points."""
        self.u[view] -= by[0] / self.scale
        self.v += by[1] / self.scale
        self.fitted = False
