from __future__ import annotations

import numpy as np
import pytest

from linkviz.brakes.balance import Brake, Standing, System, disc_gain, drum_gain, pad_wear, stopping_distance

STANDING = Standing(weight=19000.0, wheelbase=2720.0, to_front=1250.0, height=690.0)
STOCK = System(Brake(1150.0, 0.2), Brake(800.0, 0.4), knee=3.0, slope=0.3, standing=STANDING)
FORGOTTEN = STOCK.replace(knee=1.0)


def test_loads_add_up_and_move_forward() -> None:
    front, rear = STANDING.loads([0.0, 0.5])
    assert front + rear == pytest.approx([19000.0, 19000.0])
    assert front[1] - front[0] == pytest.approx(0.5 * 19000.0 * 690.0 / 2720.0)


def test_pressure_and_deceleration_undo_one_another() -> None:
    pressures = np.array([0.3, 0.5, 1.0, 2.9, 3.1, 8.0])
    for system in (STOCK, FORGOTTEN, STOCK.replace(knee=0.1), STOCK.replace(slope=0.0)):
        assert system.pressure_for(system.deceleration(pressures)) == pytest.approx(pressures)


def test_what_cannot_be_had_is_no_number() -> None:
    weak = STOCK.replace(greatest=5.0)
    assert np.isnan(weak.pressure_for(0.9))
    assert np.isnan(weak.share(0.9))


def test_adhesion_is_force_over_load() -> None:
    front, rear = STOCK.adhesion(0.4)
    ahead, behind = STANDING.loads(0.4)
    assert front * ahead + rear * behind == pytest.approx(0.4 * 19000.0)


@pytest.mark.parametrize("friction", [0.3, 0.6, 0.9])
@pytest.mark.parametrize("system", [STOCK, FORGOTTEN, STOCK.replace(knee=20.0)])
def test_first_lock_against_a_fine_search(system: System, friction: float) -> None:
    found = system.first_lock(friction)
    pressures = np.linspace(0.0, system.greatest, 400_001)
    ahead, behind = system.standing.loads(system.deceleration(pressures))
    front, rear = system.forces(pressures)
    over = (front > friction * ahead) | (rear > friction * behind)
    i = int(np.argmax(over))
    axle = "front" if front[i] > friction * ahead[i] else "rear"
    assert (found.axle, found.pressure) == (axle, pytest.approx(pressures[i], abs=1e-4))
    assert found.z == pytest.approx(float(system.deceleration(found.pressure)))


def test_a_lower_knee_takes_braking_from_the_rear() -> None:
    assert FORGOTTEN.share(0.5) < STOCK.share(0.5)
    assert FORGOTTEN.first_lock(0.8).axle == STOCK.first_lock(0.8).axle == "front"
    assert FORGOTTEN.first_lock(0.8).z < STOCK.first_lock(0.8).z
    front, rear = pad_wear(FORGOTTEN, STOCK)
    assert front > 1.0 > rear


def test_a_knee_too_high_locks_the_rear_first() -> None:
    assert STOCK.replace(knee=12.0).first_lock(0.8).axle == "rear"


def test_too_little_pressure_locks_nothing() -> None:
    assert STOCK.replace(greatest=1.0).first_lock(0.9).axle is None


def test_stock_wears_as_stock() -> None:
    assert pad_wear(STOCK, STOCK) == pytest.approx((1.0, 1.0))


def test_gains() -> None:
    assert disc_gain(0.4, 54.0, 2.0, 115.0, 360.0) == pytest.approx(2.0 * disc_gain(0.4, 54.0, 1.0, 115.0, 360.0))
    assert drum_gain(2.3, 20.64, 1.0, 127.0, 360.0) > 0
    assert stopping_distance(20.0, 0.4) == pytest.approx(2.0 * stopping_distance(20.0, 0.8))
