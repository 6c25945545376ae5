"""How the vehicle stands, in a table and in plain sentences."""

from __future__ import annotations

from collections.abc import Callable

from linkviz.analysis.setup import Setup
from linkviz.analysis.stance.springing import Springing
from linkviz.analysis.stance.stance import Rest, Stance, corner_load, from_springs, springs_rise, stance
from linkviz.analysis.telling import Cell, Row, Sentence
from linkviz.conventions import GRAVITY
from linkviz.units import Unit, format_angle, format_length, length_number
from linkviz.vehicle.described import typed_at
from linkviz.vehicle.model import Vehicle

NOTHING = 0.5
"""Lengths below this are called nothing, mm."""


def stances(vehicle: Vehicle, setup: Setup, springing: Springing | None = None) -> dict[str, Stance]:
    """Return the stance as built and, with a lift or something put in, of the setup."""
    found = {"as built": stance(vehicle, Setup())}
    if setup.lift > 0 or springing is not None:
        found["now"] = stance(vehicle, setup, springing)
    return found


def stance_rows(vehicle: Vehicle, setup: Setup, springing: Springing | None, unit: Unit) -> tuple[Row, ...]:
    """Return the table: one row a quantity, a column as built and one now; what nobody measured has no row."""
    found = stances(vehicle, setup, springing)
    rows: list[Row] = []

    def row(key: str, label: str, cell: Callable[[Stance], Cell | None], plain: str) -> None:
        cells = {name: cell(one) for name, one in found.items()}
        if any(cells.values()):
            rows.append(Row(label, {name: c or Cell("-") for name, c in cells.items()}, plain, key))

    def resting(of: Callable[[Rest], str], laden: bool = False) -> Callable[[Stance], Cell | None]:
        def cell(one: Stance) -> Cell | None:
            rest = one.laden if laden else one.empty
            return None if rest is None else Cell(of(rest))

        return cell

    def left(of: Callable[[Stance], float | None], short: str) -> Callable[[Stance], Cell | None]:
        def cell(one: Stance) -> Cell | None:
            value = of(one)
            if value is None:
                return None
            if value < -NOTHING:
                return Cell(f"{format_length(-value, unit)} {short}", "hit")
            return Cell(format_length(max(value, 0.0), unit), "ok")

        return cell

    row("rise", "Ride height, empty", resting(lambda r: _height(r.rise, unit)), "Body above its first height.")
    row(
        "rise_laden",
        "Ride height, fully laden",
        resting(lambda r: _height(r.rise, unit), True),
        "The same with the greatest load in every place.",
    )
    row(
        "corner_load",
        "Load on each rear coil",
        resting(lambda r: f"{r.load:.0f} N"),
        "What the springs carry at the wheel, without axle and wheels.",
    )
    row(
        "wheel_rate", "Rate at the wheel", resting(lambda r: f"{r.rate:.1f} N/mm"), "How hard the coil is at the wheel."
    )
    row(
        "frequency",
        "Ride frequency, empty",
        resting(lambda r: f"{r.frequency:.2f} Hz"),
        "How fast the body bounces on its coils; higher is harder.",
    )
    row("frequency_laden", "Ride frequency, laden", resting(lambda r: f"{r.frequency:.2f} Hz", True), "The same laden.")
    row(
        "pressed",
        "Coil still pressed, full rebound",
        left(lambda s: s.ends.pressed, "loose"),
        "A loose coil can fall out.",
    )
    row(
        "bind",
        "Coil from solid, full jounce",
        left(lambda s: s.ends.bind, "too long"),
        "Turn on turn, a coil is a block.",
    )
    row(
        "bump_gap",
        "Bump-stop gap at rest",
        resting(lambda r: "-" if r.bump_gap is None else format_length(r.bump_gap, unit)),
        "Between stop and pad, empty.",
    )
    row(
        "dampers",
        "Damper lengths needed",
        lambda s: s.ends.dampers and Cell(_between(s.ends.dampers, unit)),
        "Shortest and longest eye to eye over the travel.",
    )
    row(
        "damper_out",
        "Damper left at full rebound",
        left(lambda s: s.ends.damper_room and s.ends.damper_room[1], "too short"),
        "How far the present damper could still pull out.",
    )
    row(
        "damper_in",
        "Damper left at full jounce",
        left(lambda s: s.ends.damper_room and s.ends.damper_room[0], "too long"),
        "How far the present damper could still push in.",
    )
    for index, hose in enumerate(vehicle.hoses):
        row(
            f"hose_{index}",
            f"Slack of {hose.name}",
            left(lambda s, index=index: s.ends.hoses[index][1], "too short"),  # type: ignore[misc]
            "At its tightest over the travel.",
        )
    row(
        "pitch",
        "Headlights turned",
        lambda s: None if s.pitch is None else Cell(_turned(s.pitch)),
        "With the front raised as given on this page.",
    )
    row(
        "stability",
        "Static stability factor",
        lambda s: None if s.stability is None else Cell(f"{s.stability:.2f}"),
        "Half the track over the height of the centre of gravity; lower tips sooner.",
    )
    return tuple(rows)


