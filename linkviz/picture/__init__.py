"""The one description of a drawing: plain shapes in mm that every writer consumes. No Qt here."""

from linkviz.picture.rear import rear_view
from linkviz.picture.scene import Scene
from linkviz.picture.side import side_view

__all__ = ["Scene", "rear_view", "side_view"]
