from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from linkviz.book import lock
from linkviz.book.lock import STALE_S, Held, Lock, alive, holder_of, lock_path, take
from tests.hang import no_hang

HOLD = """
import sys, time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from linkviz.book.lock import take
take(Path(sys.argv[1]))
print("held", flush=True)
time.sleep(60)
"""


@pytest.fixture
def job(tmp_path: Path) -> Path:
    file = tmp_path / "a.job.toml"
    file.write_text("")
    return file


def taken(job: Path) -> Lock:
    found = take(job)
    assert found is not None
    return found


def put(job: Path, age: float = 0.0, **changes: object) -> None:
    """Leave the lock of another program, touched some seconds ago."""
    data = {"user": "ann", "host": "bench-pc", "pid": 1, "since": time.time(), "token": "x"} | changes
    file = lock_path(job)
    file.write_text(json.dumps(data))
    then = time.time() - age
    os.utime(file, (then, then))


def test_the_second_is_told_who_has_it(job: Path) -> None:
    first = taken(job)
    with pytest.raises(Held) as caught:
        take(job)
    assert caught.value.holder == first.holder
    assert socket.gethostname() in str(caught.value)
    first.release()
    second = taken(job)
    assert second.mine
    assert not first.mine
    first.release()
    assert second.mine
    second.release()
    assert sorted(p.name for p in job.parent.iterdir()) == ["a.job.toml"]


