"""The firm's readings, its checks of clauses and its steel grades against the trail: each was stated by an act.

A reading changes verdicts, a check takes the doubt off them, a grade gives a steel its group and yield: none may be
put in, changed, dated back or taken away past the register.
"""

from collections.abc import Callable, Iterator
from datetime import UTC, timedelta
from typing import Any

from register.base.days import at_the_works
from register.held.models import AppendOnly, ClauseCheck, FirmGrade, FirmReading
from register.models import AuditEntry

AT = "at"
"""Under this name an act notes from when on a statement counts; acts of earlier versions did not."""
AT_ONCE = timedelta(minutes=1)
"""An act and its statement are written together: for acts that do not note the moment."""
Problem = Callable[[Any, AuditEntry], bool]


def moment(statement: AppendOnly) -> str:
    """From when on a statement counts, as the trail notes it."""
    return statement.at.astimezone(UTC).isoformat(timespec="microseconds")


def unlike() -> Iterator[str]:
    """In a sentence each: statements that no act made so, and acts whose statement is not on file."""
    yield from _unlike(FirmReading, ("set the reading",), _reading)
    yield from _unlike(ClauseCheck, ("checked the clause", "took back the check of"), _check)
    yield from _unlike(FirmGrade, ("stated the steel grade", "withdrew the steel grade"), _grade)


def _unlike(model: type[AppendOnly], names: tuple[str, ...], differs: Problem) -> Iterator[str]:
    what = model._meta.verbose_name
    acts = AuditEntry.objects.filter(subject_type=model._meta.label_lower, act__in=names).order_by("number")
    noted: dict[str, AuditEntry] = {}
    for act in acts.iterator():
        if noted.setdefault(act.subject_id, act) is not act:
            yield f"The {what} “{act.subject}” was stated already, and entry {act.number} does so again."
    for row in model._default_manager.order_by("pk").iterator():
        found = noted.pop(str(row.pk), None)
        if found is None:
            yield f"The {what} “{row}” of {at_the_works(row.at)} is on file, and no act in the trail stated it."
        elif found.subject != str(row)[:250] or found.user_name != row.by_name or differs(row, found):
            yield f"The {what} “{row}” is not what {found.user_name} stated in entry {found.number}: {found.subject}."
        elif not _then(row, found):
            yield f"The {what} “{row}” counts from {at_the_works(row.at)}; entry {found.number} says otherwise."
    yield from (f"The {what} “{act.subject}” was stated in entry {act.number}, and is gone." for act in noted.values())


def _then(row: AppendOnly, act: AuditEntry) -> bool:
    said = (act.after or {}).get(AT)
    return said == moment(row) if said is not None else abs(act.at - row.at) <= AT_ONCE


def _reading(row: FirmReading, act: AuditEntry) -> bool:
    return (row.option, row.why) != ((act.after or {}).get("option"), act.note)


def _check(row: ClauseCheck, act: AuditEntry) -> bool:
    return (row.agrees, row.note) != (act.act == "checked the clause", act.note)


def _grade(row: FirmGrade, act: AuditEntry) -> bool:
    # A withdrawal says what was in force until then, a statement what is from now on.
    said: dict[str, Any] = dict((act.before if row.withdrawn else act.after) or {})
    own = {name: value for name, value in row.facts.items() if name in said}
    told = {name: value for name, value in said.items() if name != AT}
    return own != told or row.why != act.note or row.withdrawn != act.act.startswith("withdrew")
