from __future__ import annotations

import math

import numpy as np
import pytest

from linkviz.stance import ride
from linkviz.stance.ride import Coil, Seats

HEAVE = np.arange(-200.0, 121.0, 2.0)
UPRIGHT = Seats.of(HEAVE, 225.0 - HEAVE)
LEANING = Seats.of(HEAVE, 225.0 - 0.8 * HEAVE)
CURVED = Seats.of(HEAVE, np.hypot(60.0, 225.0 - HEAVE))


def rest(seats: Seats, coil: Coil, load: float) -> float:
    found = ride.rest_heave(seats, coil, load)
    assert found is not None
    return found


@pytest.mark.parametrize(("seats", "motion"), [(UPRIGHT, 1.0), (LEANING, 0.8)])
def test_a_spacer_lifts_by_its_thickness_over_the_motion_ratio(seats: Seats, motion: float) -> None:
    for rate in (20.0, 45.0):
        coil = Coil(rate, 367.0)
        load = ride.wheel_load(seats, coil, 0.0)
        spaced = Coil(rate, 367.0, 50.8)
        at = rest(seats, spaced, load)
        assert at == pytest.approx(-50.8 / motion, abs=1e-9)
        assert ride.wheel_load(seats, spaced, at) == pytest.approx(load)


def test_payload_sinks_by_force_over_wheel_rate() -> None:
    coil = Coil(26.0, 367.0)
    load = ride.wheel_load(LEANING, coil, 0.0)
    assert rest(LEANING, coil, load + 500.0) == pytest.approx(500.0 / ride.wheel_rate(26.0, 0.8))


def test_a_stiffer_spring_lifts_by_what_it_is_pressed_less() -> None:
    load = ride.wheel_load(UPRIGHT, Coil(26.0, 367.0), 0.0)
    assert rest(UPRIGHT, Coil(38.0, 367.0), load) == pytest.approx(-(load / 26.0 - load / 38.0))


def test_on_a_curved_way_the_load_is_met() -> None:
    coil = Coil(26.0, 380.0)
    load = ride.wheel_load(CURVED, coil, 0.0)
    assert rest(CURVED, coil, load) == pytest.approx(0.0, abs=1e-6)
    at = rest(CURVED, Coil(26.0, 380.0, 50.0), load)
    assert ride.wheel_load(CURVED, Coil(26.0, 380.0, 50.0), at) == pytest.approx(load, rel=1e-5)
    # work done by the coil over a small travel is the load times the travel, whatever the motion ratio
    pressed = [0.5 * 26.0 * (430.0 - CURVED.length_at(h)) ** 2 for h in (at - 2.0, at + 2.0)]
    assert (pressed[1] - pressed[0]) / 4.0 == pytest.approx(load, rel=1e-4)


def test_a_load_out_of_reach() -> None:
    assert ride.rest_heave(UPRIGHT, Coil(26.0, 367.0), 1e6) is None
    assert ride.rest_heave(UPRIGHT, Coil(26.0, 900.0), 100.0) is None


def test_a_coil_that_would_have_to_pull_holds_nothing() -> None:
    heave = np.linspace(-100.0, 100.0, 201)
    # seats that part as the axle comes up: the coil pulls the body down on its axle
    parting = Seats(heave, 250.0 + 0.8 * heave + 0.002 * heave**2, -(0.8 + 0.004 * heave))
    coil = Coil(20.0, 400.0)
    pulled = coil.rate * (400.0 - parting.length) * parting.motion
    load = float((pulled.min() + pulled.max()) / 2.0)
    assert load < 0 and bool(((pulled[:-1] < load) & (pulled[1:] >= load)).any())
    assert ride.rest_heave(parting, coil, load) is None
    assert ride.rest_heave(parting, coil, 0.0) is None


def test_the_coil_that_must_be_in_there() -> None:
    load = ride.wheel_load(CURVED, Coil(26.0, 367.0), 0.0)
    for rate in (26.0, 40.0):
        coil = ride.coil_for(CURVED, rate, load, -100.0)
        assert coil.rate == rate
        assert rest(CURVED, coil, load) == pytest.approx(-100.0, abs=1e-6)


def test_a_loose_coil_bears_nothing() -> None:
    assert Coil(26.0, 300.0).force(310.0) == 0.0


def test_frequency_is_that_of_a_mass_on_a_spring() -> None:
    mass = 375.0
    assert ride.ride_frequency(26.0, mass * 9.80665) == pytest.approx(math.sqrt(26000.0 / mass) / (2 * math.pi))


def test_pitch_and_centre_of_gravity() -> None:
    assert ride.body_pitch(0.0, 100.0, 2720.0) == pytest.approx(math.atan(100 / 2720))
    assert ride.body_pitch(100.0, 100.0, 2720.0) == 0.0
    assert ride.body_pitch(100.0, 0.0, 2720.0) < 0
    assert ride.centre_of_gravity_rise(100.0, 100.0, 0.45) == pytest.approx(100.0)
    assert ride.centre_of_gravity_rise(0.0, 100.0, 0.45) == pytest.approx(45.0)
    assert ride.centre_of_gravity_rise(100.0, 0.0, 0.45) == pytest.approx(55.0)
