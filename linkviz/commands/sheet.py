"""`linkviz sheet`: the measuring sheet, empty or turned into a vehicle file."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from linkviz.commands.values import BadValue
from linkviz.vehicle.from_sheet import vehicle_from_sheet
from linkviz.vehicle.sheet_lines import blank_measuring_sheet
from linkviz.vehicle.write import write_vehicle


def command(options: argparse.Namespace) -> int:
    """Print an empty sheet, or make a vehicle file of a filled one."""
    if options.file is None:
        if options.out:
            raise BadValue(
                "--out: makes a vehicle file of a filled sheet, and none is given. For an empty one: linkviz sheet > "
                "empty.csv"
            )
        sys.stdout.write(blank_measuring_sheet(options.units))
        return 0
    vehicle = vehicle_from_sheet(options.file, options.name, mirror=options.mirror)
    if not options.out:
        print(f"{options.file}: complete. Add --out NAME.vehicle.toml to make the vehicle file.")
        return 0
    if Path(options.out).exists():
        raise BadValue(f"--out: {options.out} is already there; choose another name, nothing was written")
    write_vehicle(vehicle, options.out)
    print(f"wrote {options.out}")
    return 0
