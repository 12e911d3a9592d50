"""Positions of AWS A3.0 taken apart: which of flat, horizontal, vertical and overhead a weld contains.

A fixed pipe contains several. What a test covers is tabled in each code as sets of these four letters.
"""

from collections.abc import Iterable

F, H, V, OH = "F", "H", "V", "OH"
ALL = frozenset({F, H, V, OH})

# What each position of a weld to be made contains; 6GR is a position of tests.
CONTAINS: dict[str, frozenset[str]] = {
    "F": frozenset({F}),
    "H": frozenset({H}),
    "V": frozenset({V}),
    "OH": frozenset({OH}),
    "1G": frozenset({F}),
    "2G": frozenset({H}),
    "3G": frozenset({V}),
    "4G": frozenset({OH}),
    "5G": frozenset({F, V, OH}),
    "6G": ALL,
    "6GR": ALL,
    "1F": frozenset({F}),
    "2F": frozenset({H}),
    "3F": frozenset({V}),
    "4F": frozenset({OH}),
    "5F": frozenset({H, V, OH}),
}
FILLET_TESTS = ("1F", "2F", "3F", "4F", "5F")
WITH_VERTICAL = tuple(token for token, parts in CONTAINS.items() if V in parts)

# ISO 6947 to AWS where the two agree on what the position is (with the progression). Fillets in PC are none of
# them: with the face between 55 and 100 degrees ISO calls them horizontal, AWS may call them overhead.
_GROOVE_FROM_ISO = {
    "PA": ("1G", ""),
    "PC": ("2G", ""),
    "PE": ("4G", ""),
    "PF": ("3G", "uphill"),
    "PG": ("3G", "downhill"),
    "PH": ("5G", "uphill"),
    "PJ": ("5G", "downhill"),
    "H-L045": ("6G", "uphill"),
    "J-L045": ("6G", "downhill"),
}
_FILLET_FROM_ISO = {
    "PA": ("1F", ""),
    "PB": ("2F", ""),
    "PD": ("4F", ""),
    "PE": ("4F", ""),
    "PF": ("3F", "uphill"),
    "PG": ("3F", "downhill"),
    "PH": ("5F", "uphill"),
    "PJ": ("5F", "downhill"),
}


def within(covered: Iterable[str]) -> tuple[str, ...]:
    """All positions whose every part is covered. Example: F and H give F, H, 1G, 2G, 1F, 2F."""
    have = frozenset(covered)
    return tuple(token for token, parts in CONTAINS.items() if parts <= have)


def parts_of(positions: Iterable[str]) -> frozenset[str]:
    """The letters that some positions contain together."""
    return frozenset(part for position in positions for part in CONTAINS[position])


def letters(parts: Iterable[str]) -> str:
    """The letters in their customary order. Example: a set of V and F gives "F, V"."""
    have = frozenset(parts)
    return ", ".join(letter for letter in (F, H, V, OH) if letter in have)


def from_iso(position: str, fillet: bool) -> tuple[str, str] | None:
    """The AWS position and progression of an ISO 6947 position, None where the two do not agree.

    Example: ("PF", False) gives ("3G", "uphill"); ("PC", True) gives None.
    """
    return (_FILLET_FROM_ISO if fillet else _GROOVE_FROM_ISO).get(position)


_TO_ISO = {aws: iso for iso, aws in _GROOVE_FROM_ISO.items()} | {
    # ISO tells two overhead fillets apart, AWS calls both 4F.
    aws: iso
    for iso, aws in _FILLET_FROM_ISO.items()
    if iso != "PE"
}


def to_iso(position: str, progression: str = "") -> str:
    """The ISO 6947 position of an AWS one, "" where it cannot be told. Example: ("3G", "uphill") gives "PF"."""
    return _TO_ISO.get((position, "")) or _TO_ISO.get((position, progression), "")
