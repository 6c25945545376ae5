"""The writer that paints with Qt: on the screen, into PNG and GIF files.

A pane paints its drawing with ``paint(painter, drawing, Camera.looking(scale, (u, v), width, height), theme, memory,
background=False, title=False)``, where (u, v) is the point of the drawing in the middle of the pane and ``memory`` is
a dict the pane keeps, so that labels in motion do not jump.
"""

import os

# Qt would hand every large fill to another thread and wait for it: on a small or busy machine the waiting takes far
# longer than the filling of a pane. Qt reads this when it first paints.
os.environ.setdefault("QT_NO_GUI_THREADPOOL", "1")

from linkviz.painter.paint import paint
from linkviz.picture.camera import Camera

__all__ = ["Camera", "paint"]
