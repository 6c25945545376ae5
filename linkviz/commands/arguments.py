"""The command line: commands, their options, and the words that explain them."""

from __future__ import annotations

import argparse
import textwrap
from importlib import import_module
from typing import Any

from linkviz import __version__
from linkviz.commands import values

COMMANDS = {
    "check": "Say what is wrong with vehicle and job files, one line per problem.",
    "explain": "Say in plain sentences what a lift and a bracket do, and every figure at rest.",
    "sweep": "Solve a vehicle over travel and roll; one row per state, for spreadsheets and other programs.",
    "bracket": "Say how short, how long and how strong a drop bracket is, and which stock part fits.",
    "clearance": "Say how near moving parts come to everything watched, and which drop clears.",
    "stance": "Say how high a vehicle stands on its springs, a spacer, other springs or a load.",
    "valve": "Say what a lift does to the load-sensing brake valve, and how far to raise its rod.",
    "picture": "Draw both views into a PNG, SVG or (moving) GIF file.",
    "papers": "Write what leaves the shop: templates, cutting files, drawings, sheets, as PDF and DXF.",
    "sheet": "Print an empty measuring sheet, or make a vehicle file of a filled one.",
    "bench": "Measure the program's speed as ratios within this run; JSON.",
}
"""Everything that is not the window: name of its module here, and what it does."""

MAY_BE_EMPTY = ("job", "customer", "date")
"""What may be left blank on papers."""


class _Parser(argparse.ArgumentParser):
    """A parser that takes ``-100:100:5`` after an option for its value, and no option without one."""

    def __init__(self, **options: Any) -> None:
        super().__init__(formatter_class=argparse.RawDescriptionHelpFormatter, **options)
        self._negative_number_matcher = values.NEGATIVE

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> Any:
        """Refuse options that are given and empty, such as those of a variable that is not set."""
        found, rest = super().parse_known_args(args, namespace)
        for action in self._actions:
            given = getattr(found, action.dest, None)
            if action.option_strings and action.dest not in MAY_BE_EMPTY and given in ("", [""]):
                self.error(f"argument {'/'.join(action.option_strings)}: nothing is given after it; leave it out")
        return found, rest


_WINDOW_TEXT = (
    "See what a lift does to a five-link rear axle, and what a bracket does about it. Open the window, on FILE or on a "
    "demo vehicle. Without a screen: print the findings, write the picture."
)
_WIDE = 78
_FILE = "a *.vehicle.toml or *.job.toml file"
_UNITS = "left out, those the file says at its top: a job's own, not those of the vehicle in it"


def window_parser() -> argparse.ArgumentParser:
    """Return the parser of the bare command."""
    parser = _Parser(
        prog="linkviz",
        description=textwrap.fill(_WINDOW_TEXT, _WIDE),
        epilog="\n".join(
            (
                "other commands, each with `linkviz COMMAND --help`:",
                *(f"  {n:<11}{text}" for n, text in COMMANDS.items()),
            )
        ),
    )
    parser.add_argument("file", nargs="?", metavar="FILE", help=_FILE)
    parser.add_argument("--version", action="version", version=f"linkviz {__version__}")
    return parser


