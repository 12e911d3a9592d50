"""The carbon equivalents of an analysis on file. An element that is not stated is named, never taken as nought."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from codes.calc.carbon import (
    CE,
    CEN,
    CET,
    IN_WORKING,
    PCM,
    Equivalent,
    carbon_equivalent,
    cen,
    cet,
    equivalent_words,
    pcm,
)
from codes.calc.result import Refused, Result


@dataclass(frozen=True, slots=True)
class Worked:
    """One equivalent: its value in % to two places with the third behind it, or what is missing or refused."""

    name: str
    value: Decimal | None
    said: str
    missing: tuple[str, ...]
    minds: tuple[str, ...]
    formula: str
    clause: str
    printed: str = ""


_FUNCTIONS = ((CE, carbon_equivalent), (CET, cet), (PCM, pcm), (CEN, cen))


def missing_elements(kind: Equivalent, analysis: Mapping[str, Decimal]) -> tuple[str, ...]:
    """The elements that the formula needs and the analysis does not state.

    Example: CET of an analysis without Cu misses ("Cu",).
    """
    return tuple(dict.fromkeys(e for e in ("C", *kind.divisors) if e not in analysis))


def equivalents(analysis: Mapping[str, Decimal]) -> tuple[Worked, ...]:
    """CE, CET, Pcm and CEN."""
    return tuple(_worked(kind, function, analysis) for kind, function in _FUNCTIONS)


def _worked(kind: Equivalent, function: object, analysis: Mapping[str, Decimal]) -> Worked:
    clause = str(kind.clause)
    missing = missing_elements(kind, analysis)
    if missing:
        said = f"not known: {', '.join(missing)} not stated"
        return Worked(kind.name, None, said, missing, (), kind.formula, clause)
    try:
        result: Result = function(analysis)  # type: ignore[operator]
    except Refused as refusal:
        return Worked(kind.name, None, f"refused: {refusal.problem}", (), (), kind.formula, clause)
    printed = equivalent_words(result.figure, limits=kind.limits)
    closer = equivalent_words(result.figure, IN_WORKING, kind.limits)
    said = printed if printed == closer else f"{printed} ({closer})"
    return Worked(kind.name, result.figure, said, (), result.flags, kind.formula, clause, printed)
