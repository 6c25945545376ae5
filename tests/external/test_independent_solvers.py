"""The full solve and `linkviz sweep` against two general-purpose libraries that know nothing of it.

scipy.optimize.least_squares on hand-written residuals, marched from design in small steps; and a MuJoCo model: spatial
tendons with stiffness and spring length between sites, slide and hinge joints for x, y, z, yaw, pitch, roll in
that order, the pose found where the passive forces on x, y, pitch and yaw vanish. Layouts are invented, one of them the
bench geometry, the others asymmetric, with lift and drop, crossed up by up to 5 deg.
"""

from __future__ import annotations

import json
from pathlib import Path

import mujoco
import numpy as np
import pytest
from scipy.optimize import least_squares, root

from linkviz.commands import main
from linkviz.linkage.layout import LINKS, Layout
from linkviz.linkage.solve import solve
from tests.layouts import bench_layout, random_layout

MM, RAD = 1e-3, 1e-5
"""Agreement asked for."""


def turn(roll: float, pitch: float, yaw: float) -> np.ndarray:
    """Return Rz Ry Rx, each written out."""
    rx = np.array([[1, 0, 0], [0, np.cos(roll), -np.sin(roll)], [0, np.sin(roll), np.cos(roll)]])
    ry = np.array([[np.cos(pitch), 0, np.sin(pitch)], [0, 1, 0], [-np.sin(pitch), 0, np.cos(pitch)]])
    rz = np.array([[np.cos(yaw), -np.sin(yaw), 0], [np.sin(yaw), np.cos(yaw), 0], [0, 0, 1]])
    return rz @ ry @ rx


def by_scipy(layout: Layout, heave: float, roll: float) -> np.ndarray:
    """Return (x, y, pitch, yaw), marched from the free pose of the layout to the state in small steps."""
    q = np.zeros(4)
    for share in np.linspace(0.0, 1.0, 13):

        def residuals(v: np.ndarray, share: float = float(share)) -> np.ndarray:
            ends = layout.axle @ turn(roll * share, v[2], v[3]).T + layout.centre + [v[0], v[1], heave * share]
            length = np.linalg.norm(ends - layout.frame, axis=1)
            return np.sqrt(layout.stiffness) * (length - layout.length)

        q = least_squares(residuals, q, x_scale=(1.0, 1.0, 1e-3, 1e-3), xtol=1e-14, ftol=1e-14, gtol=1e-14).x
    return q


def mujoco_model(layout: Layout) -> mujoco.MjModel:
    """Return the five links as spatial tendons between a fixed body and an axle on slides and hinges."""
    centre = " ".join(str(v) for v in layout.centre)
    frame = "".join(f'<site name="f{i}" pos="{" ".join(str(v) for v in p)}"/>' for i, p in enumerate(layout.frame))
    axle = "".join(f'<site name="a{i}" pos="{" ".join(str(v) for v in p)}"/>' for i, p in enumerate(layout.axle))
    tendons = "".join(
        f'<spatial stiffness="{k}" springlength="{length}"><site site="f{i}"/><site site="a{i}"/></spatial>'
        for i, (k, length) in enumerate(zip(layout.stiffness, layout.length, strict=True))
    )
    joints = "".join(
        f'<joint name="{n}" type="{kind}" axis="{axis}"/>'
        for n, kind, axis in (
            ("x", "slide", "1 0 0"),
            ("y", "slide", "0 1 0"),
            ("z", "slide", "0 0 1"),
            ("yaw", "hinge", "0 0 1"),
            ("pitch", "hinge", "0 1 0"),
            ("roll", "hinge", "1 0 0"),
        )
    )
    return mujoco.MjModel.from_xml_string(
        f'<mujoco><compiler angle="radian"/><option gravity="0 0 0"/><worldbody>{frame}'
        f'<body pos="{centre}">{joints}<geom size="1" mass="1"/>{axle}</body></worldbody>'
        f"<tendon>{tendons}</tendon></mujoco>"
    )


def by_mujoco(layout: Layout, heave: float, roll: float) -> np.ndarray:
    """Return (x, y, pitch, yaw) where MuJoCo's passive forces vanish."""
    model = mujoco_model(layout)
    data = mujoco.MjData(model)
    free = [0, 1, 4, 3]
    q = np.zeros(4)
    for share in np.linspace(0.0, 1.0, 13):

        def forces(v: np.ndarray, share: float = float(share)) -> np.ndarray:
            data.qpos[:] = (v[0], v[1], heave * share, v[3] / 300.0, v[2] / 300.0, roll * share)
            mujoco.mj_forward(model, data)
            return data.qfrc_passive[free] / (1.0, 1.0, 300.0, 300.0)

        q = root(forces, q, tol=1e-13).x
    return q / (1.0, 1.0, 300.0, 300.0)


