"""From the HTML of a sheet of a procedure to the bytes of its PDF, the same bytes every time."""

from datetime import date

from register.base.pdf import ORDINARY, PAPERS, Attached, RefusedAddress, render
from wps.sheet_files import OwnFiles

__all__ = ["ORDINARY", "PAPERS", "Attached", "RefusedAddress", "pdf"]

TYPE_SIZES = ("8.7pt", "8.2pt", "7.6pt", "6.9pt")
"""Sizes of the smaller type, tried in turn until a sheet fits on one side. Below the last it cannot be read."""


def pdf(html: str, paper: str, on: date, attached: Attached, one_side: bool, begin: int = 0) -> tuple[bytes, int]:
    """The bytes and the number of sides. `on` is the date in the file, so that it does not depend on the clock.

    Where `one_side` is wished, the largest type with which it comes about is taken, from the one with the index
    `begin` on; where none helps, it has more.
    Raises RefusedAddress.
    """
    sizes = (*(TYPE_SIZES[begin:] if one_side else ()), ORDINARY)
    return render(html, OwnFiles(), PAPERS[paper][1], on, (attached,), sizes)
