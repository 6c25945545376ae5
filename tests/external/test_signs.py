"""Signs as the standards define them.

ISO 8855, Road vehicles, vehicle dynamics and road-holding ability, vocabulary: X forward, Y to the left, Z up,
right-handed, positive turns by the right-hand rule (roll: left side up; pitch: front down; yaw: to the left). SAE J670,
Vehicle dynamics terminology: jounce brings wheel and body together, rebound parts them. The definitions are from
memory, and each sign is worked out here from where points of the axle go.
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from linkviz.commands import main
from linkviz.conventions import FORWARD, LEFT, UP
from linkviz.linkage.layout import Layout
from linkviz.linkage.pose import Poses
from linkviz.linkage.solve import solve
from linkviz.resources import demo_vehicle_paths
from tests.layouts import STIFFNESS, bench_layout

ONE, NONE = np.ones(1), np.zeros(1)


def test_axes_are_right_handed() -> None:
    assert np.cross(FORWARD, LEFT) == pytest.approx(UP)


@pytest.mark.parametrize(
    ("name", "point", "moves"),
    [
        ("roll", (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),  # left wheel up
        ("pitch", (1.0, 0.0, 0.0), (0.0, 0.0, -1.0)),  # pinion nose, ahead of the axle, down
        ("yaw", (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),  # nose to the left
    ],
)
def test_positive_turns(name: str, point: tuple[float, ...], moves: tuple[float, ...]) -> None:
    parts = dict.fromkeys(("heave", "roll", "x", "y", "pitch", "yaw"), NONE)
    parts[name] = ONE * 1e-6
    pose = Poses(**parts, stretch=np.zeros((1, 5)), reached=np.ones(1, dtype=bool), stopped_by=("",))
    went = pose.place(np.zeros(3), np.array([point]))[0, 0] - np.array(point)
    assert went / 1e-6 == pytest.approx(moves, abs=1e-5)


def test_jounce_brings_axle_and_body_together(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Travel + is jounce: the axle goes up in the body frame; lifted rest is heave = -lift."""
    assert main(["sweep", str(demo_vehicle_paths()[0]), "--travel=-10:10:10", "--lift=100", "--format=json"]) == 0
    rows = json.loads(capsys.readouterr().out)
    assert [row["heave_mm"] for row in rows] == [-110.0, -100.0, -90.0]


def test_lift_pulls_the_axle_towards_the_frame_end() -> None:
    """A bar whose frame end is high on the right steepens as the body rises and pulls the axle to the right (-y)."""
    layout = bench_layout()
    assert layout.frame[4, 1] < 0 < layout.axle[4, 1]
    assert layout.frame[4, 2] > layout.axle[4, 2] + layout.centre[2]
    assert solve(layout, -100.0, 0.0).y[0] < 0
    mirrored = Layout.from_points(
        layout.centre, layout.frame * [1, -1, 1], (layout.axle + layout.centre) * [1, -1, 1], STIFFNESS
    )
    assert solve(mirrored, -100.0, 0.0).y[0] > 0


def test_trailing_links_pull_the_axle_forward_as_the_body_rises() -> None:
    """Lower links that fall to the rear swing their axle end forward as they steepen: the wheelbase gets shorter."""
    assert solve(bench_layout(), -100.0, 0.0).x[0] > 0