def commands_parser() -> argparse.ArgumentParser:
    """Return the parser of all other commands."""
    parser = _Parser(prog="linkviz")
    kinds = parser.add_subparsers(metavar="COMMAND", required=True, parser_class=_Parser)

    def command(name: str, *examples: str) -> argparse.ArgumentParser:
        shown = "\n".join(("examples:", *(f"  linkviz {name} {example}".rstrip() for example in examples)))
        sub = kinds.add_parser(
            name, help=COMMANDS[name], description=textwrap.fill(COMMANDS[name], _WIDE), epilog=shown
        )

        def call(options: argparse.Namespace) -> int:
            code: int = import_module(f"linkviz.commands.{name}").command(options)
            return code

        sub.set_defaults(command=call)
        return sub

    def on_vehicle(name: str, *examples: str) -> argparse.ArgumentParser:
        sub = command(name, *examples)
        sub.add_argument("file", metavar="FILE", help=_FILE)
        return sub

    check = command("check", "wagon.vehicle.toml", "*.job.toml")
    check.add_argument("files", nargs="+", metavar="FILE", help=_FILE)

    sweep = on_vehicle(
        "sweep",
        "wagon.vehicle.toml --lift=100mm --drop=95mm --travel=-100:100:5 --out=wagon.csv",
        "wagon.vehicle.toml --roll=0,3,6 --format=json",
    )
    sweep.add_argument(
        "--travel", metavar="A:B:STEP", help="travel from the lifted rest; the file's window if left out"
    )
    sweep.add_argument("--roll", default="0", metavar="DEG,...", help="axle roll, deg, left wheel up + (0)")
    sweep.add_argument("--format", choices=("csv", "json"), default="csv", help="kind of table (csv)")
    sweep.add_argument("--out", metavar="PATH", help="write here and not to the screen")
    sweep.add_argument(
        "--force-limit", metavar="FORCE", help="add the roll at which a link force passes this (10kN), at each height"
    )
    _setup_options(sweep)

    explain = on_vehicle("explain", "wagon.vehicle.toml --lift=4in", "1234.job.toml --units=in")
    _figures(explain, "mm, deg, N and %%")
    _setup_options(explain)

    bracket = on_vehicle(
        "bracket", "wagon.vehicle.toml --lift=4in", "1234.job.toml --drop=95mm --parts=stock.parts.toml"
    )
    bracket.add_argument("--parts", metavar="STOCK.parts.toml", help="the shop's catalogue: propose a part and a hole")
    bracket.add_argument("--part", metavar="NUMBER", help="check this part of the catalogue")
    _figures(bracket, "mm, kN, MPa and deg")
    _setup_options(bracket)

    clearance = on_vehicle(
        "clearance",
        "wagon.vehicle.toml --lift=100mm --drop=95mm",
        "wagon.vehicle.toml --lift=100mm --swept=driveshaft --out=shaft.dxf",
    )
    _figures(clearance, "mm and deg")
    clearance.add_argument("--swept", metavar="PART", help="write what this part sweeps instead, such as driveshaft")
    clearance.add_argument("--out", metavar="NAME.dxf|NAME.csv", help="where to write what it sweeps")
    _setup_options(clearance)

    stance = on_vehicle(
        "stance", "wagon.vehicle.toml --spacer=2in", "wagon.vehicle.toml --free-length=430mm --rate=28 --load=cargo=80"
    )
    stance.add_argument("--spacer", default="0", metavar="LENGTH", help="thickness between coil and seat")
    stance.add_argument("--springs", metavar="NAME", help="of [[other_springs]] of the file, or a part of the name")
    stance.add_argument("--free-length", metavar="LENGTH", help="of new coils, with --rate")
    stance.add_argument("--rate", metavar="N/MM", help="of new coils, with --free-length")
    stance.add_argument("--load", action="append", metavar="PLACE=KG", help="always carried, in one of [[load_places]]")
    stance.add_argument("--front", metavar="LENGTH", help="rise of the body in front; as at the rear if left out")
    _figures(stance, "mm, N, Hz, rad")
    _setup_options(stance)

    valve = on_vehicle(
        "valve",
        "wagon.vehicle.toml --lift=100mm --valve-rise=40mm",
        "wagon.vehicle.toml --lift=4in --holes=40mm,50mm,75mm",
    )
    valve.add_argument("--holes", metavar="LENGTH,...", help="rises the bracket's holes give")
    _figures(valve, "mm, deg, MPa")
    _setup_options(valve)

    picture = on_vehicle(
        "picture",
        "wagon.vehicle.toml --lift=100mm --drop=95mm --out=wagon.png",
        "wagon.vehicle.toml --lift=100mm --out=moving.gif",
    )
    picture.add_argument("--out", required=True, metavar="PICTURE.png|.svg|.gif", help="file to write")
    picture.add_argument(
        "--travel", default="0", metavar="LENGTH", help="travel from the lifted rest (0); not for a GIF"
    )
    picture.add_argument("--roll", default="0", metavar="DEG", help="axle roll, deg, left wheel up + (0)")
    picture.add_argument("--theme", choices=("light", "dark"), default="light", help="paper (light)")
    picture.add_argument("--size", default="1280x560", metavar="WxH", help="pixels (1280x560)")
    picture.add_argument("--units", choices=("mm", "in"), help=f"units of the figures; {_UNITS}")
    picture.add_argument(
        "--behind", choices=("as built", "lifted", "none"), default="as built", help="dashed behind it"
    )
    _setup_options(picture)

    papers = on_vehicle(
        "papers",
        "1234.job.toml --out=papers",
        "wagon.vehicle.toml --lift=100mm --drop=95mm --out=papers --only=drawing,cut",
    )
    papers.add_argument("--out", required=True, metavar="DIR", help="folder to write to; made if it is not there")
    papers.add_argument(
        "--only", action="append", metavar="NAME,...", help="template, cut, drawing, fitting, customer, packing (all)"
    )
    papers.add_argument("--overwrite", action="store_true", help="replace files that are there")
    papers.add_argument("--paper", choices=("a4", "letter"), help="letter with inches, A4 else")
    papers.add_argument("--units", choices=("mm", "in"), help=f"units of all lengths; {_UNITS}")
    papers.add_argument("--job", metavar="JOB", help="job number on every paper; the job file's if left out")
    papers.add_argument("--customer", metavar="NAME", help="whom it is for; the job file's if left out")
    papers.add_argument("--date", metavar="YYYY-MM-DD", help="date on every paper (today)")
    papers.add_argument("--holes", metavar="LENGTH,...", help="drops of the bar's holes (one, at the drop)")
    papers.add_argument(
        "--k", metavar="K", help="the shop's own neutral line, DIN's k of half the thickness (DIN 6935)"
    )
    _setup_options(papers)
    plate = papers.add_argument_group("bracket of the brake valve")
    plate.add_argument("--valve-rises", metavar="LENGTH,...", help="rises of its upper holes (one, at --valve-rise)")
    plate.add_argument("--valve-spacing", metavar="LENGTH", help="between its two bolts, measured on the vehicle")
    plate.add_argument("--valve-bolt", metavar="SIZE", help="size of its bolts (M8)")
    plate.add_argument("--valve-lean", default="0", metavar="DEG", help="how far its upper part leans out (0, flat)")

    sheet = command("sheet", "> empty.csv", 'filled.csv --name="A. Sample, wagon" --out=wagon.vehicle.toml')
    sheet.add_argument(
        "file", nargs="?", metavar="SHEET.csv", help="a filled sheet; an empty one is printed without it"
    )
    sheet.add_argument("--units", choices=("mm", "in"), default="mm", help="units of the empty sheet")
    sheet.add_argument("--name", default="Measured vehicle", metavar="NAME", help="name of the vehicle")
    sheet.add_argument("--mirror", action="store_true", help="take a side that was not measured from the other one")
    sheet.add_argument("--out", metavar="NAME.vehicle.toml", help="vehicle file to make of the filled sheet")

    bench = command("bench", "", "--only=solve --only=open")
    bench.add_argument("--states", type=int, default=100_000, metavar="N", help="states of the solve (100000)")
    bench.add_argument("--frames", type=int, default=400, metavar="N", help="frames of the window (400)")
    bench.add_argument(
        "--only",
        choices=("solve", "uncertainty", "scalar", "map", "frame", "start", "memory", "open"),
        action="append",
        help="measure only this (solve, frame, start, memory and open if left out)",
    )
    return parser