@pytest.mark.parametrize("stale", [False, True])
def test_of_many_at_once_one_gets_it(job: Path, stale: bool) -> None:
    if stale:
        put(job, age=STALE_S + 60)
    got, start = [], threading.Barrier(8)

    def run() -> None:
        start.wait()
        try:
            got.append(take(job))
        except Held:
            got.append(None)

    threads = [threading.Thread(target=run) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    winners = [one for one in got if one is not None]
    assert len(got) == 8
    assert len(winners) == 1
    assert winners[0].mine


def test_a_stale_lock_is_taken_over_by_one_again_and_again(job: Path) -> None:
    for _ in range(150):
        put(job, age=STALE_S + 60)
        start = threading.Barrier(8)

        def run(start: threading.Barrier = start) -> Lock | None:
            start.wait()
            try:
                return take(job)
            except Held:
                return None

        with ThreadPoolExecutor(8) as pool:
            winners = [lock for lock in [made.result() for made in [pool.submit(run) for _ in range(8)]] if lock]
        assert len(winners) == 1 and winners[0].mine
        assert [path.name for path in job.parent.iterdir() if path.name.startswith(".")] == [lock_path(job).name]
        winners[0].release()


def test_a_program_that_was_killed_leaves_no_lock(job: Path) -> None:
    process = subprocess.Popen([sys.executable, "-c", HOLD, str(job)], stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    assert process.stdout.readline() == "held\n"
    with pytest.raises(Held):
        take(job)
    process.kill()
    process.wait()
    process.stdout.close()
    assert lock_path(job).exists()
    taken(job).release()


def test_another_machine_keeps_its_lock_while_it_touches_it(job: Path) -> None:
    put(job, age=STALE_S - 60)
    with pytest.raises(Held, match="ann on bench-pc"):
        take(job)
    put(job, age=STALE_S + 60)
    found = taken(job)
    assert holder_of(job) == found.holder


def test_an_own_lock_of_an_earlier_life_is_stale(job: Path) -> None:
    """After a power cut a process may have the number of the one that held the lock."""
    put(job, host=socket.gethostname(), pid=os.getpid())
    assert taken(job).mine


def test_touching_keeps_it_fresh_and_a_lost_one_is_not_touched(job: Path) -> None:
    mine = taken(job)
    file = lock_path(job)
    os.utime(file, (1.0, 1.0))
    mine.touch()
    assert file.stat().st_mtime > 1.0
    put(job, age=500.0)
    then = file.stat().st_mtime
    mine.touch()
    assert file.stat().st_mtime == then
    mine.release()
    assert file.exists()


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"pid": "x"}'])
def test_a_lock_that_cannot_be_read_is_kept_until_it_is_old(job: Path, text: str) -> None:
    file = lock_path(job)
    file.write_text(text)
    with pytest.raises(Held, match="somebody"):
        take(job)
    os.utime(file, (1.0, 1.0))
    assert taken(job).mine


def test_a_drive_without_links_still_locks(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(*_: object) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(os, "link", none)
    first = taken(job)
    with pytest.raises(Held):
        take(job)
    first.release()


def test_a_disk_that_fills_up_leaves_no_half_lock_on_a_drive_without_links(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def none(*_: object) -> None:
        raise OSError(95, "Operation not supported")

    real = os.fdopen

    class Full:
        def __init__(self, handle: int, mode: str) -> None:
            self.stream = real(handle, mode)

        def __enter__(self) -> Full:
            return self

        def __exit__(self, *_: object) -> None:
            self.stream.close()

        def write(self, _: bytes) -> None:
            if os.fstat(self.stream.fileno()).st_ino == there():
                raise OSError(28, "No space left on device")

    def there() -> int:
        file = lock_path(job)
        return file.stat().st_ino if file.exists() else 0

    with monkeypatch.context() as patched:
        patched.setattr(os, "link", none)
        patched.setattr(os, "fdopen", Full)
        assert take(job) is None
    assert list(job.parent.glob(".*")) == []
    taken(job).release()


def test_a_lock_can_be_read_by_whoever_can_read_the_job(job: Path) -> None:
    before = os.umask(0o022)
    try:
        held = taken(job)
    finally:
        os.umask(before)
    assert lock_path(job).stat().st_mode & 0o777 == 0o644
    held.release()


def test_a_folder_that_takes_nothing_has_no_lock(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def denied(*_: object) -> bool:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(lock, "_make", denied)
    assert take(job) is None
    # where nothing can be written, the one who has it is seen all the same
    put(job)
    with pytest.raises(Held, match="ann on bench-pc"):
        take(job)
    put(job, age=STALE_S + 60)
    assert take(job) is None


def test_no_process_has_a_number_below_one() -> None:
    """0 and below would ask the system about groups of processes, which always run."""
    assert alive(os.getpid()) and not alive(0) and not alive(-1)


def test_a_strange_lock_file_stops_nobody_for_good(job: Path) -> None:
    """A pipe, a folder, a link that leads nowhere: somebody has it until it is old, and nothing waits."""
    file = lock_path(job)
    for make in (os.mkfifo, os.mkdir, lambda path: os.symlink("nowhere", path)):
        make(file)
        with no_hang(), pytest.raises(Held, match="somebody"):
            take(job)
        os.utime(file, (1.0, 1.0), follow_symlinks=False)
        taken(job).release()
        assert not os.path.lexists(file)


@pytest.mark.parametrize("changes", [
    {"since": 1e308}, {"since": float("inf")}, {"since": float("nan")}, {"since": -1e18},
    {"user": "\x1b[31m\u202e" * 1000, "host": "a\nb"}, {"pid": 10**30, "host": socket.gethostname()},
    {"pid": -(10**30), "host": socket.gethostname()}, {"user": None, "host": [1]},
])  # fmt: skip
def test_a_strange_holder_is_told_in_words(job: Path, changes: dict[str, object]) -> None:
    put(job, **changes)
    try:
        taken(job).release()
    except Held as held:
        words = str(held).replace(str(job), "")
        assert words.isprintable()
        assert len(words) < 400


@pytest.mark.parametrize("text", ["[" * 100_000, "9" * 5000, '{"a":' * 100_000, "\udc80"])
def test_an_endless_lock_file_is_no_lock_of_anybody(job: Path, text: str) -> None:
    lock_path(job).write_bytes(text.encode("utf-8", "surrogateescape"))
    with no_hang(), pytest.raises(Held, match="somebody"):
        take(job)


def test_a_job_with_the_longest_name_is_locked_too(tmp_path: Path) -> None:
    job = tmp_path / f"{'n' * 244}.job.toml"
    first = taken(job)
    with pytest.raises(Held):
        take(job)
    first.release()
    assert lock_path(job) != lock_path(tmp_path / f"{'n' * 243}.job.toml")


def test_a_clock_set_back_keeps_the_lock_with_its_holder(job: Path) -> None:
    put(job, age=-3 * 86400.0)  # touched before the clock was set back by three days
    with pytest.raises(Held):
        take(job)
    mine = take(job.with_name("b.job.toml"))
    assert mine is not None
    os.utime(mine.path, (time.time() + 1e6, time.time() + 1e6))
    mine.touch()
    assert abs(mine.path.stat().st_mtime - time.time()) < 60.0
