"""Paths as people read them, and the folder in which a dialog for files begins."""

from __future__ import annotations

from pathlib import Path

from linkviz.session.session import Session

MOST = 46
"""Characters of a path that fit on a line of a dialog."""


def beside(session: Session, last: str = "") -> Path:
    """Return where a dialog for files begins: the folder chosen last, that of the open file, or the person's home."""
    path = session.document.path
    return Path(last) if last else Path(path).parent if path else Path.home()


def short_path(path: Path | str, most: int = MOST) -> str:
    """Return a path that fits on a line: the home as ``~``, whole folders left out of its middle; the name stays."""
    path = Path(path)
    home = Path.home()
    parts = ["~", *path.relative_to(home).parts] if path.is_relative_to(home) else list(path.parts)
    if len(parts) > 1 and parts[0] == path.anchor:
        parts[:2] = [parts[0] + parts[1]]
    sign = "\\" if "\\" in str(path) else "/"
    text = sign.join(parts)
    # what is near its beginning says least, but where it begins is kept
    for kept in range(2, len(parts)):
        if len(text) <= most:
            break
        text = sign.join((parts[0], "...", *parts[kept:]))
    return text
