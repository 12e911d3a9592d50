"""One cell of a log file to a value of its field."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from difflib import get_close_matches

from django.utils import timezone
from django.utils.translation import gettext

from codes.parse import BadField, parse_number
from register.lists.cells import THOUSANDS_DOT, BadCell, figure, short_text, term, written
from register.lists.table import Cell

TEXTS: Mapping[str, int] = {"workstation": 80, "wps": 80, "joint": 120, "note": 500}
TERMS: Mapping[str, str] = {
    "process": "process",
    "mechanisation": "mechanisation",
    "weld_type": "weld_type",
    "position": "position",
}
FIGURES = ("current_a", "voltage_v", "travel_mm_min")
GERMAN = ("%d.%m.%Y %H:%M:%S", "%d.%m.%Y %H:%M", "%d.%m.%Y")
LARGEST = Decimal(99_999)
EARLIEST = date(1980, 1, 1)


@dataclass(frozen=True, slots=True)
class Known:
    """The people who may be named: key, name, stamp, last day of work, and whether they may be logged by the sender."""

    pk: int
    name: str
    stamp: str
    left_on: date | None = None
    may_log: bool = True


def value(field: str, cell: Cell, comma_decimal: bool) -> str:
    """The value of a cell as text, of every field but the moment and the person. Raises BadCell."""
    if field in TERMS:
        return term(TERMS[field], cell)
    if field in TEXTS:
        return short_text(cell, TEXTS[field])
    return measured(cell, comma_decimal)


def measured(cell: Cell, comma_decimal: bool) -> str:
    """A figure of the controller, rounded to 0.01: it is evidence, and no limit is held against it. Raises BadCell.

    Example: "26,5 V" gives "26.5"; "26.4213" gives "26.42"; "0" is refused.
    """
    said = re.sub(r"\s*(A|V|mm/min)$", "", cell) if isinstance(cell, str) else cell
    if isinstance(said, str) and comma_decimal and THOUSANDS_DOT.fullmatch(said):
        raise BadCell(
            gettext("“%(said)s” can be read two ways; write the decimals with a comma, or no dot") % {"said": said}
        )
    try:
        found = parse_number("figure", said.replace(",", ".") if comma_decimal and isinstance(said, str) else said)
    except BadField as bad:
        raise BadCell(bad.problem) from None
    if not 0 < found <= LARGEST:
        raise BadCell(
            gettext("“%(said)s” is no figure of a weld; leave the cell empty where it was not measured")
            % {"said": said}
        )
    return figure(found.quantize(Decimal("0.01")))


def moment(cell: Cell, now: datetime) -> tuple[date, datetime | None]:
    """The day in the shop's own zone, and the moment where the time is stated. Raises BadCell.

    Example: "2026-11-24 14:03:22" and "24.11.2026 14:03" are read; "11/12/2026" can be read two ways and is refused.
    """
    said = " ".join(written(cell).split())
    found = _read(said)
    if found is None:
        raise BadCell(
            gettext("“%(said)s” cannot be read as a moment; write it as 2026-11-24 14:03:22") % {"said": said[:30]}
        )
    if not re.search(r"\d:\d", said):
        day, at = found.date(), None
    else:
        at = found if timezone.is_aware(found) else timezone.make_aware(found)
        day = timezone.localtime(at).date()
    if day < EARLIEST:
        raise BadCell(
            gettext("%(day)s lies too far back; the controller's clock may be wrong") % {"day": day.isoformat()}
        )
    if day > timezone.localtime(now).date() or (at is not None and at > now):
        raise BadCell(
            gettext("%(said)s is later than now; the log holds what has been welded, or the clock is wrong")
            % {"said": said}
        )
    return day, at


def _read(said: str) -> datetime | None:
    try:
        return datetime.fromisoformat(said) if re.match(r"\d{4}-\d\d-\d\d", said) else _german(said)
    except ValueError:
        return None


def _german(said: str) -> datetime | None:
    for form in GERMAN:
        try:
            return datetime.strptime(said, form)  # noqa: DTZ007 - the shop's zone is given to it by the caller
        except ValueError:
            continue
    return None


def person(cell: Cell, people: Sequence[Known]) -> Known:
    """Somebody on file by stamp or by name. Raises BadCell naming the nearest."""
    said = written(cell).strip()
    wanted = said.casefold()
    found = [p for p in people if p.stamp.casefold() == wanted] or [p for p in people if p.name.casefold() == wanted]
    if len(found) > 1:
        raise BadCell(
            gettext("there are %(found)s people named %(said)s; write the stamp: %(found2)s")
            % {"found": len(found), "said": said, "found2": ", ".join(p.stamp for p in found)}
        )
    if not found:
        words = {p.stamp.casefold(): p for p in people} | {p.name.casefold(): p for p in people}
        near = [f"{words[n].name} ({words[n].stamp})" for n in get_close_matches(wanted, words, n=3, cutoff=0.6)]
        hint = f"nearest: {', '.join(dict.fromkeys(near))}" if near else "write a stamp or a name as on file"
        raise BadCell(gettext("“%(said)s” is nobody on file; %(hint)s") % {"said": said[:40], "hint": hint})
    if not found[0].may_log:
        raise BadCell(
            gettext("%(name)s does not report to you; a coordinator can take this file in") % {"name": found[0].name}
        )
    return found[0]
