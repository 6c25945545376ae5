"""The load-sensing brake valve in plain sentences and a table, with the cautions that belong to it."""

from __future__ import annotations

import math
from collections.abc import Callable

from linkviz.analysis.stance.brake_valve import DRY, FIRM, Name, State, ValveResult, wear
from linkviz.analysis.telling import Cell, Row, Sentence
from linkviz.brakes.balance import Lock, stopping_distance
from linkviz.units import Unit, format_angle, format_length

BRAKE_CAUTIONS = (
    "Brakes can kill. Brake work is for a licensed mechanic, who tests the vehicle on the road before it is used. "
    "Brake changes fall under local law, inspection and the vehicle maker's limits.",
    "These figures support a qualified person's judgement and replace nobody's. Never leave the rod hanging or tied "
    "up, put no heat on the valve, and see that hoses and wires reach at full droop.",
)
"""What is always in view with results about brakes."""

FORGOTTEN = (
    "How a valve that was never raised looks in the workshop: front pads worn out again and again while the rear "
    "linings look new, rear discs or drums rusty or glazed, a nose that dives, long stops when laden."
)
"""Common practice, no published source."""

TITLES: dict[Name, str] = {"as built": "as built", "lifted": "lifted", "raised": "rod raised"}
SPEED = 80.0
"""Speed of the stops that are compared, km/h."""
LITTLE = math.radians(0.25)
"""Turns of the arm below this are called none, rad."""


def title(state: State) -> str:
    """Return what a state is called: "lifted, laden"."""
    return f"{TITLES[state.name]}, {'laden' if state.laden else 'unladen'}"


def valve_sentences(result: ValveResult, unit: Unit) -> tuple[Sentence, ...]:
    """Return what there is to say, the worst first."""
    said: list[Sentence] = []
    setup = result.setup
    lifted, raised = result.state("lifted"), result.state("raised")
    if lifted is None and raised is None:
        said.append(Sentence("As built, the arm of the brake valve stands as it was measured."))
    if raised is not None:
        said += _raised(result, raised, unit)
    if lifted is not None:
        said += _lifted(result, lifted, unit)
        said += _rise(result, unit)
    if result.straight is not None:
        said.append(_straight(result.straight, result.window, unit, bool(setup.valve_rise)))
    said += [Sentence(words) for words in result.missing]
    return tuple(said)


def counter_sentences(result: ValveResult, unit: Unit) -> tuple[Sentence, ...]:
    """Return the one or two sentences for a customer."""
    lifted, raised = result.state("lifted"), result.state("raised")
    if raised is not None:
        return tuple(_raised(result, raised, unit)[:2])
    if lifted is not None:
        return (*_lifted(result, lifted, unit)[:1], *_rise(result, unit))
    return ()


def _way(turn: float) -> str:
    if abs(turn) < LITTLE:
        return "as it was measured"
    return f"{format_angle(abs(turn), 0)} towards {'laden' if turn > 0 else 'empty'}"


def _kept(result: ValveResult, name: Name) -> str:
    """Return "about 56 % of what they did, 45 % laden", or ""."""
    parts = [
        f"{round(100 * state.kept)} %{' of what they did' if not laden else ' laden'}"
        for laden in (False, True)
        if (state := result.state(name, laden)) is not None and state.kept is not None
    ]
    return f"about {', '.join(parts)}" if parts else ""


def _lifted(result: ValveResult, lifted: State, unit: Unit) -> list[Sentence]:
    start = f"Lifted {format_length(result.setup.lift, unit)} with the brake valve left as it was, its arm stands "
    start += _way(lifted.turn) if lifted.reached else f"pulled straight, {_way(lifted.turn)}"
    said = []
    if kept := _kept(result, "lifted"):
        state = result.state("lifted", True) or lifted
        icon = "hit" if min(lifted.kept or 1.0, state.kept or 1.0) < 0.9 else ""
        said.append(Sentence(f"{start}: in a firm stop ({FIRM:g} g) the rear brakes do {kept}.", icon))
        built = result.state("as built", state.laden)
        if built is not None and built.dry is not None and state.dry is not None and state.dry.z < 0.99 * built.dry.z:
            before, now = _stop(built.dry), _stop(state.dry)
            said.append(
                Sentence(
                    f"On a dry road, {'laden' if state.laden else 'unladen'}, a stop from {SPEED:g} km/h just short of "
                    f"locking takes {now:.0f} m; as built {before:.0f} m.",
                    "warn",
                )
            )
    elif lifted.turn < -LITTLE:
        said.append(
            Sentence(f"{start}: the valve believes the vehicle emptier than it is and holds the rear back.", "hit")
        )
    if (index := wear(result, "lifted")) is not None and index[0] > 1.02:
        said.append(
            Sentence(
                f"In everyday stops the front pads take {index[0]:.2f} times the energy, the rear ones {index[1]:.2f}."
            )
        )
    return said


