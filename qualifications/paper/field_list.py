"""A certificate in the order of its code's field list: tested value beside range, each line with its clause."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from codes.editions import Edition, Tested
from codes.limits import Free, Limit, LimitSet, OneOf, Within, allowed_words
from codes.plain import plainly
from codes.readings import DEFAULTS, Settings
from codes.units import System, amount_in, interval_in
from codes.values import Interval
from codes.variables import label_of, unit_of
from qualifications.models import Certificate
from qualifications.offers import limits, tested
from qualifications.periods import edition_of
from qualifications.sheets import said
from register.own_units.words import sentence_in


@dataclass(frozen=True, slots=True)
class Line:
    """One line: the field, what was tested, what it allows, and by which clause."""

    label: str
    tested: str
    allowed: str
    clause: str
    mark: str = ""


@dataclass(frozen=True, slots=True)
class FieldList:
    """The lines of one allowed combination of test pieces."""

    label: str
    lines: tuple[Line, ...]


def field_lists(
    certificate: Certificate, settings: Settings = DEFAULTS, system: System = System.SI
) -> tuple[FieldList, ...]:
    """One list for each combination that the certificate allows; the tested values alone where it allows none."""
    known = edition_of(certificate.code)
    if known is None:
        return ()
    try:
        pieces = tested(certificate)
    except ValueError:
        pieces = ()
    sets = limits(certificate, settings)[0]
    if not sets:
        return (FieldList("", tuple(_tested_only(known, pieces, system))),) if pieces else ()
    return tuple(FieldList(one.label if len(sets) > 1 else "", _lines(known, pieces, one, system)) for one in sets)


def _lines(known: Edition, pieces: Sequence[Tested], one: LimitSet, system: System) -> tuple[Line, ...]:
    """The fields in the order of the code, then what limits beyond them."""
    one = replace(one, limits=plainly(one.limits))
    fields = {field.name for field in known.fields}
    found = [
        line
        for field in known.fields
        for line in _field_lines(field.label or label_of(field.name), field.name, field.clause, pieces, one, system)
    ]
    beyond = dict.fromkeys(limit.variable for limit in one.limits if limit.variable not in fields)
    found += [line for name in beyond for line in _field_lines(label_of(name), name, "", pieces, one, system)]
    return tuple(found)


def _field_lines(
    label: str, name: str, clause: str, pieces: Iterable[Tested], one: LimitSet, system: System
) -> list[Line]:
    value = _tested(name, pieces, system)
    own = sorted((limit for limit in one.limits if limit.variable == name), key=_widest_first)
    if not own:
        return [Line(label, value, "recorded", f"{one.standard}, {clause}" if clause else "")] if value else []
    return [
        Line(
            label if first else "",
            value if first else "",
            _allowed(limit, system, narrower=not first and not own[0].when),
            str(limit.clause),
            limit.clause.mark.value,
        )
        for first, limit in ((at == 0, limit) for at, limit in enumerate(own))
    ]


def _widest_first(limit: Limit) -> tuple[bool, int]:
    """What holds whatever else is stated comes first, of that what names most."""
    return bool(limit.when), -len(limit.allowed.terms) if isinstance(limit.allowed, OneOf) else 0


def _tested_only(known: Edition, pieces: Sequence[Tested], system: System) -> Iterable[Line]:
    for field in known.fields:
        if value := _tested(field.name, pieces, system):
            yield Line(field.label or label_of(field.name), value, "", field.clause)


def _tested(name: str, pieces: Iterable[Tested], system: System) -> str:
    """The values of all pieces, each once."""
    return " / ".join(dict.fromkeys(_value(name, piece[name], system) for piece in pieces if name in piece))


def _value(name: str, value: Any, system: System) -> str:
    unit = unit_of(name)
    figures = [one for one in (value if isinstance(value, tuple) else (value,)) if isinstance(one, Decimal)]
    if system is System.SI or not unit or not figures:
        return said(name, value)
    return ", ".join(amount_in(one, unit, system) for one in figures)


def _allowed(limit: Limit, system: System, narrower: bool = False) -> str:
    """`narrower`: it takes away from what another line of its field allows."""
    allowed, unit = limit.allowed, unit_of(limit.variable)
    if limit.ruled_out:
        return f"not {limit.ruled_out}"
    if isinstance(allowed, Free):
        text = "no limit"
    elif isinstance(allowed, Within) and unit and system is not System.SI and isinstance(allowed.interval, Interval):
        text = str(interval_in(allowed.interval, unit, system))
    else:
        text = allowed_words(limit.variable, allowed)
    when = "; ".join(sentence_in(str(condition), system) for condition in limit.when)
    only = "only " if narrower and isinstance(allowed, OneOf | Within) else ""
    text = f"{only}{text}{f', where {when}' if when else ''}"
    return text + (f"; outside it only with {sentence_in(limit.needs, system)}" if limit.needs else "")