def _figures(parser: argparse.ArgumentParser, plain: str) -> None:
    """Add the options of what is told: the units for people, and `plain` ones for other programs."""
    parser.add_argument("--units", choices=("mm", "in"), help=f"units of the figures; {_UNITS}")
    parser.add_argument("--json", action="store_true", help=f"for other programs: {plain}")


def _setup_options(parser: argparse.ArgumentParser) -> None:
    group = parser.add_argument_group(
        "what is done to the vehicle",
        "Lengths take units: 100mm, 4in, 3 1/2in. What is left out is 0, or as in the job file.\n"
        "A list is 40mm,50mm or 40.0,50.5 or 0,3 or 38,51,76. 12,5 is 12.5; where a list may stand it is asked back.",
    )
    group.add_argument("--lift", metavar="LENGTH", help="rise of the body at rest")
    group.add_argument("--drop", metavar="LENGTH", help="frame end of the lateral bar down")
    group.add_argument("--shift", metavar="LENGTH", help="frame end of the lateral bar outboard")
    group.add_argument("--longer", metavar="LENGTH", help="lateral bar longer")
    group.add_argument("--axle-raise", metavar="LENGTH", help="axle end of the lateral bar up")
    group.add_argument("--valve-rise", metavar="LENGTH", help="rod of the brake valve up at the axle")
