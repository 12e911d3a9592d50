"""Which family of standards a code belongs to; two families are never mixed in one answer."""

from functools import lru_cache

from codes.editions import UnknownEdition, edition

US = frozenset({"AWS", "ASME"})
"""Families that speak of AWS positions, legs and contractors."""


@lru_cache(maxsize=256)
def key_of(code: str) -> str:
    """The edition's own key for a code as written; an unknown one stands for itself."""
    try:
        return edition(code).key
    except UnknownEdition:
        return code.strip()


@lru_cache(maxsize=256)
def system_of(code: str) -> str:
    """The family of standards. Example: "EN ISO 9606-1:2017" and "ISO 15614-1:2017" are both "ISO"."""
    first = key_of(code).split(" ")[0].upper() if code else ""
    return "ISO" if first in ("EN", "ISO") else first


def is_us(code: str) -> bool:
    """True for a code of AWS or ASME. Example: "AWS D1.1/D1.1M:2020"."""
    return system_of(code) in US