STATES = [(-75.0, 0.0), (75.0, 0.0), (0.0, 5.0), (-75.0, 5.0), (125.0, 5.0), (-120.0, -5.0)]


def close(pose: np.ndarray, other: np.ndarray, slack: float = 1.0) -> None:
    assert pose[:2] == pytest.approx(other[:2], abs=MM * slack)
    assert pose[2:] == pytest.approx(other[2:], abs=RAD * slack)


@pytest.mark.parametrize(("heave", "roll_deg"), STATES)
def test_bench_geometry(heave: float, roll_deg: float) -> None:
    layout, roll = bench_layout(), float(np.radians(roll_deg))
    poses = solve(layout, heave, roll)
    ours = np.array([poses.x[0], poses.y[0], poses.pitch[0], poses.yaw[0]])
    close(ours, by_scipy(layout, heave, roll), slack=0.1)
    close(ours, by_mujoco(layout, heave, roll), slack=0.01)


@pytest.mark.parametrize("seed", range(8))
def test_asymmetric_layouts_lifted_and_dropped(seed: int) -> None:
    random = np.random.default_rng(seed)
    layout = random_layout(random).with_bar(drop=random.uniform(0, 110), shift=random.uniform(-15, 15))
    for heave, roll_deg in ((-100.0, 0.0), (-150.0, 5.0), (-60.0, -5.0)):
        roll = float(np.radians(roll_deg))
        poses = solve(layout, heave, roll)
        if not poses.reached[0]:
            assert poses.stopped_by[0]
            continue
        ours = np.array([poses.x[0], poses.y[0], poses.pitch[0], poses.yaw[0]])
        close(ours, by_scipy(layout, heave, roll), slack=0.1)
        close(ours, by_mujoco(layout, heave, roll), slack=0.01)


def write_vehicle(path: Path, layout: Layout) -> None:
    """Write a layout as a minimal vehicle file, by hand."""
    lines = ['format = "linkviz-vehicle/1"', 'name = "invented"', 'units = "mm"', "[axle]"]
    lines += [f"centre = {layout.centre.tolist()}", "track = 1500.0", "tyre_radius = 380.0", "tyre_width = 260.0"]
    for i, name in enumerate(LINKS):
        end = (layout.axle[i] + layout.centre).tolist()
        lines += [f"[links.{name}]", f"frame = {layout.frame[i].tolist()}", f"axle = {end}"]
        lines += [f"stiffness = {layout.stiffness[i]}"]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


@pytest.mark.parametrize("seed", [101, 102, 103])
def test_sweep_rows(seed: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    layout = random_layout(np.random.default_rng(seed))
    path = tmp_path / "invented.vehicle.toml"
    write_vehicle(path, layout)
    arguments = ["sweep", str(path), "--travel=-60:60:60", "--roll=0,5", "--lift=4in", "--drop=90", "--format=json"]
    assert main(arguments) == 0
    rows = json.loads(capsys.readouterr().out)
    assert len(rows) == 6
    dropped = layout.with_bar(drop=90.0)
    for row in rows:
        heave, roll = row["travel_mm"] - 101.6, float(np.radians(row["roll_deg"]))
        assert row["heave_mm"] == pytest.approx(heave)
        assert row["reached"] is True
        ours = np.array([row["x_mm"], row["y_mm"], np.radians(row["pitch_deg"]), np.radians(row["yaw_deg"])])
        other = by_scipy(dropped, heave, roll)
        close(ours, other)
        step = 1e-4
        slope = (by_scipy(dropped, heave, roll + step)[1] - by_scipy(dropped, heave, roll - step)[1]) / (2 * step)
        assert row["roll_centre_mm"] == pytest.approx(380.0 + slope, abs=0.1)
        end = dropped.centre + [other[0], other[1], heave] + turn(roll, other[2], other[3]) @ dropped.axle[4]
        rise = dropped.frame[4] - end
        assert row["bar_angle_deg"] == pytest.approx(np.degrees(np.arctan2(rise[2], abs(rise[1]))), abs=1e-3)
        assert row["pinion_angle_deg"] == pytest.approx(-np.degrees(other[2]), abs=1e-3)
        assert row["gap_mm"] is None
