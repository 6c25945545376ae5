from __future__ import annotations

import numpy as np
import pytest

from linkviz.analysis.build import Build
from linkviz.analysis.limits import DEFAULTS, HIGHEST, LinkLimits, run_out, travel_limits
from linkviz.analysis.quantities import BY_KEY
from linkviz.analysis.setup import Setup
from linkviz.analysis.study import study
from linkviz.linkage.closed_form import trailing
from linkviz.resources import demo_vehicle_paths
from linkviz.vehicle.model import Vehicle
from linkviz.vehicle.read import read_vehicle
from tests.vehicles import mirrored_vehicle, random_vehicle

DEMOS = demo_vehicle_paths()
IDS = [p.name.split(".")[0] for p in DEMOS]


@pytest.fixture(params=DEMOS, ids=IDS)
def vehicle(request: pytest.FixtureRequest) -> Vehicle:
    return read_vehicle(request.param)


@pytest.mark.parametrize("setup", [Setup(), Setup(lift=100.0, drop=80.0)], ids=["as built", "lifted"])
def test_ends_of_travel_are_where_the_study_stops(vehicle: Vehicle, setup: Setup) -> None:
    build = Build.of(vehicle, setup)
    ends = travel_limits(build)
    for end, way in ((ends.droop, -1.0), (ends.bump, 1.0)):
        assert end.travel == pytest.approx(end.heave + setup.lift)
        assert study(build, end.travel - way * 0.02).reached.all()
        # far up, where links bind, what is reached is ragged: something close beyond is not
        beyond = study(build, end.travel + way * np.linspace(0.05, 8.0, 160))
        assert not beyond.reached.all()
        assert end.words
    assert not study(build, ends.droop.travel - 0.05).reached.any()
    assert ends.droop.words == trailing(build.layout).stop_low
    assert ends.droop.room == pytest.approx(-vehicle.travel.rebound - ends.droop.travel)
    assert ends.bump.room == pytest.approx(ends.bump.travel - vehicle.travel.jounce)


def test_a_lift_takes_its_whole_height_off_the_droop(vehicle: Vehicle) -> None:
    bare, lifted = (travel_limits(Build.of(vehicle, Setup(lift=lift))).droop for lift in (0.0, 75.0))
    assert bare.heave == lifted.heave
    assert bare.room - lifted.room == pytest.approx(75.0)


def test_short_bar_ends_the_travel() -> None:
    vehicle = read_vehicle(DEMOS[0])
    short = Build.of(vehicle, Setup(bar_longer=-760.0))
    ends = travel_limits(short)
    assert "lateral bar" in ends.droop.words or "bind" in ends.droop.words
    assert abs(ends.droop.heave) < abs(travel_limits(Build.of(vehicle, Setup())).droop.heave)


def test_curves_are_those_of_the_quantities(vehicle: Vehicle) -> None:
    found = run_out(vehicle)
    i = int(np.flatnonzero(found.lift == 120.0)[0])
    lifted = study(Build.of(vehicle, Setup(lift=120.0)), 0.0)
    slopes = [
        BY_KEY[f"{name}_angle"].of(lifted)[0] for name in ("lower_left", "lower_right", "upper_left", "upper_right")
    ]
    assert np.degrees(found.curves["link_angle"][i]) == pytest.approx(max(np.abs(slopes)), abs=1e-6)
    assert np.degrees(found.curves["lower_angle"][i]) == pytest.approx(max(slopes[:2], key=abs), abs=1e-6)
    assert np.degrees(found.curves["upper_angle"][i]) == pytest.approx(max(slopes[2:], key=abs), abs=1e-6)
    change = BY_KEY["pinion_angle"].of(lifted)[0] - vehicle.axle.pinion_angle_deg
    assert np.degrees(found.curves["pinion_change"][i]) == pytest.approx(change, abs=1e-6)
    assert found.curves["wheelbase_change"][i] == pytest.approx(BY_KEY["wheelbase_change"].of(lifted)[0], abs=1e-6)
    assert found.curves["force"][i] == pytest.approx(BY_KEY["bind"].of(lifted)[0], abs=0.01)


