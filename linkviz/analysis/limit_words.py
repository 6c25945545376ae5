"""How far a vehicle can be lifted and how far its axle travels, in sentences, with what sets either."""

from __future__ import annotations

from linkviz.analysis.build import Build
from linkviz.analysis.limits import DEFAULTS, End, LinkLimits, RunOut, TravelLimits, run_out, travel_limits
from linkviz.analysis.setup import Setup
from linkviz.analysis.telling import Sentence
from linkviz.units import Unit, format_length
from linkviz.vehicle.model import Vehicle


def lift_sentences(found: RunOut, lift: float, unit: Unit) -> tuple[Sentence, ...]:
    """Return up to which lift the trailing links stand as links should, and what comes after.

    Parameters
    ----------
    found : RunOut
        Over lift.
    lift : float
        The present one, mm.
    unit : {"mm", "in"}
        Unit of lengths in the text.
    """
    beyond = found.first is not None and lift >= found.first.lift
    said = [Sentence(found.said(unit), "warn" if beyond else "ok")]
    if beyond and found.first is not None and found.first.lift > 0:
        said.append(
            Sentence(
                f"The present lift of {format_length(lift, unit)} is beyond that: a bracket on the bar does not help "
                "here, the trailing links themselves have to be changed.",
                "warn",
            )
        )
    for crossing in found.crossings[1:]:
        said.append(Sentence(f"From a lift of {format_length(crossing.lift, unit)} on, {crossing.said(unit)}."))
    return tuple(said)


def travel_sentences(limits: TravelLimits, unit: Unit) -> tuple[Sentence, ...]:
    """Return how far the links let the axle down and up from the present rest, and what ends it there."""
    return (_end("drop", limits.droop, unit), _end("rise", limits.bump, unit))


def _end(way: str, end: End, unit: Unit) -> Sentence:
    text = f"At this height the links let the axle {way} {format_length(abs(end.travel), unit)}; there {end.words}."
    if end.room < 0:
        return Sentence(f"{text} That is {format_length(-end.room, unit)} short of the travel that was given.", "hit")
    return Sentence(text)


def limits_said(vehicle: Vehicle, setup: Setup, unit: Unit, limits: LinkLimits = DEFAULTS) -> tuple[Sentence, ...]:
    """Return all of it for one vehicle under one setup."""
    found = run_out(vehicle, limits)
    return (*lift_sentences(found, setup.lift, unit), *travel_sentences(travel_limits(Build.of(vehicle, setup)), unit))
