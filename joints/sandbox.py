"""Files from outside, read by a process of their own: bounded in memory, time and files, with nothing of ours around.

Whatever a file does to its reader, it does to that process alone; and only so many of them run at once on a machine,
however many people send something in.
"""

import fcntl
import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.conf import settings
from django.utils.translation import get_language, gettext, gettext_lazy

from joints.imports.table import Refusal

TOP = Path(__file__).resolve().parent.parent
LOOK_EVERY = 0.1
WAITS, WAITS_LONG = 20.0, 600.0
"""Seconds that somebody waits for his turn: on a page, and in the background."""
BUSY = gettext_lazy(
    "Other files are being read at the moment, as many as this machine reads at once. Nothing was saved. "
    "Send it again in a minute."
)


@dataclass(frozen=True, slots=True)
class Bounds:
    """What a reader may use: memory and answer in bytes, processor time and time in seconds."""

    memory: int
    cpu_seconds: int
    seconds: float
    answer: int


class GaveUp(Exception):
    """The reader gave no answer within its bounds; the text says why, to stand inside a sentence."""


def answer_of(module: str, data: bytes, bounds: Bounds, waits: float = WAITS) -> tuple[int, bytes]:
    """Exit code and output of a module of ours on a file: 0, or 3 where it refuses.

    Raises GaveUp where it took too much, and Refusal where it was not its turn for so long.
    """
    with _turn(waits), tempfile.TemporaryDirectory(prefix="reading-") as folder:
        # A name of our own: that of the sender goes nowhere near a path.
        path, answer = Path(folder) / "sent", Path(folder) / "answer"
        path.write_bytes(data)
        with answer.open("wb") as out:
            code = _run(module, path, out, bounds)
        if code not in (0, 3):
            raise GaveUp(gettext("the reader gave up on it (too large for its memory or time, or damaged)"))
        if answer.stat().st_size > bounds.answer:
            raise GaveUp(gettext("it says more of its welds than fits"))
        return code, answer.read_bytes()


def _run(module: str, path: Path, out: Any, bounds: Bounds) -> int:
    most = {"memory": bounds.memory, "cpu_seconds": bounds.cpu_seconds, "answer": bounds.answer + 1}
    command = [sys.executable, "-m", "joints.bounded", json.dumps(most), get_language() or "en", module, str(path)]
    # One thread: what numpy would set aside for more counts against the bound.
    around = {"PATH": os.defpath, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        done = subprocess.run(
            command, cwd=TOP, env=around, stdin=subprocess.DEVNULL, stdout=out, stderr=subprocess.DEVNULL,
            timeout=bounds.seconds, start_new_session=True, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        raise GaveUp(gettext("it took longer than %(seconds)s seconds") % {"seconds": f"{bounds.seconds:g}"}) from None
    return done.returncode


@contextmanager
def _turn(waits: float) -> Iterator[None]:
    """One of the places in which files are read; let go of by the system if this process is killed."""
    ends = time.monotonic() + waits
    while (place := _free_place()) is None:
        if time.monotonic() >= ends:
            raise Refusal(str(BUSY))
        time.sleep(LOOK_EVERY)
    try:
        yield
    finally:
        os.close(place)


def _free_place() -> int | None:
    """A place that nobody holds, held from now on until it is closed; None where all are taken."""
    for number in range(settings.FILES_READ_AT_ONCE):
        place = os.open(Path(settings.VAR_DIR) / f"reading-{number}.lock", os.O_RDWR | os.O_CREAT, 0o600)
        try:
            fcntl.flock(place, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            os.close(place)
        else:
            return place
    return None
