"""Get the text of a file that people picked, or say what the file is instead."""

from __future__ import annotations

import csv
import io
import os
import re
import stat
from pathlib import Path

from linkviz.errors import FileRefused, Problem

MOST_BYTES = 1_000_000
"""Larger files are not written by hand."""
MOST_WRITTEN = 4_000_000
"""Nor larger vehicles and jobs by this program: with as many envelopes, corners and notes as there may be, 3 MB."""

_KINDS = (
    (b"PK\x03\x04", "a ZIP archive or an office document"),
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a PNG picture"),
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"GIF8", "a GIF picture"),
    (b"\x1f\x8b", "a gzip archive"),
    (b"\xd0\xcf\x11\xe0", "an old office document"),
    (b"SQLite format 3", "a database"),
)


def read_bytes(path: Path, expected: str, most: int = MOST_BYTES) -> bytes:
    """Return the bytes of a file of text.

    Parameters
    ----------
    path : pathlib.Path
        The file.
    expected : str
        What the file should be, such as ``a vehicle file (*.vehicle.toml)``.
    most : int
        How large it may be, bytes.

    Raises
    ------
    FileRefused
        If it is missing, a folder, empty, too large, binary or not to be read.
    """
    shown = str(path)
    try:
        if path.is_dir():
            raise FileRefused(shown, [Problem("file", "a folder", f"{expected}; pick a file in it")])
        if path.exists() and not path.is_file():
            raise FileRefused(shown, [Problem("file", "a device or pipe", expected)])
        # a pipe that takes the file's place right now is opened without waiting for its other end
        with open(path, "rb", opener=at_once) as stream:
            if not stat.S_ISREG(os.fstat(stream.fileno()).st_mode):
                raise FileRefused(shown, [Problem("file", "a device or pipe", expected)])
            data = stream.read(most + 1)
    except FileNotFoundError:
        raise FileRefused(shown, [Problem("file", "no file of this name", f"{expected}; check the path")]) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise FileRefused(
            shown, [Problem("file", f"a file that cannot be read ({reason})", f"{expected} that you may read")]
        ) from None
    if not data.strip():
        raise FileRefused(shown, [Problem("file", "an empty file", expected)])
    if len(data) > most:
        raise FileRefused(
            shown, [Problem("file", f"more than {most // 1_000_000} MB", f"{expected}, a few kB of text")]
        )
    for start, kind in _KINDS:
        if data.startswith(start):
            raise FileRefused(shown, [Problem("file", kind, expected)])
    return data


def at_once(path: str, flags: int) -> int:
    """Open a file, without waiting for the other end of a pipe; an opener of `open`."""
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))


def table_rows(text: str, mark: str, where: str, expected: str) -> list[tuple[int, list[str]]]:
    """Return the rows of a table (CSV) that say something, each with the number of its line.

    Raises
    ------
    FileRefused
        If it is no table.
    """
    rows = []
    reader = csv.reader(io.StringIO(re.sub("\r\n?", "\n", text)), delimiter=mark)
    try:
        for row in reader:
            if any(cell.strip() for cell in row):
                rows.append((reader.line_num, row))
    except csv.Error as error:
        raise FileRefused(where, [Problem(f"line {reader.line_num}", f"no CSV ({error})", expected)]) from None
    return rows


def decode_utf8(data: bytes, where: str, expected: str) -> str:
    """Return bytes as text; UTF-8 with or without a byte order mark.

    Raises
    ------
    FileRefused
        If they are not UTF-8 text; the line of the first wrong byte is named.
    """
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise FileRefused(where, [Problem("file", "text in UTF-16", f"{expected} in UTF-8; save it again as UTF-8")])
    if b"\0" in data:
        raise FileRefused(where, [Problem("file", "binary data", f"{expected}, which is plain text")])
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        found = f"a byte that is not UTF-8 text (0x{data[error.start]:02x})"
        problem = Problem(f"line {line}", found, f"{expected} in UTF-8; save it again as UTF-8")
        raise FileRefused(where, [problem]) from None
