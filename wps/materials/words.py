"""Figures of a certificate in words."""

from decimal import Decimal

from codes.values import number


def span_words(lo: Decimal | None, hi: Decimal | None) -> str:
    """A range whose ends may be missing. Example: (None, 40) gives "up to 40"."""
    if lo is None and hi is None:
        return ""
    if lo is None or hi is None:
        return f"from {number(lo)}" if lo is not None else f"up to {number(hi)}"  # type: ignore[arg-type]
    return number(lo) if lo == hi else f"{number(lo)} to {number(hi)}"
