"""Where the shop's jobs lie: one folder, remembered."""

from __future__ import annotations

import contextlib
from pathlib import Path

from linkviz.errors import LinkvizError
from linkviz.job.catalogue import Catalogue, read_catalogue
from linkviz.resources import demo_catalogue_path
from linkviz.session.store import Store
from linkviz.vehicle.model import Vehicle

KEY = "shop.json"
INVENTED = "(invented)"
"""Stands in the names of demo vehicles."""


def shop_folder(store: Store) -> Path:
    """Return the folder of the jobs; one in the person's home where none was chosen yet."""
    chosen = store.remembered(KEY).get("folder")
    return Path(chosen) if isinstance(chosen, str) and chosen else Path.home() / "linkviz-jobs"


def choose(store: Store, folder: Path) -> None:
    """Remember another folder."""
    store.remember(KEY, {**store.remembered(KEY), "folder": str(folder)})


def stock(folder: Path, vehicle: Vehicle) -> Catalogue | None:
    """Return the shop's stock: the parts files of its folder; the invented one for an invented vehicle without them.

    A file that cannot be read is passed over here: `linkviz bracket --parts` says what is wrong with it.
    """
    found = []
    for path in sorted(folder.glob("*.parts.toml")):
        with contextlib.suppress(LinkvizError):
            found.append(read_catalogue(path))
    if not found and INVENTED in vehicle.name:
        found.append(read_catalogue(demo_catalogue_path()))
    if not found:
        return None
    return found[0].model_copy(update={"brackets": tuple(part for each in found for part in each.brackets)})
