"""`linkviz sweep`: one row per state, for spreadsheets and other programs."""

from __future__ import annotations

import argparse
import csv
import io
import json
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import numpy as np

from linkviz.commands.values import MOST_STATES, BadValue, force, rolls, setup_of, travels
from linkviz.job.build import Build
from linkviz.job.compare import travel_grid
from linkviz.job.quantities import QUANTITIES, free_articulation
from linkviz.job.study import Study, study
from linkviz.vehicle.read import read_vehicle

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
_FIRST = ("yaw", "pinion_angle", "bar_angle", "roll_centre", "gap")
MORE = tuple(q for q in QUANTITIES if q.key not in _FIRST and not q.slow)
"""What follows them, as `linkviz.job.quantities` has it; what the file does not tell is left empty."""
_DECIMALS = 6


def command(options: argparse.Namespace) -> int:
    """Write the sweep; say on the error stream how many states were not reached, and why."""
    setup = setup_of(options)
    build = Build.of(read_vehicle(options.file), setup)
    travel = travels(options.travel) if options.travel else travel_grid(build)
    roll = rolls(options.roll)
    if len(travel) * len(roll) > MOST_STATES:
        raise BadValue(f"--travel and --roll make {len(travel) * len(roll)} states; at most {MOST_STATES} are taken")
    result = study(build, np.tile(travel, len(roll)), np.repeat(roll, len(travel)))
    limit = force("force-limit", options.force_limit) if options.force_limit else None
    table = rows(result, limit)
    text = as_json(table) if options.format == "json" else as_csv(table)
    if options.out:
        Path(options.out).write_text(text, encoding="utf-8")
    else:
        sys.stdout.write(text)
    for words, count in Counter(w for w in result.stopped_by if w).items():
        print(f"{options.file}: {count} of {len(result)} states are not reached: {words}.", file=sys.stderr)
    return 0


def rows(result: Study, force_limit: float | None = None) -> list[dict[str, Any]]:
    """Return the rows; what a state that is not reached, or a file without the part, cannot say is None.

    `force_limit`, N, adds the free articulation at each height, which takes many more solves.
    """
    poses = result.poses
    columns = {
        "x_mm": poses.x,
        "y_mm": poses.y,
        "pitch_deg": np.degrees(poses.pitch),
        "yaw_deg": np.degrees(poses.yaw),
        "bar_angle_deg": np.degrees(result.bar_angle),
        "pinion_angle_deg": np.degrees(result.pinion_angle),
        "roll_centre_mm": result.roll_centre,
        "gap_mm": result.gap,
    }
    vehicle = result.build.vehicle
    more = {q.column: None if q.missing(vehicle) else q.of(result) for q in MORE}
    if force_limit is not None:
        more["free_articulation_deg"] = np.degrees(free_articulation(result, force_limit))
    found = []
    for i in range(len(result)):
        row: dict[str, Any] = {
            "travel_mm": _number(result.travel[i]),
            "roll_deg": _number(np.degrees(result.roll[i])),
            "heave_mm": _number(result.travel[i] - result.build.setup.lift),
        }
        there = bool(result.reached[i])
        row |= {name: _number(values[i]) if there else None for name, values in columns.items()}
        row["reached"] = there
        row |= {name: _number(values[i]) if there and values is not None else None for name, values in more.items()}
        found.append(row)
    return found


def _number(value: float) -> float | None:
    return round(float(value), _DECIMALS) + 0.0 if np.isfinite(value) else None


def as_json(table: list[dict[str, Any]]) -> str:
    """Return rows as a JSON list of objects."""
    return "[\n" + ",\n".join(json.dumps(row) for row in table) + "\n]\n"


def as_csv(table: list[dict[str, Any]]) -> str:
    """Return rows as CSV (RFC 4180 with line feeds); a value that does not exist is left empty."""
    text = io.StringIO()
    writer = csv.DictWriter(text, list(table[0]), lineterminator="\n")
    writer.writeheader()
    for row in table:
        writer.writerow(row | {"reached": "true" if row["reached"] else "false"})
    return text.getvalue()
