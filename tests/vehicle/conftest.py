"""A sound vehicle file to spoil, one thing at a time."""

from __future__ import annotations

import pytest

SOUND = """\
# measured by hand
format = "linkviz-vehicle/1"
name = "Test bench"
units = "mm"   # tape in mm

[axle]
centre = [0.0, 0.0, 370.0]  # under the spring pads
track = 1480
tyre_radius = 370.0
tyre_width = 255.0

# the links, left first
[links.lower_left]
frame = [560.0, 420.0, 400.0]
axle = [0.0, 460.0, 310.0]
stiffness = 4000.0

[links.lower_right]
frame = [560.0, -420.0, 400.0]
axle = [0.0, -460.0, 310.0]

[links.upper_left]
frame = [300.0, 330.0, 560.0]
axle = [10.0, 300.0, 500.0]

[links.upper_right]
frame = [300.0, -330.0, 560.0]
axle = [10.0, -300.0, 500.0]

[links.lateral_bar]
frame = [-130.0, -440.0, 520.0]
axle = [-130.0, 430.0, 440.0]

[driveshaft]
front_joint = [1150.0, 0.0, 520.0]
pinion_joint = [230.0, 0.0, 385.0]
radius = 38.0

[[envelopes]]
# the big one
name = "fuel tank"
rear = [
    [100.0, 300.0],  # inner lower corner
    [300.0, 300.0],
    [300.0, 500.0],
    [100.0, 500.0],
]
side = [[350.0, 300.0], [900.0, 300.0], [900.0, 500.0], [350.0, 500.0]]
margin = 12.0

# second
[[envelopes]]
name = "exhaust"
rear = [[-100.0, 300.0], [-150.0, 300.0], [-150.0, 350.0]]
side = [[350.0, 300.0], [900.0, 300.0], [900.0, 350.0]]

[mass]
wheelbase = 2720.0
total = 1960.0
rear_axle = 905.0
cg_height = 690.0

[travel]
jounce = 85.0
rebound = 90.0

[measuring]
u = 3.0

[measuring.points]
"links.lateral_bar.frame" = 2.0
"""


@pytest.fixture
def sound() -> str:
    """Return the text of a sound vehicle file in mm, every table in it."""
    return SOUND
