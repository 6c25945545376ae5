"""A measured vehicle: frozen values in engine units (mm, N/mm, kg), whatever the file declares.

The reader (`linkviz.vehicle.read`) and the writer (`linkviz.vehicle.write`) follow these classes: a new table of the
file is a new `Part` here, with its lengths marked `Length`, and its sense is checked in `linkviz.vehicle.problems`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from linkviz.vehicle.part import Part, names_of

Length = Annotated[float, "length"]
"""A length: mm here, the declared unit in a file."""
Point = tuple[Length, Length, Length]
Corner = tuple[Length, Length]
Outline = Annotated[tuple[Corner, ...], Meta(min_length=3)]

TRAILING_STIFFNESS = 4000.0
"""Default axial stiffness of a trailing link, N/mm."""
BAR_STIFFNESS = 6000.0
"""Default axial stiffness of the lateral bar, N/mm."""


class Axle(Part):
    """The live axle: a rigid beam with two tyres."""

    centre: Point
    track: Length
    tyre_radius: Length
    tyre_width: Length
    pinion_angle_deg: float = 0.0
    """Pinion angle at design height, nose up +, deg."""


class Link(Part):
    """One link: where it meets the frame and where it meets the axle, at design height."""

    frame: Point
    axle: Point
    stiffness: float | None = None


class Links(Part):
    """The five links."""

    lower_left: Link
    lower_right: Link
    upper_left: Link
    upper_right: Link
    lateral_bar: Link


class Slip(Part):
    """How far the shaft's slip joint can still go from where it stands at design height, mm, both positive."""

    extend: Length
    """How far it can still pull out."""
    compress: Length
    """How far it can still push in."""


class Driveshaft(Part):
    """The shaft tube between the body's joint and the pinion's joint."""

    front_joint: Point
    """Centre of the front cross."""
    pinion_joint: Point
    """Centre of the cross at the pinion."""
    radius: Length
    """Of the tube: half its outer diameter."""
    output_angle_deg: float | None = None
    """Slope of the shaft that drives the front joint, + when it falls towards the rear (as a nose-up pinion), deg."""
    slip: Slip | None = None


class Envelope(Part):
    """Something on the body to stay clear of: the points inside both outlines."""

    name: str
    rear: Outline
    side: Outline
    margin: Length = 10.0
    """The gap wanted to whatever moves; a margin in `pairs` replaces it for one part."""


class Coil(Part):
    """A coil as bought or measured: its rate, or the wire it is wound from, or both."""

    free_length: Length
    """Length of the loose coil, seat to seat."""
    rate: float | None = None
    """N/mm; worked out from the wire where it is not known."""
    wire: Length | None = None
    """Diameter of the wire."""
    coil: Length | None = None
    """Mean diameter of the coil: outside diameter minus one wire."""
    turns: float | None = None
    """All turns, the two that lie on the seats included."""

    @property
    def bare(self) -> Coil:
        """Return the coil by itself, without where it stands or what it is called."""
        return Coil(**{key: getattr(self, key) for key in names_of(Coil)})


class Springs(Coil):
    """Coil springs on the axle: the left one is measured, the right one is its mirror image."""

    body: Point
    """Middle of the upper seat."""
    axle: Point
    """Middle of the lower seat."""


class OtherSprings(Coil):
    """Springs that fit in place of the ones measured."""

    name: str


class Dampers(Part):
    """Dampers: the left one is measured, the right one is its mirror image."""

    body: Point
    """Centre of the eye on the body."""
    axle: Point
    """Centre of the eye on the axle."""
    shortest: Length
    """Eye to eye, pushed in."""
    longest: Length
    """Eye to eye, pulled out."""


class Hose(Part):
    """A hose, cable or wire from the body to the axle."""

    name: str
    body: Point
    """Where it is held on the body."""
    axle: Point
    """Where it is held on the axle."""
    length: Length
    """From end to end, pulled straight."""


class BumpStops(Part):
    """Bump stops: the left one is measured, the right one is its mirror image."""

    body: Point
    """Middle of the face the stop is bolted to."""
    axle: Point
    """Middle of the pad it strikes."""
    free_height: Length
    """Height of the stop with nothing on it."""


class Mass(Part):
    """Masses and the geometry that goes with them (unladen)."""

    wheelbase: Length
    """Front to rear wheel centre."""
    total: float
    """The whole vehicle, from a weighbridge, kg."""
    rear_axle: float
    """What stands on the rear wheels, from a weighbridge, kg."""
    cg_height: Length
    """Height of the centre of gravity above the ground."""


class LoadPlace(Part):
    """A place where load goes: seats, boot or bed, tank."""

    name: str
    x: Length
    """Its middle, forward of the rear axle +."""
    z: Length
    """Its middle, above the ground."""
    most: float
    """Greatest load there, kg."""


