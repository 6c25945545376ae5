"""Parse the command line, run the command, turn errors into sentences."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence

from linkviz import __version__
from linkviz.commands import values
from linkviz.errors import LinkvizError

COMMANDS = (
    "check", "sweep", "explain", "bracket", "stance", "valve", "clearance", "picture", "papers", "sheet", "bench",
)  # fmt: skip
"""Everything that is not the window."""


class _Parser(argparse.ArgumentParser):
    """A parser that takes ``-100:100:5`` after an option for its value."""

    def __init__(self, **options: object) -> None:
        super().__init__(**options)  # type: ignore[arg-type]
        self._negative_number_matcher = values.NEGATIVE


def run(argv: Sequence[str] | None = None) -> int:
    """Run one command.

    Parameters
    ----------
    argv : sequence of str, optional
        Arguments after the program's name; those of the process if None.

    Returns
    -------
    int
        Exit code.
    """
    arguments = list(sys.argv[1:] if argv is None else argv)
    try:
        if arguments and arguments[0] in COMMANDS:
            options = _commands().parse_args(arguments)
            command: Callable[[argparse.Namespace], int] = options.command
            return command(options)
        options = _window().parse_args(arguments)
        from linkviz.commands.open import open_window

        return open_window(options.file)
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 2
    except LinkvizError as error:
        print(error, file=sys.stderr)
        return 1
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        return 1
    except OSError as error:
        place = f"{error.filename}: " if error.filename else ""
        print(f"{place}{error.strerror or error}. Choose a place you may read and write.", file=sys.stderr)
        return 1


_WINDOW_TEXT = "Open the window, on FILE or on a demo vehicle. Without a screen: print the findings, write the picture."


def _window() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="linkviz",
        description=f"See what a lift does to a five-link rear axle, and what a bracket does about it. {_WINDOW_TEXT}",
        epilog=f"Other commands: {', '.join(COMMANDS)}; see `linkviz COMMAND --help`.",
    )
    parser.add_argument("file", nargs="?", metavar="FILE", help="a *.vehicle.toml or *.job.toml file")
    parser.add_argument("--version", action="version", version=f"linkviz {__version__}")
    return parser


def _commands() -> argparse.ArgumentParser:
    parser = _Parser(prog="linkviz")
    kinds = parser.add_subparsers(metavar="COMMAND", required=True, parser_class=_Parser)

    def command(name: str, text: str) -> argparse.ArgumentParser:
        sub = kinds.add_parser(name, help=text, description=text)

        def call(options: argparse.Namespace) -> int:
            from importlib import import_module

            code: int = import_module(f"linkviz.commands.{name}").command(options)
            return code

        sub.set_defaults(command=call)
        return sub

    check = command("check", "Say what is wrong with vehicle and job files, one line per problem.")
    check.add_argument("files", nargs="+", metavar="FILE")

    sweep = command("sweep", "Solve a vehicle over travel and roll; one row per state.")
    sweep.add_argument("file", metavar="FILE")
    sweep.add_argument(
        "--travel", metavar="A:B:STEP", help="travel from the lifted rest; the file's window if left out"
    )
    sweep.add_argument("--roll", default="0", metavar="DEG,...", help="axle roll, deg, left wheel up + (0)")
    sweep.add_argument("--format", choices=("csv", "json"), default="csv")
    sweep.add_argument("--out", metavar="PATH", help="write here and not to the screen")
    sweep.add_argument(
        "--force-limit", metavar="FORCE", help="add the roll at which a link force passes this (10kN), at each height"
    )
    _setup_options(sweep)

    explain = command("explain", "Say in plain sentences what a lift and a bracket do, and every figure at rest.")
    explain.add_argument("file", metavar="FILE")
    explain.add_argument("--units", choices=("mm", "in"), help="units of the figures; the file's if left out")
    explain.add_argument("--json", action="store_true", help="for other programs: mm, deg, N and %%")
    _setup_options(explain)

    bracket = command("bracket", "Say how short, how long and how strong a drop bracket is, and which stock part fits.")
    bracket.add_argument("file", metavar="FILE")
    bracket.add_argument("--parts", metavar="STOCK.parts.toml", help="the shop's catalogue: propose a part and a hole")
    bracket.add_argument("--part", metavar="NUMBER", help="check this part of the catalogue")
    bracket.add_argument("--units", choices=("mm", "in"), help="units of the figures; the file's if left out")
    bracket.add_argument("--json", action="store_true", help="for other programs: mm, kN, MPa and deg")
    _setup_options(bracket)

    clearance = command("clearance", "Say how near moving parts come to everything watched, and which drop clears.")
    clearance.add_argument("file", metavar="FILE")
    clearance.add_argument("--units", choices=("mm", "in"), help="units of the figures; the file's if left out")
    clearance.add_argument("--json", action="store_true", help="for other programs: mm and deg")
    clearance.add_argument("--swept", metavar="PART", help="write what this part sweeps instead, such as driveshaft")
    clearance.add_argument("--out", metavar="NAME.dxf|NAME.csv", help="where to write what it sweeps")
    _setup_options(clearance)

    stance = command("stance", "Say how high it stands on its springs, a spacer, other springs or a load.")
    stance.add_argument("file", metavar="FILE")
    stance.add_argument("--spacer", default="0", metavar="LENGTH", help="thickness between coil and seat")
    stance.add_argument("--springs", metavar="NAME", help="of [[other_springs]] of the file, or a part of the name")
    stance.add_argument("--free-length", metavar="LENGTH", help="of new coils, with --rate")
    stance.add_argument("--rate", metavar="N/MM", help="of new coils, with --free-length")
    stance.add_argument("--load", action="append", metavar="PLACE=KG", help="always carried, in one of [[load_places]]")
    stance.add_argument("--front", metavar="LENGTH", help="rise of the body in front; as at the rear if left out")
    stance.add_argument("--units", choices=("mm", "in"), help="units of the figures; the file's if left out")
    stance.add_argument("--json", action="store_true", help="for other programs: mm, N, Hz, rad")
    _setup_options(stance)

    valve = command("valve", "Say what a lift does to the load-sensing brake valve, and how far to raise its rod.")
    valve.add_argument("file", metavar="FILE")
    valve.add_argument("--holes", metavar="LENGTH,...", help="rises the bracket's holes give")
    valve.add_argument("--units", choices=("mm", "in"), help="units of the figures; the file's if left out")
    valve.add_argument("--json", action="store_true", help="for other programs: mm, deg, MPa")
    _setup_options(valve)

    picture = command("picture", "Draw both views into a PNG, SVG or (moving) GIF file.")
    picture.add_argument("file", metavar="FILE")
    picture.add_argument("--out", required=True, metavar="PICTURE.png|.svg|.gif")
    picture.add_argument(
        "--travel", default="0", metavar="LENGTH", help="travel from the lifted rest (0); not for a GIF"
    )
    picture.add_argument("--roll", default="0", metavar="DEG", help="axle roll, deg, left wheel up + (0)")
    picture.add_argument("--theme", choices=("light", "dark"), default="light")
    picture.add_argument("--size", default="1280x560", metavar="WxH", help="pixels (1280x560)")
    picture.add_argument("--units", choices=("mm", "in"), help="units of the figures; the file's if left out")
    picture.add_argument(
        "--behind", choices=("as built", "lifted", "none"), default="as built", help="dashed behind it"
    )
    _setup_options(picture)

    papers = command(
        "papers", "Write what leaves the shop: templates, cutting files, drawings, sheets, as PDF and DXF."
    )
    papers.add_argument("file", metavar="FILE")
    papers.add_argument("--out", required=True, metavar="DIR", help="folder to write to; made if it is not there")
    papers.add_argument(
        "--only", action="append", metavar="NAME,...", help="template, cut, drawing, fitting, customer, packing (all)"
    )
    papers.add_argument("--overwrite", action="store_true", help="replace files that are there")
    papers.add_argument("--paper", choices=("a4", "letter"), help="letter with inches, A4 else")
    papers.add_argument("--units", choices=("mm", "in"), help="units of all lengths; the file's if left out")
    papers.add_argument("--job", help="job number on every paper; the job file's if left out")
    papers.add_argument("--customer", help="whom it is for; the job file's if left out")
    papers.add_argument("--date", help="date on every paper (today)")
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

    sheet = command("sheet", "Print an empty measuring sheet, or make a vehicle file of a filled one.")
    sheet.add_argument("file", nargs="?", metavar="SHEET.csv")
    sheet.add_argument("--units", choices=("mm", "in"), default="mm", help="units of the empty sheet")
    sheet.add_argument("--name", default="Measured vehicle", help="name of the vehicle")
    sheet.add_argument("--mirror", action="store_true", help="take a side that was not measured from the other one")
    sheet.add_argument("--out", metavar="NAME.vehicle.toml", help="vehicle file to make of the filled sheet")

    bench = command("bench", "Measure the program's speed as ratios within this run; JSON.")
    bench.add_argument("--states", type=int, default=100_000, help="states of the solve (100000)")
    bench.add_argument("--frames", type=int, default=400, help="frames of the window (400)")
    bench.add_argument(
        "--only",
        choices=("solve", "uncertainty", "scalar", "map", "frame", "start", "memory", "open"),
        action="append",
        help="measure only this (solve, frame, start, memory and open if left out)",
    )
    return parser


def _setup_options(parser: argparse.ArgumentParser) -> None:
    group = parser.add_argument_group(
        "what is done to the vehicle",
        "Lengths take units: 100mm, 4in, 3 1/2in. What is left out is 0, or as in the job file.",
    )
    group.add_argument("--lift", metavar="LENGTH", help="rise of the body at rest")
    group.add_argument("--drop", metavar="LENGTH", help="frame end of the lateral bar down")
    group.add_argument("--shift", metavar="LENGTH", help="frame end of the lateral bar outboard")
    group.add_argument("--longer", metavar="LENGTH", help="lateral bar longer")
    group.add_argument("--axle-raise", metavar="LENGTH", help="axle end of the lateral bar up")
    group.add_argument("--valve-rise", metavar="LENGTH", help="rod of the brake valve up at the axle")
