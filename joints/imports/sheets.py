"""Workbooks that are sent in, read by a process of their own: the file comes from outside, its reader too."""

from django.utils.translation import gettext_lazy

from joints.imports.plain import MOST
from joints.imports.table import Refusal
from joints.sandbox import WAITS, Bounds, GaveUp, answer_of

BOUNDS = Bounds(memory=2 * 1024**3, cpu_seconds=60, seconds=120, answer=MOST)
GIVEN_UP = gettext_lazy(
    "The workbook cannot be read: %(why)s. Nothing was saved. Copy the list into a new workbook, or send it as CSV."
)
BROKE_OFF = gettext_lazy("the reader broke off")


def read_in_sandbox(data: bytes, waits: float = WAITS) -> bytes:
    """What the reader says of a workbook, in short form (joints.imports.plain). Raises Refusal."""
    try:
        code, said = answer_of("joints.imports.sheet_reader", data, BOUNDS, waits)
    except GaveUp as why:
        raise Refusal(GIVEN_UP % {"why": why}) from None
    if code:
        raise Refusal(said.decode("utf-8", "replace")[:2000])
    return said
