from __future__ import annotations

from pathlib import Path

import pytest

from linkviz.analysis.bracket.table import LoadCaseTable, RulesTable
from linkviz.analysis.photo import filling
from linkviz.analysis.stance.springing import Springing
from linkviz.session.live import Live, Slow, slow_work
from linkviz.session.session import Session


@pytest.fixture
def live(session: Session) -> Live:
    live = Live(session)
    live.take(live.slow_key, slow_work(session.shown, session.stock))
    assert live.slow_done
    return live


def test_notes_and_photos_do_not_restart_slow_work(session: Session, live: Live) -> None:
    session.edit_job("job details", notes="rattles", customer="A farm", status="fitted")
    photo = filling("rear", "rear.png", (100.0, 80.0), (0.0, 500.0), 900.0)
    session.edit(session.document.with_photo("rear", photo), "photo")
    assert session.document.job.photos and session.document.job.notes
    assert live.slow_done
    assert not live.frame().stale


@pytest.mark.parametrize(
    "given",
    [
        {"springing": Springing(spacer=20.0)},
        {"rules": RulesTable(bar_angle_deg=2.0)},
        {"load_cases": (LoadCaseTable(name="ditch", lateral_g=1.0),)},
    ],
    ids=lambda given: next(iter(given)),
)
def test_what_it_is_worked_out_from_restarts_it(session: Session, live: Live, given: dict[str, object]) -> None:
    session.edit_job("change", **given)
    assert not live.slow_done
    session.undo()
    assert live.slow_done


def test_vehicle_setup_and_stock_restart_it(session: Session, live: Live, tmp_path: Path) -> None:
    before = live.slow_key
    session.edit_setup("bracket drop", drop=50.0)
    assert not live.slow_done
    session.undo()
    name = session.document.vehicle.name
    session.edit_vehicle(session.document.vehicle.replace(name=f"{name}, again"), "rename")
    assert not live.slow_done
    session.undo()
    own = tmp_path / "own.parts.toml"
    own.write_bytes(session.stock.path.read_bytes())
    session.choose_stock(str(own))
    assert not live.slow_done
    live.take(live.slow_key, Slow((), None))
    assert live.slow_done and live.slow_key != before
