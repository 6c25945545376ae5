"""The frame, the signs and the words, written once and cited everywhere.

Frame
-----
Axes as ISO 8855: **X forward, Y left, Z up**, right-handed. The frame is fixed to the *body*. Its origin is on
the body's centre plane, at ground level, under the axle centre at *design height*: the standing, unladen
height at which the vehicle was measured.

Motion of the axle relative to the body
---------------------------------------
heave h
    Axle centre up (+) or down (-) from design height, mm.
lift l >= 0
    Rise of the body at rest: at rest h = -l, mm.
travel t = h + l
    From the present rest: **jounce** (+, wheels up into the body), **rebound** (-), as SAE J670 names them, mm.
x, y
    Axle centre forward (+) and left (+) of its design place, mm. *Sway* is y relative to its value at rest;
    *offset at rest* is y at rest relative to design. Both are seen from the body. The tyres hold the road, so
    on the road it is the body that goes sideways.
roll phi
    Rotation of the axle about +X; left wheel up is +. Radians inside, degrees on screens and in files.
pitch theta
    Rotation about +Y; + turns the pinion nose *down*. The *pinion angle* people read is nose up +.
yaw psi
    Rotation about +Z; + steers the axle to the left.
rotation
    R = Rz(psi) Ry(theta) Rx(phi), about the axle centre.

Angles people read
------------------
bar angle
    Inclination of the lateral bar in rear view, deg; 0 is level, + when the frame end is above the axle end.
pinion angle
    Design value of the pinion angle minus pitch, deg; nose up +.
roll centre
    Height above the ground, in the plane of the axle, mm.

Units
-----
mm, N, N/mm, MPa, kg and rad inside the program, always. A file declares mm or inches and holds every length
in that unit; stiffness is N/mm, mass is kg and angles are degrees whatever the unit of length.

References
----------
ISO 8855, Road vehicles: vehicle dynamics and road-holding ability: vocabulary (axis system, roll, pitch, yaw).
SAE J670, Vehicle dynamics terminology (jounce, rebound).
"""

from __future__ import annotations

from typing import Final

GRAVITY: Final = 9.80665
"""Standard acceleration of free fall, m/s^2 (ISO 80000-3)."""

MM_PER_INCH: Final = 25.4
"""Exact by definition, mm."""

FORWARD: Final = (1.0, 0.0, 0.0)
"""Unit vector of X."""

LEFT: Final = (0.0, 1.0, 0.0)
"""Unit vector of Y."""

UP: Final = (0.0, 0.0, 1.0)
"""Unit vector of Z."""
