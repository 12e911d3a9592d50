"""From the HTML of a sheet of a procedure to the bytes of its PDF, the same bytes every time."""

from collections.abc import Sequence
from datetime import date

from register.base.pdf import ORDINARY, PAPERS, Attached, RefusedAddress, render
from wps.sheet_files import STYLESHEET, OwnFiles

__all__ = ["ORDINARY", "PAPERS", "STYLESHEET", "Attached", "RefusedAddress", "pdf"]

TYPE_SIZES = ("9.8pt", "9.2pt", "8.7pt", "8.2pt", "7.6pt", "6.9pt")
"""Sizes of the smaller type, tried in turn until a sheet fits on one side. Below the last it cannot be read."""


def pdf(html: str, paper: str, on: date, attached: Attached, sizes: Sequence[str] = (ORDINARY,)) -> tuple[bytes, int]:
    """The bytes and the number of sides. `on` is the date in the file, so that it does not depend on the clock.

    Of the sizes of type the first is taken with which all is on one side; where none helps, it has more.
    Raises RefusedAddress.
    """
    return render(html, OwnFiles(), PAPERS[paper][1], on, (attached,), sizes)
