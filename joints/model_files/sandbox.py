"""The reader in a process of its own: bounded in memory, time and files, with nothing of ours in its surroundings.

A model comes from outside, and the library that reads it is large and written in C++: whatever a file does to it, it
does to that process alone.
"""

import json
import os
import resource
import subprocess
import sys
import tempfile
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from joints.imports.table import Refusal

TOP = Path(__file__).resolve().parents[2]
SECONDS = 120
CPU_SECONDS = 90
MEMORY = 4 * 1024**3
ANSWER = 64 * 1024 * 1024
"""Bytes; what is read out of a model is a fraction of it."""
MISSING = (
    "Models are read by the optional package ifcopenshell, which is not installed here. "
    "Whoever looks after the register installs it: pip install -r requirements-ifc.txt."
)
GIVEN_UP = "The model cannot be read: {0}. Nothing was saved. Export it again, or send the welds as a list."


def is_installed() -> bool:
    """True where models can be read."""
    return find_spec("ifcopenshell") is not None


def read_in_sandbox(data: bytes, seconds: int = SECONDS) -> dict[str, Any]:
    """What the reader says of a model. Raises Refusal where it says none, took too long, or died of it."""
    if not is_installed():
        raise Refusal(MISSING)
    with tempfile.TemporaryDirectory(prefix="model-") as folder:
        # A name of our own: that of the sender goes nowhere near a path.
        path, answer = Path(folder) / "model.ifc", Path(folder) / "answer.json"
        path.write_bytes(data)
        with answer.open("wb") as out:
            code = _run(path, out, seconds)
        said = answer.read_bytes()[: ANSWER + 1]
    if len(said) > ANSWER:
        raise Refusal(GIVEN_UP.format("it says more of its welds than fits"))
    return _answer(code, said)


def _run(path: Path, out: Any, seconds: int) -> int:
    command = [sys.executable, "-m", "joints.model_files.reader", str(path)]
    # One thread: what numpy would set aside for more counts against the bound.
    around = {"PATH": os.defpath, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        done = subprocess.run(
            command, cwd=TOP, env=around, stdin=subprocess.DEVNULL, stdout=out, stderr=subprocess.DEVNULL,
            timeout=seconds, preexec_fn=_bounds, start_new_session=True, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        raise Refusal(GIVEN_UP.format(f"it took longer than {seconds} seconds")) from None
    return done.returncode


def _bounds() -> None:
    """In the child, before the program starts."""
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (CPU_SECONDS, CPU_SECONDS))
    resource.setrlimit(resource.RLIMIT_FSIZE, (ANSWER + 1, ANSWER + 1))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def _answer(code: int, said: bytes) -> dict[str, Any]:
    if code not in (0, 3):
        raise Refusal(GIVEN_UP.format("the reader gave up on it (too large for its memory or time, or damaged)"))
    try:
        found = json.loads(said)
    except ValueError:
        raise Refusal(GIVEN_UP.format("the reader broke off")) from None
    if "refused" in found:
        raise Refusal(GIVEN_UP.format(found["refused"]))
    return dict(found)