def test_each_limit_is_met_where_it_is_said_to_be_passed(vehicle: Vehicle) -> None:
    found = run_out(vehicle)
    assert found.crossings
    assert [c.lift for c in found.crossings] == sorted(c.lift for c in found.crossings)
    for crossing in found.crossings:
        build = Build.of(vehicle, Setup(lift=crossing.lift))
        if crossing.key == "reach":
            assert travel_limits(build).droop.room == pytest.approx(0.0, abs=1e-6)
            continue
        there = study(build, 0.0)
        value = {
            "link_angle": max(abs(np.radians(BY_KEY[f"{n}_angle"].of(there)[0])) for n in ("lower_left", "upper_left")),
            "pinion_change": abs(there.poses.pitch[0]),
            "wheelbase_change": abs(there.poses.x[0]),
        }[crossing.key]
        assert value == pytest.approx(crossing.limit, rel=1e-3)


def test_trade_fact_links_run_out_near_six_inches() -> None:
    """Common practice, no published source: beyond some 6 in the trailing links are too short for the job.

    On the two vehicles of ordinary proportions. The third has short links, and runs out sooner.
    """
    lifts = {name: run_out(read_vehicle(path)).first for name, path in zip(IDS, DEMOS, strict=True)}
    for name in ("harbour-wagon", "quarry-pickup"):
        first = lifts[name]
        assert first is not None and first.lift == pytest.approx(6.0 * 25.4, abs=0.8 * 25.4)
    short = lifts["hill-cruiser"]
    assert short is not None and short.lift < 5.0 * 25.4


def test_longer_links_run_out_later() -> None:
    """By the geometry alone: every length ahead of the axle half as long again, all else kept."""
    vehicle = read_vehicle(DEMOS[0])
    links = {}
    for name in ("lower_left", "lower_right", "upper_left", "upper_right"):
        link = getattr(vehicle.links, name)
        along = link.frame[0] - link.axle[0]
        rise = link.frame[2] - link.axle[2]
        frame = (link.axle[0] + 1.5 * along, link.frame[1], link.axle[2] + 1.5 * rise)
        links[name] = link.replace(frame=frame)
    longer = run_out(vehicle.replace(links=vehicle.links.replace(**links)))
    usual = run_out(vehicle)
    assert usual.first is not None and longer.first is not None
    assert longer.first.lift > usual.first.lift + 20.0


def test_limits_can_be_edited() -> None:
    vehicle = read_vehicle(DEMOS[0])
    tight = run_out(vehicle, LinkLimits(link_angle_deg=15.0))
    loose = run_out(vehicle, LinkLimits(link_angle_deg=80.0, pinion_change_deg=60.0, wheelbase_change=400.0))
    assert tight.first is not None and tight.first.key == "link_angle" and tight.first.lift < 60.0
    assert [c.key for c in loose.crossings] == ["reach"]
    assert "pulled out straight" in loose.said() and "90 mm" in loose.said()


def test_passed_without_a_lift() -> None:
    found = run_out(read_vehicle(DEMOS[0]), LinkLimits(link_angle_deg=5.0))
    assert found.first is not None and found.first.lift == 0.0
    assert found.said() == "Without any lift the lower links stand steeper than 5°."


def test_within_limits_all_the_way() -> None:
    vehicle = read_vehicle(DEMOS[2])
    wide = LinkLimits(link_angle_deg=80.0, pinion_change_deg=80.0, wheelbase_change=500.0)
    calm = run_out(vehicle.replace(travel=vehicle.travel.replace(rebound=20.0)), wide)
    assert calm.crossings == () and calm.first is None
    assert calm.said("mm") == "The trailing links stay within their limits up to a lift of 250 mm."


def test_said_in_the_readers_units(vehicle: Vehicle) -> None:
    found = run_out(vehicle)
    assert found.said("mm").startswith("From a lift of ") and " mm" in found.said("mm")
    assert '"' in found.said("in") and " mm" not in found.said("in")


def test_mirror_image_runs_out_alike(vehicle: Vehicle) -> None:
    one, other = run_out(vehicle), run_out(mirrored_vehicle(vehicle))
    assert [c.lift for c in one.crossings] == pytest.approx([c.lift for c in other.crossings], abs=1e-3)


def test_any_plausible_vehicle_has_an_answer() -> None:
    random = np.random.default_rng(8)
    for _ in range(20):
        found = run_out(random_vehicle(random))
        assert all(np.isfinite(curve).all() for curve in found.curves.values())
        assert all(0.0 <= c.lift <= HIGHEST and c.said("mm") for c in found.crossings)


def test_limits_must_be_positive(vehicle: Vehicle) -> None:
    with pytest.raises(ValueError, match="above 0"):
        run_out(vehicle, LinkLimits(wheelbase_change=0.0))
    assert LinkLimits() == DEFAULTS
