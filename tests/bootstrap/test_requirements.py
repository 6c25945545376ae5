"""Reading what is required, and finding what an interpreter lacks."""

from __future__ import annotations

import sys
from collections.abc import Callable
from importlib import metadata
from pathlib import Path

import pytest

from linkviz.bootstrap.requirements import fingerprint, missing, read_requirements

PYPROJECT = Path(__file__).resolve().parents[2] / "pyproject.toml"


def versions(**known: str) -> Callable[[str], str]:
    def version_of(name: str) -> str:
        if name not in known:
            raise metadata.PackageNotFoundError(name)
        return known[name]

    return version_of


@pytest.mark.parametrize(
    ("requirement", "version", "satisfied"),
    [
        ("alpha", "0.1", True),
        ("alpha>=2.0", "2", True),
        ("alpha>=2.0", "1.99", False),
        ("alpha>=2.0", "10.0", True),
        ("alpha>=6.10,<6.12", "6.11.3", True),
        ("alpha>=6.10,<6.12", "6.12.0", False),
        ("alpha>=6.10,<6.12", "6.9", False),
        ("alpha!=6.12", "6.12.0", False),
        ("alpha>=2.0", "2.1rc1", True),
        ("alpha>=2.0; python_version < '3.0'", "1.0", True),
        ("alpha>=2.0; python_version >= '3.11'", "1.0", False),
    ],
)
def test_a_version_is_held_against_its_bounds(requirement: str, version: str, satisfied: bool) -> None:
    assert missing([requirement], versions(alpha=version)) == ([] if satisfied else [requirement])


def test_what_is_not_installed_is_missing() -> None:
    assert missing(["alpha>=1", "beta"], versions(beta="1")) == ["alpha>=1"]


def test_an_installation_without_a_version_is_missing() -> None:
    assert missing(["alpha"], versions(alpha="")) == ["alpha"]


def test_an_unreadable_form_is_refused() -> None:
    with pytest.raises(ValueError, match=r"~=1\.0"):
        missing(["alpha~=1.0"], versions(alpha="1.0"))


def test_every_requirement_of_the_project_can_be_read_and_is_met_by_these_tests() -> None:
    wanted = read_requirements(PYPROJECT, "test")
    assert len(wanted) > len(read_requirements(PYPROJECT)) > 5
    assert missing(wanted) == []


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="the fault does not bite from 3.12 on")
def test_the_release_of_qt_that_loses_references_is_kept_out() -> None:
    wanted = [line for line in read_requirements(PYPROJECT) if line.startswith("PySide6")]
    known = {"PySide6-Essentials": "6.12.0"}
    assert missing(wanted, versions(**known)) != []
    known = {"PySide6-Essentials": "6.11.3"}
    assert missing(wanted, versions(**known)) == []


def test_the_fingerprint_follows_the_text() -> None:
    assert fingerprint(["a", "b"]) == fingerprint(["a", "b"])
    assert len({fingerprint(["a", "b"]), fingerprint(["a"]), fingerprint(["a", "b>1"])}) == 3
