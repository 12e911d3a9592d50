"""Shielding gas mixtures by nominal composition, as written on a procedure."""

import re
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from codes.values import Atom, number

Mixture = tuple[tuple[str, Decimal], ...]
"""Component -> per cent, in the order of the names."""

_PART = re.compile(r"(\d+(?:[.,]\d+)?)?\s*%?\s*(AR|CO2|O2|HE|N2|H2)", re.IGNORECASE)
_BETWEEN = re.compile(r"[\s/+,;-]*")
NO_GAS: Mixture = ()


def mixture(text: str) -> Mixture | None:
    """The components of a mixture, None where it cannot be read or does not add up to 100 %. "none" is no gas.

    Example: mixture("90Ar/10CO2") is (("AR", 90), ("CO2", 10)); mixture("Ar") is (("AR", 100),).
    """
    plain = text.strip()
    if plain.casefold() in ("none", "no gas"):
        return NO_GAS
    parts: dict[str, Decimal | None] = {}
    at = 0
    while at < len(plain):
        match = _PART.match(plain, at)
        if match is None or match[2].upper() in parts:
            return None
        parts[match[2].upper()] = _percent(match[1])
        between = _BETWEEN.match(plain, match.end())
        at = between.end() if between else match.end()
    return _whole(parts)


def _percent(text: str | None) -> Decimal | None:
    try:
        return Decimal(text.replace(",", ".")) if text else None
    except InvalidOperation:
        return None


def _whole(parts: dict[str, Decimal | None]) -> Mixture | None:
    """One component may leave out its share: it is the rest."""
    stated = [share for share in parts.values() if share is not None]
    open_ones = [name for name, share in parts.items() if share is None]
    rest = Decimal(100) - sum(stated, Decimal(0))
    if not parts or len(open_ones) > 1 or (open_ones and rest <= 0) or (not open_ones and rest != 0):
        return None
    return tuple(sorted((name, rest if share is None else share) for name, share in parts.items()))


def mixture_words(found: Mixture) -> str:
    """The mixture as written on a procedure. Example: "90Ar/10CO2"."""
    named = sorted(found, key=lambda part: -part[1])
    return "/".join(f"{number(share)}{'Ar' if name == 'AR' else name}" for name, share in named) or "no gas"


@dataclass(frozen=True, slots=True)
class SameMixture:
    """The nominal mixture that was tested, and no other."""

    tested: Mixture

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, str) and mixture(atom) == self.tested

    def unstated(self, atom: Atom) -> str:
        unread = isinstance(atom, str) and mixture(atom) is None
        return f'"{atom}" is not a mixture that can be read; write for example 90Ar/10CO2' if unread else ""

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return mixture_words(self.tested)
