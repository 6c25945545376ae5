"""The measuring guide: what to measure on a vehicle and how, a page and a picture at a time."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage, QKeyEvent
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from linkviz.frozen import Frozen
from linkviz.painter.image import image
from linkviz.picture.measuring import measuring_views
from linkviz.resources import demo_vehicle_paths
from linkviz.session.edits import point_of
from linkviz.units import Unit
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle
from linkviz.window.picture_box import PictureBox
from linkviz.window.theme import scaled

SIZE = (1000, 400)
"""Width and height of a picture, screen points."""


class Leaf(Frozen):
    """One page of the guide.

    Attributes
    ----------
    title, text : str
        Heading and words.
    points : tuple of (str, str)
        Words and name of the points that are marked, the first with its lengths.
    envelope : int
        The envelope that is shown, -1 for none.
    """

    title: str
    text: str
    points: tuple[tuple[str, str], ...] = ()
    envelope: int = -1


LEAVES = (
    Leaf(
        "Before you begin",
        "Park on a level floor, unladen, tyres at their pressure, wheels straight. Bounce the body once and let it "
        "settle. You need a tape, a spirit level, a plumb line, an angle finder and chalk; two people are faster.\n"
        "Everything is measured with the vehicle standing on its wheels. If you must go under it, chock the wheels; if "
        "it has to be raised, put it on stands first, never on a jack alone.\n"
        "Chalk two lines on the floor: one along the middle of the vehicle, one across it under the rear axle. Every "
        "point is taken from them: x forward, y to the left, z up from the floor.",
        (("axle centre", "axle.centre"),),
    ),
    Leaf(
        "Axle and wheels",
        "Track: from the middle of the left tyre to the middle of the right one, on the floor. Tyre radius: from the "
        "floor to the middle of the wheel, standing. Tyre width: the widest part.\n"
        "Height of the axle: from the floor to the middle of the axle tube. Angle of the pinion: hold the angle finder "
        "on a machined face of the differential housing; nose up is plus.",
        (("axle centre", "axle.centre"),),
    ),
    Leaf(
        "Lower links",
        "Measure to the middle of the bolt, not to the edge of the bracket. Drop the plumb line from the bolt's head, "
        "mark the floor, and measure from the chalk lines: x from the axle line, y from the middle line. The height z "
        "is the length of the plumb line.\n"
        "Both ends, left and right. If the sides are alike, measure one and let the program mirror it.",
        (("frame end", "links.lower_left.frame"), ("axle end", "links.lower_left.axle")),
    ),
    Leaf(
        "Upper links",
        "The same for the upper links. They are often hard to see: hold a straight edge against the bolt's head, "
        "level, and bring its end out to where the plumb line hangs free.",
        (("frame end", "links.upper_left.frame"), ("axle end", "links.upper_left.axle")),
    ),
    Leaf(
        "Lateral bar",
        "The bar that holds the axle sideways. These two points matter most of all: measure them twice, to the middle "
        "of each bolt. A few millimetres in height here change the sway and the bracket.\n"
        "While you are there, measure the frame bracket too: width between its plates, their thickness, the bolt.",
        (("frame end", "links.lateral_bar.frame"), ("axle end", "links.lateral_bar.axle")),
    ),
    Leaf(
        "Driveshaft",
        "The middle of the joint at the front and of the joint at the pinion, and the radius of the tube (half of its "
        "diameter; with a tape around it, the length divided by 6.28).\n"
        "Slip: how far the shaft can still be pushed in and pulled out from where it stands.",
        (("front joint", "driveshaft.front_joint"), ("pinion joint", "driveshaft.pinion_joint")),
    ),
    Leaf(
        "Tank and what else is near",
        "Two outlines: one as seen from behind, one as seen from the side, a few corners each; straight edges between "
        "them are good enough. Measure the corners nearest to the shaft with most care, straps, seams and skid plate "
        "included.\n"
        "In the program: Draw envelope (D), click the corners in either view, then type the exact values.",
        (),
        0,
    ),
    Leaf(
        "Springs, dampers, hoses",
        "Middle of the upper and lower seat of the left coil, its free length if you know it. Both eyes of the left "
        "damper, and its length pushed in and pulled out. Both ends of every hose and cable that goes to the axle, and "
        "its length pulled straight.\n"
        "The brake hose is the one people forget. Brakes are work for a licensed mechanic.",
        (("left spring, upper seat", "springs.body"), ("left damper, upper eye", "dampers.body")),
    ),
    Leaf(
        "How good must it be?",
        "A tape on a workshop floor is good to about 3 mm (1/8 in). Write down how far each point may be off; the "
        "program works out what that does to every result and says which points are worth measuring again.\n"
        "File, Blank measuring sheet makes a table to print and fill in; Vehicle from measuring sheet reads it back "
        "and says what is missing. Check one length across two points (a link, eye to eye) against the sheet before "
        "the vehicle leaves.",
        (("frame end, measured twice", "links.lateral_bar.frame"),),
    ),
)
"""The pages, in the order in which one works."""


def leaf_image(leaf: Leaf, vehicle: Vehicle, theme: str, unit: Unit) -> QImage:
    """Return the picture of a page."""
    points = [(words, point_of(vehicle, name)) for words, name in leaf.points]
    return image(measuring_views(vehicle, points, unit, leaf.envelope), SIZE, theme, 2.0)


class Guide(QDialog):
    """The guide, a page at a time.

    Parameters
    ----------
    theme : {"light", "dark"}
        Colours of the pictures.
    unit : {"mm", "in"}
        Unit of the lengths in them.
    """

    def __init__(self, theme: str, unit: Unit, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Measuring guide")
        self.resize(1040, 660)
        self._theme, self._unit = theme, unit
        self._vehicle = read_vehicle(demo_vehicle_paths()[0])
        self.at = 0
        column = QVBoxLayout(self)
        self.title = QLabel()
        self.title.setFont(scaled(self.font(), 1.4, bold=True))
        column.addWidget(self.title)
        self.picture = PictureBox(SIZE)
        self.picture.setAccessibleName("What to measure")
        column.addWidget(self.picture, 1)
        self.text = QLabel()
        self.text.setWordWrap(True)
        self.text.setTextFormat(Qt.TextFormat.PlainText)
        self.text.setFont(scaled(self.font(), 1.1))
        self.text.setMinimumHeight(150)
        self.text.setAlignment(Qt.AlignmentFlag.AlignTop)
        column.addWidget(self.text)
        row = QHBoxLayout()
        self.count = QLabel()
        self.count.setObjectName("soft")
        row.addWidget(self.count, 1)
        self.back = QPushButton("&Back")
        self.back.clicked.connect(lambda: self.turn(-1))
        self.next = QPushButton("&Next")
        self.next.clicked.connect(lambda: self.turn(1))
        close = QPushButton("&Close")
        close.clicked.connect(self.reject)
        for button, tip in (
            (self.back, "Page before (Left)"),
            (self.next, "Next page (Right)"),
            (close, "Close (Esc)"),
        ):
            button.setToolTip(tip)
            button.setAccessibleName(button.text().replace("&", ""))
            row.addWidget(button)
        self.next.setDefault(True)
        column.addLayout(row)
        self.turn(0)

    def turn(self, by: int) -> None:
        """Turn some pages on or back."""
        self.at = min(max(self.at + by, 0), len(LEAVES) - 1)
        leaf = LEAVES[self.at]
        self.title.setText(leaf.title)
        self.text.setText(leaf.text)
        self.count.setText(f"Page {self.at + 1} of {len(LEAVES)}; the vehicle in the pictures is invented")
        self.picture.show_image(leaf_image(leaf, self._vehicle, self._theme, self._unit))
        self.back.setEnabled(self.at > 0)
        self.next.setEnabled(self.at < len(LEAVES) - 1)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Turn with the arrow keys."""
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_PageUp: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_PageDown: 1}
        key = Qt.Key(event.key())
        if key in steps:
            self.turn(steps[key])
            return
        super().keyPressEvent(event)
