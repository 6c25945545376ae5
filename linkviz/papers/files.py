"""Writes papers to a folder: whole files or none, and over nothing that is there unless that is asked for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from linkviz.errors import LinkvizError
from linkviz.papers.order import Order
from linkviz.papers.registry import File, Paper
from linkviz.vehicle.saving import save_bytes

Progress = Callable[[str], bool]
"""Told the name of what comes next; returns whether to go on."""


class AlreadyThere(LinkvizError):
    """Files that would be written over.

    Parameters
    ----------
    paths : sequence of Path
        Those that are there.
    """

    def __init__(self, paths: Sequence[Path]) -> None:
        self.paths = tuple(paths)
        names = ", ".join(path.name for path in paths)
        super().__init__(
            f"{paths[0].parent}: {names} {'is' if len(paths) == 1 else 'are'} there already, and nothing was written. "
            "Choose another folder, or ask for them to be overwritten."
        )


def write_papers(
    order: Order,
    papers: Sequence[Paper],
    folder: Path,
    overwrite: bool = False,
    progress: Progress = lambda _: True,
) -> tuple[Path, ...]:
    """Write papers to a folder.

    Parameters
    ----------
    order : Order
    papers : sequence of Paper
        Which ones; those that cannot be made of this order are left out.
    folder : Path
        Made if it is not there.
    overwrite : bool
        Whether files that are there may be replaced.
    progress : callable
        Told the title of each paper before it is made, and "" before all are written; False from it stops with nothing
        written.

    Returns
    -------
    tuple of Path
        What was written; empty if it was stopped.

    Raises
    ------
    AlreadyThere
        If a file is there and may not be replaced; nothing is written then.
    LinkvizError
        If a paper cannot be made or a place cannot be written.
    """
    made: list[File] = []
    for paper in papers:
        if paper.missing(order):
            continue
        if not progress(paper.title):
            return ()
        made += paper.files(order)
    try:
        there = [folder / file.name for file in made if (folder / file.name).exists()]
    except OSError as error:
        raise _unusable(folder, error) from None
    if there and not overwrite:
        raise AlreadyThere(there)
    if not progress(""):
        return ()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _unusable(folder, error) from None
    for file in made:
        save_bytes(folder / file.name, file.data)
    return tuple(folder / file.name for file in made)


def _unusable(folder: Path, error: OSError) -> LinkvizError:
    return LinkvizError(f"{folder} could not be made ({error.strerror or error}). Choose a folder you may write to.")
