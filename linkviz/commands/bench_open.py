"""Opening a job against reading and parsing the same file as TOML: for `linkviz bench --only=open`."""

from __future__ import annotations

import statistics
import tempfile
import time
import tomllib
from pathlib import Path
from typing import Any

from linkviz.analysis.setup import Setup
from linkviz.resources import demo_vehicle_paths
from linkviz.session.document import Document
from linkviz.session.files import load, save
from linkviz.vehicle.read import read_vehicle


def bench_open(runs: int = 30) -> dict[str, Any]:
    """Time opening a job file: read, checked, a document made of it; in turn with only parsing it."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "bench.job.toml"
        document = Document(read_vehicle(demo_vehicle_paths()[0]), Setup(lift=100.0, drop=95.0)).with_job(number="1")
        save(document, str(path))
        pairs = []
        for _ in range(runs):
            start = time.perf_counter()
            tomllib.loads(path.read_text(encoding="utf-8"))
            middle = time.perf_counter()
            load(str(path))
            pairs.append((middle - start, time.perf_counter() - middle))
        size = path.stat().st_size
    parsed, opened = (statistics.median(times) * 1e3 for times in zip(*pairs, strict=True))
    return {
        "bytes": size,
        "parsed_ms": parsed,
        "opened_ms": opened,
        "ratio": statistics.median(b / a for a, b in pairs),
    }
