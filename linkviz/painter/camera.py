"""The camera of a painted drawing; the same as every other writer's."""

from __future__ import annotations

from linkviz.picture.camera import HEADING, Camera, Pane, fit_all, lay_out

__all__ = ["HEADING", "Camera", "Pane", "fit_all", "lay_out"]
