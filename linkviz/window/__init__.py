"""The Qt window. Widgets show the session and hold nothing else; `main.run` starts it.

`window` puts it together and is the one way from a change to the screen, `stage` holds the two drawings, each a `pane`,
`tools` are what the mouse does there, `controls` the four sliders, `graph` the strip, `side` and `pages` the right,
`shop` the job book. `actions` names every deed, `work` and `long_work` keep what takes long off the painting thread.

All that needs no Qt is imported before it: once Qt is there, each module that is imported has its source read and
searched by PySide, which makes importing it twice as long.
"""

import linkviz.session.doubt
import linkviz.session.live
import linkviz.session.strip  # noqa: F401
