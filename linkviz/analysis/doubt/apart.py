"""The measuring error in a process of its own, so that the window's thread keeps the interpreter to itself.

`work_out` starts it and hands on what it says; ``python -m linkviz.analysis.doubt.apart`` is that process. Where the
program is built into a folder that runs without Python, the program itself is, with `WORD`. Both ends are this program:
what goes through the pipes is pickled.
"""

from __future__ import annotations

import contextlib
import os
import pickle
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import linkviz
from linkviz.analysis.clearance.sure_drop import sure_drop
from linkviz.analysis.doubt.uncertainty import Uncertainty, run
from linkviz.analysis.setup import Setup
from linkviz.vehicle.model import Vehicle

WORD = "--doubt-apart"
"""First word with which the command line of the program becomes this process; for no person to type."""
NICE = 10
"""How far the process stands back behind the window."""
_LOOK_S = 0.05
_ONE_THREAD = {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1", "MKL_NUM_THREADS": "1"}


def work_out(
    vehicle: Vehicle,
    setup: Setup,
    stages: Sequence[int],
    report: Callable[[float], None],
    cancelled: Callable[[], bool],
) -> Iterator[Uncertainty]:
    """Yield the measuring error: one answer for each number of trials, then with the drop that clears for sure.

    Parameters
    ----------
    vehicle, setup
        As in `linkviz.analysis.doubt.uncertainty.run`.
    stages : sequence of int
        Trials of each answer.
    report : callable
        Told the share of all stages that is done, 0 to 1.
    cancelled : callable
        Asked several times a second; the process is then ended.

    Raises
    ------
    RuntimeError
        If the process ends before its answers are complete.
    """
    with _started() as child:
        assert child.stdin is not None and child.stdout is not None
        threading.Thread(target=_watch, args=(child, cancelled), daemon=True).start()
        try:
            pickle.dump((vehicle, setup, tuple(stages)), child.stdin)
            child.stdin.close()
            while (said := pickle.load(child.stdout)) is not None:
                if cancelled():
                    return
                if isinstance(said, float):
                    report(said)
                else:
                    yield said.replace(vehicle=vehicle, setup=setup)
        except (EOFError, OSError, pickle.UnpicklingError) as error:
            if cancelled():
                return
            raise RuntimeError("the process that works out the measuring error ended too soon") from error
        finally:
            child.kill()


def _watch(child: subprocess.Popen[bytes], cancelled: Callable[[], bool]) -> None:
    """End the process as soon as nobody wants its answer, also while it says nothing."""
    while child.poll() is None:
        if cancelled():
            child.kill()
            return
        time.sleep(_LOOK_S)


def _started() -> subprocess.Popen[bytes]:
    here = str(Path(linkviz.__file__).resolve().parent.parent)
    path = os.pathsep.join(filter(None, (here, os.environ.get("PYTHONPATH", ""))))
    return subprocess.Popen(
        [sys.executable, WORD] if getattr(sys, "frozen", False) else [sys.executable, "-m", __name__],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env={**os.environ, **_ONE_THREAD, "PYTHONPATH": path},
        creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
    )


def main() -> None:
    """Do what the other end asks for."""
    if hasattr(os, "nice"):
        with contextlib.suppress(OSError):
            os.nice(NICE)
    out = sys.stdout.buffer

    def say(what: float | Uncertainty | None) -> None:
        pickle.dump(what, out)
        out.flush()

    vehicle, setup, stages = pickle.load(sys.stdin.buffer)
    say(0.0)
    done, last = 0, None
    for trials in stages:

        def tell(share: float, done: int = done, trials: int = trials) -> None:
            say((done + share * trials) / sum(stages))

        last = run(vehicle, setup, trials, progress=tell)
        say(last)
        done += trials
    sure = sure_drop(vehicle, setup.lift) if last is not None and setup.lift > 0 else None
    if last is not None and sure is not None:
        say(last.replace(sure=sure))
    say(None)


if __name__ == "__main__":
    main()
