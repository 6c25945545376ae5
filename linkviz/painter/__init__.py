"""The writer that paints with Qt: on the screen, into PNG and GIF files.

A pane paints its drawing with ``paint(painter, drawing, Camera.looking(scale, (u, v), width, height), theme, memory,
background=False, title=False)``, where (u, v) is the point of the drawing in the middle of the pane and ``memory`` is
a dict the pane keeps, so that labels in motion do not jump.
"""

from linkviz.painter.camera import Camera
from linkviz.painter.paint import paint

__all__ = ["Camera", "paint"]
