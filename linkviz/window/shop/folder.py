"""Where the shop's jobs lie: one folder, remembered."""

from __future__ import annotations

from pathlib import Path

from linkviz.session.store import Store

KEY = "shop.json"


def shop_folder(store: Store) -> Path:
    """Return the folder of the jobs; one in the person's home where none was chosen yet."""
    chosen = store.remembered(KEY).get("folder")
    return Path(chosen) if isinstance(chosen, str) and chosen else Path.home() / "linkviz-jobs"


def choose(store: Store, folder: Path) -> None:
    """Remember another folder."""
    store.remember(KEY, {**store.remembered(KEY), "folder": str(folder)})