class ValveLaw(Part):
    """How a load-sensing valve answers to its arm; its five numbers are the vehicle's own."""

    knee: float
    """Line pressure up to which front and rear are the same with the arm as measured, MPa."""
    per_deg: float
    """How the knee rises as the axle turns the arm towards laden, MPa per deg."""
    least: float
    most: float
    """Where the knee is held by the valve's stops, MPa."""
    slope: float
    """Rise of the rear pressure per rise of the front pressure above the knee."""


class BrakeValve(Part):
    """The load-sensing valve of the rear brakes: valve on the body, rod to the axle."""

    pivot: Point
    """Where the valve's arm turns."""
    tip: Point
    """Where the rod hangs on the arm."""
    axle: Point
    """Where the rod is held on the axle."""
    law: ValveLaw | None = None


class AxleBrakes(Part):
    """The brakes of one axle."""

    kind: Literal["disc", "drum"]
    cylinder: Length
    """Bore of a piston or a wheel cylinder."""
    count: float = 1.0
    """Pistons that push on one pad, or wheel cylinders of one drum."""
    radius: Length
    """Effective radius of the disc, or inner radius of the drum."""
    factor: float
    """Friction of the pads, or the drum's brake factor C*."""
    threshold: float = 0.0
    """Pressure before the shoes or pads touch, MPa."""


class Brakes(Part):
    """The brakes in front and at the rear."""

    front: AxleBrakes
    rear: AxleBrakes


SteelName = Literal["unknown", "A36", "A572-50", "A500B", "A500C", "1020-DOM", "S235", "S275", "S355"]
"""Steels by the names of `linkviz.bracket.materials.STEELS`."""


class FrameBracket(Part):
    """The bracket on the vehicle that carries the frame end of the lateral bar."""

    inside_width: Length
    """Between its two plates, along the bolt."""
    thickness: Length
    """Of one plate."""
    lip: Length
    """From the middle of the bolt hole straight down to its lower end."""
    width: Length
    """Across its plates below the bolt, where a second bolt would go through."""
    bolt: str
    """Size, such as M14 or 1/2-13."""
    steel: SteelName = "unknown"


class BarEnd(Part):
    """The frame end of the lateral bar."""

    eye_width: Length
    """Length of the bushing's inner sleeve along the bolt."""
    eye_diameter: Length
    """Outside of the eye."""
    bolt: str
    """Size, as above."""


class Travel(Part):
    """Wheel travel from the present rest that the suspension allows, mm, both positive."""

    jounce: Length = 80.0
    rebound: Length = 80.0

    @property
    def window(self) -> tuple[float, float]:
        """Return the travel window (rebound, jounce) from the present rest, mm; the first is negative."""
        return (-abs(self.rebound), abs(self.jounce))


class Measuring(Part):
    """How far a measured point may be off: +- u, mm, for all points and for single ones."""

    u: Length = 3.0
    points: tuple[tuple[str, Length], ...] = ()


class Sizes(Part):
    """Outer sizes of parts that move, for clearance; what is left out is taken in proportion to what was measured."""

    yoke_radius: Length | None = None
    """Circle that the yokes and crosses of the driveshaft sweep."""
    yoke_length: Length | None = None
    """From the middle of a joint to the end of the weld yoke on the tube."""
    bar_radius: Length | None = None
    """Lateral bar."""
    eye_radius: Length | None = None
    """Eyes of the links."""
    tube_radius: Length | None = None
    """Axle tube."""
    housing_radius: Length | None = None
    """Differential housing, as a ball about the axle's middle."""
    damper_radius: Length | None = None
    """Body of a damper."""
    bracket_length: Length | None = None
    """Drop bracket, fore and aft."""
    bracket_width: Length | None = None
    """Drop bracket, from side to side."""
    bracket_lip: Length | None = None
    """How far a drop bracket reaches beyond the bolts, up and down."""


class Watch(Part):
    """Whether a pair of parts is watched for clearance, and its margin, where that is not the usual."""

    one: str
    other: str
    watch: Literal["on", "off"] = "on"
    margin: Length | None = None
    """The gap wanted between the two, instead of the envelope's; left out, the usual one."""


class Vehicle(Part):
    """Everything measured on one vehicle."""

    format: Literal["linkviz-vehicle/1"] = "linkviz-vehicle/1"
    name: str
    units: Literal["mm", "in"] = "mm"
    """Unit the file declares; the values here are mm all the same."""
    note: str = ""
    axle: Axle
    links: Links
    driveshaft: Driveshaft | None = None
    envelopes: tuple[Envelope, ...] = ()
    springs: Springs | None = None
    other_springs: tuple[OtherSprings, ...] = ()
    dampers: Dampers | None = None
    bump_stops: BumpStops | None = None
    hoses: tuple[Hose, ...] = ()
    mass: Mass | None = None
    load_places: tuple[LoadPlace, ...] = ()
    brake_valve: BrakeValve | None = None
    brakes: Brakes | None = None
    frame_bracket: FrameBracket | None = None
    bar_end: BarEnd | None = None
    sizes: Sizes | None = None
    pairs: tuple[Watch, ...] = ()
    travel: Travel = Travel()
    measuring: Measuring = Measuring()
