"""`linkviz sweep`: one row per state, for spreadsheets and other programs."""

from __future__ import annotations

import argparse
import csv
import json
import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from io import TextIOWrapper
from typing import Any, TextIO

import numpy as np

from linkviz.analysis.build import Build
from linkviz.analysis.compare import travel_grid
from linkviz.analysis.quantities import BY_KEY, QUANTITIES, Quantity, free_articulation
from linkviz.analysis.study import Study, study
from linkviz.commands.subject import subject
from linkviz.commands.text import plain
from linkviz.commands.values import MOST_STATES, BadValue, force, rolls, travels
from linkviz.linkage.layout import Array
from linkviz.vehicle.saving import saving

COLUMNS = (
    "travel_mm",
    "roll_deg",
    "heave_mm",
    "x_mm",
    "y_mm",
    "pitch_deg",
    "yaw_deg",
    "bar_angle_deg",
    "pinion_angle_deg",
    "roll_centre_mm",
    "gap_mm",
    "reached",
)
"""Names of the first columns, in this order; other programs use them."""
_FIRST = {
    "y_mm": "offset",
    "yaw_deg": "yaw",
    "bar_angle_deg": "bar_angle",
    "pinion_angle_deg": "pinion_angle",
    "roll_centre_mm": "roll_centre",
    "gap_mm": "gap",
}
"""Which quantity stands in which of them; travel, roll, heave, x and pitch are the state itself."""
MORE = tuple(q for q in QUANTITIES if (q.key == "offset" or q.key not in _FIRST.values()) and not q.slow)
"""What follows them, as `linkviz.analysis.quantities` has it; what the file does not tell is left empty."""


def command(options: argparse.Namespace) -> int:
    """Write the sweep; say on the error stream how many states were not reached, and why."""
    found = subject(options)
    build = Build.of(found.vehicle, found.setup)
    travel = travels(options.travel) if options.travel else travel_grid(build)
    roll = rolls(options.roll)
    if len(travel) * len(roll) > MOST_STATES:
        raise BadValue(f"--travel and --roll make {len(travel) * len(roll)} states; at most {MOST_STATES} are taken")
    result = study(build, np.tile(travel, len(roll)), np.repeat(roll, len(travel)))
    limit = force("force-limit", options.force_limit) if options.force_limit else None
    write = write_json if options.format == "json" else write_csv
    if options.out:
        with saving(options.out) as stream:
            text = TextIOWrapper(stream, "utf-8", newline="\n")
            write(rows(result, limit), text)
            text.detach()
    else:
        write(rows(result, limit), sys.stdout)
    for words, count in Counter(w for w in result.stopped_by if w).items():
        print(f"{options.file}: {count} of {len(result)} states are not reached: {words}.", file=sys.stderr)
    return 0


def rows(result: Study, force_limit: float | None = None) -> Iterator[dict[str, Any]]:
    """Yield the rows; what a state that is not reached, or a file without the part, cannot say is None.

    `force_limit`, N, adds the free articulation at each height, which takes many more solves.
    """
    vehicle = result.build.vehicle

    def told(quantity: Quantity) -> Array | None:
        return None if quantity.missing(vehicle) else quantity.of(result)

    columns: dict[str, Array | None] = {"x_mm": result.poses.x, "pitch_deg": np.degrees(result.poses.pitch)}
    columns |= {name: told(BY_KEY[key]) for name, key in _FIRST.items()}
    columns = {name: columns[name] for name in COLUMNS if name in columns}
    more = {q.column: told(q) for q in MORE}
    if force_limit is not None:
        more["free_articulation_deg"] = np.degrees(free_articulation(result, force_limit))
    for i in range(len(result)):
        row: dict[str, Any] = {
            "travel_mm": plain(result.travel[i]),
            "roll_deg": plain(np.degrees(result.roll[i])),
            "heave_mm": plain(result.travel[i] - result.build.setup.lift),
        }
        there = bool(result.reached[i])
        row |= {name: plain(values[i]) if there and values is not None else None for name, values in columns.items()}
        row["reached"] = there
        row |= {name: plain(values[i]) if there and values is not None else None for name, values in more.items()}
        yield row


def write_json(table: Iterable[dict[str, Any]], stream: TextIO) -> None:
    """Write rows as a JSON list of objects."""
    start = "[\n"
    for row in table:
        stream.write(start + json.dumps(row))
        start = ",\n"
    stream.write("\n]\n")


def write_csv(table: Iterable[dict[str, Any]], stream: TextIO) -> None:
    """Write rows as CSV (RFC 4180 with line feeds); a value that does not exist is left empty."""
    writer = csv.writer(stream, lineterminator="\n")
    for number, row in enumerate(table):
        if not number:
            writer.writerow(row)
        writer.writerow((row | {"reached": "true" if row["reached"] else "false"}).values())
