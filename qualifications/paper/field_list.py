"""A certificate in the order of its code's field list: tested value beside range, each line with its clause."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from codes.editions import Edition, Tested
from codes.limits import Free, Limit, LimitSet, allowed_words
from codes.readings import DEFAULTS, Settings
from codes.variables import label_of
from qualifications.models import Certificate
from qualifications.offers import limits, tested
from qualifications.periods import edition_of
from qualifications.sheets import said


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


def field_lists(certificate: Certificate, settings: Settings = DEFAULTS) -> tuple[FieldList, ...]:
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
        return (FieldList("", tuple(_tested_only(known, pieces))),) if pieces else ()
    return tuple(FieldList(one.label if len(sets) > 1 else "", _lines(known, pieces, one)) for one in sets)


def _lines(known: Edition, pieces: Sequence[Tested], one: LimitSet) -> tuple[Line, ...]:
    """The fields in the order of the code, then what limits beyond them."""
    fields = {field.name for field in known.fields}
    found = [
        line
        for field in known.fields
        for line in _field_lines(field.label or label_of(field.name), field.name, field.clause, pieces, one)
    ]
    beyond = dict.fromkeys(limit.variable for limit in one.limits if limit.variable not in fields)
    found += [line for name in beyond for line in _field_lines(label_of(name), name, "", pieces, one)]
    return tuple(found)


def _field_lines(label: str, name: str, clause: str, pieces: Iterable[Tested], one: LimitSet) -> list[Line]:
    value = _tested(name, pieces)
    own = [limit for limit in one.limits if limit.variable == name]
    if not own:
        return [Line(label, value, "recorded", f"{one.standard}, {clause}" if clause else "")] if value else []
    return [
        Line(
            label if first else "", value if first else "", _allowed(limit), str(limit.clause), limit.clause.mark.value
        )
        for first, limit in ((at == 0, limit) for at, limit in enumerate(own))
    ]


def _tested_only(known: Edition, pieces: Sequence[Tested]) -> Iterable[Line]:
    for field in known.fields:
        if value := _tested(field.name, pieces):
            yield Line(field.label or label_of(field.name), value, "", field.clause)


def _tested(name: str, pieces: Iterable[Tested]) -> str:
    """The values of all pieces, each once."""
    return " / ".join(dict.fromkeys(said(name, piece[name]) for piece in pieces if name in piece))


def _allowed(limit: Limit) -> str:
    text = "no limit" if isinstance(limit.allowed, Free) else allowed_words(limit.variable, limit.allowed)
    when = "; ".join(str(condition) for condition in limit.when)
    text += f", where {when}" if when else ""
    return text + (f"; outside it only with {limit.needs}" if limit.needs else "")
