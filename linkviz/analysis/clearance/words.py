"""What clearance comes down to, in sentences and rows of a table."""

from __future__ import annotations

import math

from linkviz.analysis.build import Build
from linkviz.analysis.clearance.answers import Answers, FirstTouch, PairWorst, guessed_sizes
from linkviz.analysis.clearance.sizes import WORDS
from linkviz.analysis.clearance.sure_drop import SureDrop
from linkviz.analysis.findings import place_words
from linkviz.analysis.telling import Sentence, depth_words, gap_words
from linkviz.units import Unit, format_length


def pair_row(worst: PairWorst, unit: Unit) -> tuple[str, str, str, str]:
    """Return a pair as a row: pair, margin, smallest gap, where."""
    where = place_words(worst.travel, worst.roll, unit).removeprefix("at ")
    return worst.pair.words, format_length(worst.pair.margin, unit), gap_words(worst.gap, unit), where


def clearance_sentences(build: Build, found: Answers, unit: Unit) -> tuple[Sentence, ...]:
    """Return the answers in plain sentences."""
    if not found.worst:
        return (Sentence("No pair of parts is watched for clearance."),)
    return (_nearest(found.worst, unit), *_travel_left(build, found, unit), *_stop(build, found, unit))


def _nearest(worst: tuple[PairWorst, ...], unit: Unit) -> Sentence:
    first = worst[0]
    touching = [one for one in worst if one.sign == "hit"]
    tight = [one for one in worst if one.sign == "warn"]
    where = place_words(first.travel, first.roll, unit)
    if first.sign == "hit":
        more = _more(len(touching) - 1, "touches", "touch")
        return Sentence(f"{_whole(first)} touch {where}{depth_words(first.gap, unit)}.{more}", "hit")
    gap, margin = format_length(first.gap, unit), format_length(first.pair.margin, unit)
    if first.sign == "warn":
        more = _more(len(tight) - 1, "comes inside its margin", "come inside their margins")
        return Sentence(f"{_whole(first)} come within {gap} {where}; {margin} was asked for.{more}", "warn")
    return Sentence(
        f"Nothing that is watched comes inside its margin. Nearest: {first.pair.words}, {gap} {where}.", "ok"
    )


def _whole(worst: PairWorst) -> str:
    return f"{worst.pair.one.capitalize()} and {worst.pair.other}"


def _more(count: int, one: str, several: str) -> str:
    if not count:
        return ""
    return f" One more pair {one}." if count == 1 else f" {count} more pairs {several}."


def _travel_left(build: Build, found: Answers, unit: Unit) -> list[Sentence]:
    low, high = build.window
    said: list[Sentence] = []
    for touch, way, end in ((found.up, "jounce", high), (found.down, "rebound", low)):
        if touch is not None:
            sentence = _touch(touch, way, abs(touch.travel) <= abs(end), unit)
            if sentence not in said:
                said.append(sentence)
    if not said:
        return [Sentence("From rest the axle meets nothing on its way up or down.", "ok")]
    return said


def _touch(touch: FirstTouch, way: str, inside: bool, unit: Unit) -> Sentence:
    if abs(touch.travel) < 0.5:
        stands = "Crossed up at rest height," if touch.roll else "At rest"
        return Sentence(f"{stands} {touch.pair.one} and {touch.pair.other} already touch.", "hit")
    room = format_length(abs(touch.travel), unit)
    crossed = ", crossed up," if touch.roll else ""
    beyond = "" if inside else " That is beyond the travel that was given."
    text = f"From rest{crossed} {room} of {way} are left before {touch.pair.one} and {touch.pair.other} meet.{beyond}"
    return Sentence(text, "hit" if inside else "")


def _stop(build: Build, found: Answers, unit: Unit) -> list[Sentence]:
    stops = build.vehicle.bump_stops
    if stops is None or found.stop_height is None:
        return []
    height = found.stop_height
    tall = format_length(math.ceil(height), unit)
    text = f"A bump stop that is still {tall} high when squashed keeps every margin on the way up"
    free = format_length(stops.free_height, unit)
    if height > stops.free_height:
        return [Sentence(f"{text}; the one measured is {free} high with nothing on it: space it down.", "warn")]
    return [Sentence(f"{text}; the one measured is {free} high with nothing on it.")]


def guessed_short(build: Build) -> str:
    """Return how many sizes were not measured, in one sentence, or ""."""
    count = len(guessed_sizes(build))
    if not count:
        return ""
    return (
        f"{count} sizes of parts are not measured but taken in proportion. Put a tape to what comes near, and type it "
        "under Vehicle, Sizes."
    )


def guessed_words(build: Build) -> str:
    """Return which sizes were not measured, in one sentence, or ""."""
    guessed = guessed_sizes(build)
    if not guessed:
        return ""
    listed = "; ".join(WORDS[key] for key in guessed)
    return (
        f"Not measured, taken in proportion: {listed}. Put a tape to what comes near, and type it under Vehicle, Sizes."
    )


def sure_words(found: SureDrop, unit: Unit) -> Sentence:
    """Return the drop that clears with 95 % confidence in a sentence."""
    if found.plain is None:
        return Sentence("No drop up to the longest that is looked for keeps the shaft its margin clear.", "hit")
    plain = format_length(math.ceil(found.plain), unit)
    if found.drop is None:
        return Sentence(
            f"A drop of {plain} clears by the points as measured, but no drop up to the longest that is looked for is "
            "95 % sure to.",
            "warn",
        )
    sure = format_length(math.ceil(found.drop), unit)
    if found.drop == 0:
        return Sentence("The shaft keeps its margin without a drop, with 95 % confidence.", "ok")
    return Sentence(
        f"A drop of {sure} keeps the shaft its margin clear with 95 % confidence; "
        f"{plain} does by the points as measured."
    )
