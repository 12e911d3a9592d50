"""Models, read by a process of their own: they come from outside, and the library is large and written in C++."""

import json
from dataclasses import replace
from importlib.util import find_spec
from typing import Any

from django.utils.translation import gettext, gettext_lazy

from joints.imports.table import Refusal
from joints.sandbox import WAITS, Bounds, GaveUp, answer_of

BOUNDS = Bounds(memory=4 * 1024**3, cpu_seconds=90, seconds=120, answer=64 * 1024 * 1024)
"""What is read out of a model is a fraction of the answer that fits."""
MISSING = gettext_lazy(
    "Models are read by the optional package ifcopenshell, which is not installed here. "
    "Whoever looks after the register installs it: pip install -r requirements-ifc.txt."
)
GIVEN_UP = gettext_lazy(
    "The model cannot be read: %(why)s. Nothing was saved. Export it again, or send the welds as a list."
)


def is_installed() -> bool:
    """True where models can be read."""
    return find_spec("ifcopenshell") is not None


def read_in_sandbox(data: bytes, seconds: float = BOUNDS.seconds, waits: float = WAITS) -> dict[str, Any]:
    """What the reader says of a model. Raises Refusal where it says none, took too long, or died of it."""
    if not is_installed():
        raise Refusal(str(MISSING))
    try:
        _, said = answer_of("joints.model_files.reader", data, replace(BOUNDS, seconds=seconds), waits)
        found = json.loads(said)
    except GaveUp as why:
        raise Refusal(GIVEN_UP % {"why": why}) from None
    except ValueError:
        raise Refusal(GIVEN_UP % {"why": gettext("the reader broke off")}) from None
    if "refused" in found:
        raise Refusal(GIVEN_UP % {"why": found["refused"]})
    return dict(found)
