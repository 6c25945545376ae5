"""The shop's own stock of brackets: which catalogue it is, read when it is needed and again when it has changed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from linkviz.errors import LinkvizError
from linkviz.resources import demo_catalogue_path
from linkviz.session.files import full_path

if TYPE_CHECKING:
    from linkviz.analysis.bracket.catalogue import Catalogue
    from linkviz.session.store import Store

SUFFIX = ".parts.toml"


class Stock:
    """The catalogue that parts are proposed from.

    Parameters
    ----------
    store : Store
        Remembers which file it is; the invented demo until the shop names its own.

    Attributes
    ----------
    path : Path
        The file of the catalogue.

    Notes
    -----
    May be read from any thread.
    """

    def __init__(self, store: Store) -> None:
        self._store = store
        own = store.parts()
        self.path = Path(own) if own else demo_catalogue_path()
        self._read: tuple[tuple[str, int, int], Catalogue] | None = None

    def catalogue(self) -> Catalogue:
        """Return the catalogue as it is on the disk now.

        Raises
        ------
        LinkvizError
            If it cannot be read.
        """
        from linkviz.analysis.bracket.catalogue import read_catalogue

        path = self.path
        try:
            state = path.stat()
        except (OSError, ValueError):
            return read_catalogue(path)  # says what is wrong
        mark = (str(path), state.st_mtime_ns, state.st_size)
        known = self._read
        if known is not None and known[0] == mark:
            return known[1]
        found = read_catalogue(path)
        self._read = (mark, found)
        return found

    def there(self) -> Catalogue | None:
        """Return the catalogue, None if it cannot be read: for what is only by the way."""
        try:
            return self.catalogue()
        except LinkvizError:
            return None

    def choose(self, path: str) -> None:
        """Take another file for the catalogue.

        Raises
        ------
        LinkvizError
            If it cannot be read; the old one stays.
        """
        from linkviz.analysis.bracket.catalogue import read_catalogue

        read_catalogue(path)
        self.path = Path(full_path(path))
        self._store.keep_parts(str(self.path))
