"""Case tables of people under AWS D1.1 and ASME IX: rows of `key=value` laid over a base in which everything fits.

Lengths may be written in inches ("6-5/8in"). A life is read word by word: `tested 2024-05-02 136 North; use
2025-01-10 136 partly_mechanised North; renewal 2025-03-01 full_test=yes`.
"""

import re
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from fractions import Fraction

from codes.check import best
from codes.editions import Edition
from codes.readings import DEFAULTS, Settings
from codes.validity import Event, ValidityInput
from codes.values import Value
from codes.verdict import Outcome
from tests.codes.cases_of import over

_INCHES = re.compile(r"(?<![\w.])(\d+-)?(\d+/\d+|[\d.]+)in\b")


def in_mm(text: str) -> str:
    """Every length in inches as mm. Example: "parent_t=1-1/2in" gives "parent_t=38.1"."""
    return _INCHES.sub(lambda m: _mm(m.group(1), m.group(2)), text)


def _mm(whole: str | None, part: str) -> str:
    inches = Fraction(whole.rstrip("-") if whole else 0) + Fraction(part)
    size = inches * Fraction("25.4")
    return str(Decimal(size.numerator) / Decimal(size.denominator))


def values(base: Mapping[str, object], text: str) -> dict[str, Value]:
    """The base with the row's own keys; text alone where it starts with a dot ("." lays nothing under)."""
    return over({}, in_mm(text[1:])) if text.startswith(".") else over(base, in_mm(text))


def life_of(text: str) -> ValidityInput:
    """A certificate's life."""
    first, *rest = [part.split() for part in text.split(";") if part.strip()]
    assert first[0] == "tested", text
    facts = dict(zip(("process", "employer"), first[2:], strict=False))
    return ValidityInput(date.fromisoformat(first[1]), events=tuple(map(_event, rest)), facts=facts)


def _event(words: list[str]) -> Event:
    kind, on, *more = words
    plain = [word for word in more if "=" not in word]
    details = dict(zip(("process", "mechanisation", "employer"), plain, strict=False))
    return Event(kind, date.fromisoformat(on), details=details | dict(w.split("=") for w in more if "=" in w))


def outcome_of(
    row: Mapping[str, str],
    code: Edition,
    bases: tuple[Mapping[str, object], Mapping[str, object]],
    settings: Settings = DEFAULTS,
) -> tuple[str, str]:
    """Answer and reasons of one row, as the table writes them."""
    pieces = [values(bases[0], part) for part in row["tested"].split("&&")]
    verdict = best(values(bases[1], row["demand"]), code.limit_sets(pieces, settings))
    outcome, reasons = verdict.outcome, set(verdict.reasons)
    if row["life"]:
        assert code.periods is not None
        state = code.periods(life_of(row["life"]), settings).state(date.fromisoformat(row["on"]))
        if not state.valid:
            outcome = Outcome.NOT_STATED if state.missing else Outcome.OUTSIDE
            reasons.add(state.reason)
    return outcome.value, "+".join(sorted(reasons))