def _rise(result: ValveResult, unit: Unit) -> list[Sentence]:
    if result.rise is None:
        return [
            Sentence("No rise of the rod puts the arm back: the rod is out of reach. Look at the valve itself.", "hit")
        ]
    text = f"Raising the rod {format_length(result.rise, unit)} at the axle puts the arm back as it was measured"
    more = result.rise - result.setup.lift
    if abs(more) >= 1.0:
        text += (
            f", {format_length(abs(more), unit)} {'more' if more > 0 else 'less'} than the lift, because the rod leans"
        )
    if result.hole is not None and result.left is not None:
        text += f"; nearest hole {format_length(result.hole, unit)}"
        left = result.rise - result.hole
        if abs(left) < 1.0:
            text += ", which is as good as exact"
        else:
            towards = "empty" if result.left < 0 else "laden"
            text += (
                f", {format_length(abs(left), unit)} {'short' if left > 0 else 'over'}, "
                f"which leaves the arm {format_angle(abs(result.left))} towards {towards}"
            )
    return [Sentence(text + ".")]


def _raised(result: ValveResult, raised: State, unit: Unit) -> list[Sentence]:
    rise = format_length(result.setup.valve_rise, unit)
    start = f"With the brake valve's rod raised {rise}, its arm stands {_way(raised.turn)}"
    kept = _kept(result, "raised")
    near = raised.kept is not None and abs(raised.kept - 1.0) < 0.1
    said = []
    danger = [(s, lock) for s in result.states if s.name == "raised" if (lock := _rear_lock(s)) is not None]
    if danger:
        worst, (road, z) = min(danger, key=lambda found: found[1][1])
        built = result.state("as built", worst.laden)
        too = " It does so as built too." if built is not None and _rear_lock(built) is not None else ""
        said.append(
            Sentence(
                f"DANGER: the rear wheels lock first, {'laden' if worst.laden else 'unladen'}, at {z:.2f} g on a "
                f"{road} road: the tail comes round.{too} Raise the rod less.",
                "hit",
            )
        )
    elif raised.system is None and raised.turn > math.radians(3.0):
        said.append(
            Sentence(
                "The rod is raised too far: the valve believes the vehicle laden. The rear may lock first and the tail "
                "come round. Raise it less.",
                "hit",
            )
        )
    said.append(
        Sentence(
            f"{start}{f': in a firm stop the rear brakes do {kept}' if kept else ''}.",
            "ok" if near and not danger else "",
        )
    )
    return said


def _rear_lock(state: State) -> tuple[str, float] | None:
    """Return the road on which the rear locks first and the deceleration, or None."""
    for road, lock in (("dry", state.dry), ("wet", state.wet)):
        if lock is not None and lock.axle == "rear":
            return road, lock.z
    return None


def _straight(ends: tuple[float, float], window: tuple[float, float], unit: Unit, raised: bool) -> Sentence:
    low, high = ends
    state = "With the rod raised" if raised else "With the valve left as it was"
    ways = []
    if low > window[0] + 1e-6:
        ways.append(f"beyond {format_length(-low, unit)} of rebound")
    if high < window[1] - 1e-6:
        ways.append(f"beyond {format_length(high, unit)} of jounce")
    where = "already at rest" if low > 0.0 or high <= 0.0 else " and ".join(ways)
    return Sentence(f"{state}, the rod pulls the arm straight {where}: it can bend, jump over or tear off.", "hit")


def valve_rows(result: ValveResult) -> tuple[Row, ...]:
    """Return the table: one row a quantity, a column a state; `title` names them."""
    rows: list[Row] = []

    def row(key: str, label: str, cell: Callable[[State], Cell | None], plain: str) -> None:
        cells = {title(state): cell(state) for state in result.states}
        if any(cells.values()):
            rows.append(Row(label, {name: c or Cell("-") for name, c in cells.items()}, plain, key))

    row(
        "arm",
        "Arm, + towards laden",
        lambda s: Cell(format_angle(s.turn), "" if s.reached else "hit"),
        "From as measured.",
    )
    row(
        "knee",
        "Knee",
        lambda s: None if s.knee is None else Cell(f"{s.knee:.1f} MPa"),
        "Front and rear are the same up to it.",
    )
    row(
        "share",
        f"Rear share at {FIRM:g} g",
        lambda s: None if s.system is None else _percent(float(s.system.share(FIRM))),
        "Of the braking, in a firm stop.",
    )
    row("kept", "Rear braking kept", lambda s: None if s.kept is None else _percent(s.kept), "Against as built.")
    row(
        "lock",
        f"Locks first, dry ({DRY:g})",
        lambda s: None if s.dry is None else _lock(s.dry),
        "Rear first is the dangerous side.",
    )
    row(
        "stop",
        f"Stop from {SPEED:g} km/h, dry",
        lambda s: None if s.dry is None or s.dry.axle is None else Cell(f"{_stop(s.dry):.0f} m"),
        "Just short of locking, from when the brakes bite.",
    )
    row(
        "wear",
        "Front pad wear",
        lambda s: _wear(wear(result, s.name, s.laden)),
        "Energy in everyday stops against as built.",
    )
    return tuple(rows)


def _stop(lock: Lock) -> float:
    """Return the way to a stop just short of locking, m."""
    return stopping_distance(SPEED / 3.6, lock.z)


def _lock(lock: Lock) -> Cell:
    return Cell(f"{lock.axle or 'neither'}, {lock.z:.2f} g", "hit" if lock.axle == "rear" else "ok")


def _percent(value: float) -> Cell | None:
    return Cell(f"{100.0 * value:.0f} %") if math.isfinite(value) else None


def _wear(index: tuple[float, float] | None) -> Cell | None:
    return None if index is None else Cell(f"{index[0]:.2f}")
