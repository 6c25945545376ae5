"""What comes with the program: demo vehicles, icons, and the libraries it stands on."""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files
from pathlib import Path

from linkviz.errors import LinkvizError
from linkviz.frozen import Frozen


@cache
def data_dir(name: str) -> Path:
    """Return the folder of one kind of data.

    Parameters
    ----------
    name : str
        Name of the folder, such as ``demo_vehicles``.

    Returns
    -------
    pathlib.Path
        The folder inside the installed package, or the one beside it in a working copy.

    Raises
    ------
    LinkvizError
        If neither is there: the installation is not whole.
    """
    package = Path(str(files("linkviz")))
    for folder in (package / "_data" / name, package.parent / name):
        if folder.is_dir():
            return folder
    raise LinkvizError(
        f"The folder {name!r} that belongs to the program is missing beside {package}. Install the program again."
    )


class Library(Frozen):
    """A library the program stands on, as it says of itself.

    Attributes
    ----------
    name, version, licence : str
    """

    name: str
    version: str
    licence: str


def libraries() -> tuple[Library, ...]:
    """Return the libraries that are installed with the program, with their licences, by name."""
    from importlib import metadata  # brings the whole of email along, which the start does not need

    found = {}
    for name in LIBRARIES:
        try:
            about = metadata.metadata(name).json
        except metadata.PackageNotFoundError:
            continue
        licence = str(about.get("license_expression") or about.get("license") or "")
        if not licence or "\n" in licence or len(licence) > 60:
            kinds = [line.split("::")[-1].strip() for line in about.get("classifier", []) if "License ::" in line]
            licence = ", ".join(kinds) or re.split(r"[\n:]", licence or "see its package")[0]
        found[name] = Library(str(about.get("name") or name), str(about.get("version") or ""), licence)
    return tuple(found[name] for name in sorted(found, key=str.lower))


LIBRARIES = (
    *(
        "PySide6-Essentials",
        "shiboken6",
        "pyqtgraph",
        "numpy",
        "sympy",
        "mpmath",
        "msgspec",
        "tomlkit",
    ),
    *("shapely", "contourpy", "pillow", "ezdxf", "fonttools", "pyparsing", "reportlab", "filelock"),
    *("charset-normalizer", "colorama", "typing_extensions"),
)
"""Direct requirements, and what they bring along."""


def demo_vehicle_paths() -> tuple[Path, ...]:
    """Return the invented demo vehicles, in the order in which they are offered."""
    return tuple(sorted(data_dir("demo_vehicles").glob("*.vehicle.toml")))


def demo_catalogue_path() -> Path:
    """Return the invented demo catalogue of stock brackets."""
    return data_dir("demo_vehicles") / "demo.parts.toml"
