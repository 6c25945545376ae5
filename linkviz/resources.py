"""Where the data that come with the program are: demo vehicles, icons, templates."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from linkviz.errors import LinkvizError


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


def demo_vehicle_paths() -> tuple[Path, ...]:
    """Return the invented demo vehicles, in the order in which they are offered."""
    return tuple(sorted(data_dir("demo_vehicles").glob("*.vehicle.toml")))
