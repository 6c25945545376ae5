"""The shop's catalogue: found, read again when it changed, refused without losing the one before."""

from __future__ import annotations

from pathlib import Path

import pytest

from linkviz.errors import LinkvizError
from linkviz.session.stock import Stock
from linkviz.session.store import Store

EMPTY = 'format = "linkviz-parts/1"\nname = "{}"\nbrackets = []\n'


def test_the_demo_is_there_until_the_shop_names_its_own(tmp_path: Path) -> None:
    assert "invented" in Stock(Store(tmp_path)).catalogue().name


def test_a_change_of_the_file_is_seen(tmp_path: Path) -> None:
    file = tmp_path / "own.parts.toml"
    file.write_text(EMPTY.format("one"), encoding="utf-8")
    stock = Stock(Store(tmp_path))
    stock.choose(str(file))
    first = stock.catalogue()
    assert stock.catalogue() is first
    file.write_text(EMPTY.format("number two"), encoding="utf-8")
    assert stock.catalogue().name == "number two"


def test_a_bad_file_is_refused_and_the_old_one_stays(tmp_path: Path) -> None:
    stock = Stock(Store(tmp_path))
    before = stock.path
    bad = tmp_path / "bad.parts.toml"
    bad.write_text("brackets = 3", encoding="utf-8")
    with pytest.raises(LinkvizError, match=r"bad\.parts\.toml"):
        stock.choose(str(bad))
    assert stock.path == before
    assert Stock(Store(tmp_path)).path == before


def test_a_file_that_is_gone_is_nothing_to_propose_from(tmp_path: Path) -> None:
    file = tmp_path / "own.parts.toml"
    file.write_text(EMPTY.format("one"), encoding="utf-8")
    stock = Stock(Store(tmp_path))
    stock.choose(str(file))
    file.unlink()
    assert stock.there() is None
    with pytest.raises(LinkvizError, match="no file of this name"):
        stock.catalogue()
