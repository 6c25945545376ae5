"""The Qt window. Widgets show the session and hold nothing else; `main.run` starts it.

`window` puts it together, `frame` is the one way from a change to the screen, `pane` shows a drawing and takes the
mouse, `tools` are what the mouse does there, `controls` the four sliders, `graph` the strip, `pages` the right side.

All that needs no Qt is imported before it: once Qt is there, each module that is imported has its source read and
searched by PySide, which makes importing it twice as long.
"""

import linkviz.session.doubt
import linkviz.session.live
import linkviz.session.strip  # noqa: F401