def _height(rise: float, unit: Unit) -> str:
    if abs(rise) < NOTHING:
        return "as built"
    return f"{format_length(abs(rise), unit)} {'higher' if rise > 0 else 'lower'}"


def _between(pair: tuple[float, float], unit: Unit) -> str:
    return f"{length_number(pair[0], unit)} to {format_length(pair[1], unit)}"


def _turned(pitch: float) -> str:
    return "level" if abs(pitch) < 1e-3 else f"{format_angle(abs(pitch))} {'down' if pitch > 0 else 'up'}"


def source_words(vehicle: Vehicle, setup: Setup, springing: Springing | None, unit: Unit) -> Sentence:
    """Return where the ride height comes from: the springs, or somebody's hand."""
    if vehicle.springs is None:
        return Sentence(
            "Ride height: set by hand. What the springs would give cannot be told: measure them and type it under "
            f"{typed_at('springs')}."
        )
    rise = springs_rise(vehicle, springing or Springing())
    if rise is None:
        return Sentence("No height carries this load on these springs. Check what was typed.", "hit")
    if from_springs(vehicle, setup, springing):
        if rise < -NOTHING:
            return Sentence(
                f"Ride height: {_signed(rise, unit)}, from the springs. The drawings do not go below as built.", "warn"
            )
        return Sentence(f"Ride height: {format_length(setup.lift, unit)}, from the springs.", "ok")
    what = "what is put in gives" if springing is not None else "the springs as measured give"
    return Sentence(
        f"Ride height: {format_length(setup.lift, unit)}, set by hand; {what} {_signed(rise, unit)}.", "warn"
    )


def _signed(rise: float, unit: Unit) -> str:
    return f"{format_length(abs(rise), unit)} less than as built" if rise < -NOTHING else format_length(rise, unit)


def stance_sentences(vehicle: Vehicle, setup: Setup, springing: Springing | None, unit: Unit) -> tuple[Sentence, ...]:
    """Return what a customer should hear about the springs; nothing where there is nothing to say."""
    found = stances(vehicle, setup, springing)
    built, now = found["as built"], found.get("now", found["as built"])
    said: list[Sentence] = []
    put = springing or Springing()
    if vehicle.springs is not None and (put.spacer or put.springs is not None or put.loads):
        rise = springs_rise(vehicle, put)
        if rise is not None:
            said.append(Sentence(f"{_what(put, unit)}: the body stands {_height(rise, unit)}."))
    ends = now.ends
    if ends.pressed is not None and ends.pressed < -NOTHING:
        said.append(Sentence(f"At full rebound the coils hang {format_length(-ends.pressed, unit)} loose.", "hit"))
    if ends.bind is not None and ends.bind < -NOTHING:
        said.append(
            Sentence(
                f"The coils are turn on turn {format_length(-ends.bind, unit)} before full jounce: "
                "space the bump stops down or choose other springs.",
                "hit",
            )
        )
    if ends.dampers is not None and ends.damper_room is not None and min(ends.damper_room) < -NOTHING:
        said.append(
            Sentence(
                f"Dampers of {_between(ends.dampers, unit)} eye to eye are needed over this travel; "
                "the present ones do not reach.",
                "hit",
            )
        )
    if now.pitch is not None and abs(now.pitch) > 2e-3:
        said.append(Sentence(f"The headlights aim {_turned(now.pitch)}: have them set again.", "warn"))
    if built.stability is not None and now.stability is not None and now.stability < built.stability - 0.005:
        said.append(
            Sentence(
                f"The static stability factor falls from {built.stability:.2f} to {now.stability:.2f}: "
                "the vehicle tips sooner.",
                "warn",
            )
        )
    if vehicle.springs is not None and vehicle.mass is not None:
        share = 2.0 * corner_load(vehicle) / (vehicle.mass.rear_axle * GRAVITY)
        if not 0.6 <= share <= 1.0:
            said.append(
                Sentence(
                    f"The springs as measured carry {100 * share:.0f} % of the rear axle's load; 70 to 95 % is usual. "
                    "Measure free length, rate and masses again.",
                    "warn",
                )
            )
    return tuple(said)


def _what(put: Springing, unit: Unit) -> str:
    words = []
    if put.springs is not None:
        words.append("other springs")
    if put.spacer:
        words.append(f"a spacer of {format_length(put.spacer, unit)}")
    if put.loads:
        words.append(f"{sum(load.mass for load in put.loads):.0f} kg carried always")
    text = " and ".join(words)
    return f"With {text}"
