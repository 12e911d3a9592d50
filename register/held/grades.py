"""The firm's own steel grades: those in force, how one is stated and withdrawn, and what uses them.

A grade is never changed: it is stated anew, or withdrawn, and every statement stays. Joints, records and procedures
that name it are asked with the grades in force at the moment of asking; a record or procedure keeps group and yield
as they were filled in.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.http import HttpRequest, HttpResponse

from codes.own_grades import bands_of, checked, held_already, own_grades, setting_of
from codes.steels import Grade, UnknownGrade, grade_of, steel_of
from codes.values import Steel
from register.audit import record_act
from register.held.models import FirmGrade
from register.held.witness import AT, moment

Answer = Callable[[HttpRequest], HttpResponse]
count_uses: list[Callable[[str], str]] = []
"""Functions of the apps: name of a grade -> what names it, in words ("3 joints"), or ""."""

_read: ContextVar[list[tuple[Grade, ...]] | None] = ContextVar("own_grades", default=None)


def latest_grades() -> dict[str, FirmGrade]:
    """The latest statement of each grade, by its name without case and blanks, withdrawn ones too. One query."""
    return {statement.key: statement for statement in FirmGrade.objects.all()}


def grade_settings(statements: Iterator[FirmGrade] | list[FirmGrade]) -> dict[str, str]:
    """The grades in force among statements in the order of time, as entries of the settings."""
    latest = {statement.key: statement for statement in statements}
    return dict(setting_of(one.grade, one.bands) for one in latest.values() if not one.withdrawn)


def firm_grades() -> tuple[Grade, ...]:
    """The grades in force. One query; within a request or `read_once` the first time only."""
    known = _read.get()
    if known:
        return known[0]
    found = own_grades(grade_settings(list(FirmGrade.objects.all())))
    if known is not None:
        known.append(found)
    return found


def known_steel(grade: str, thickness: Decimal | None = None, by_band: bool = False, *, tested: bool = False) -> Steel:
    """As `codes.steels.steel_of`, of the grades held and those of the firm. Raises UnknownGrade, ValueError.

    A firm's grade never has the name of one that the register holds, so the database is asked for unknown names only.
    """
    try:
        return steel_of(grade, thickness, by_band, tested=tested)
    except UnknownGrade:
        return steel_of(grade, thickness, by_band, tested=tested, additions=firm_grades())


def known_grade(grade: str) -> Grade:
    """As `codes.steels.grade_of`, of the grades held and those of the firm. Raises UnknownGrade."""
    try:
        return grade_of(grade)
    except UnknownGrade:
        return grade_of(grade, firm_grades())


@contextmanager
def read_once() -> Iterator[None]:
    """Read the grades once, for work on many joints or many certificates."""
    if _read.get() is not None:
        yield
        return
    token = _read.set([])
    try:
        yield
    finally:
        _read.reset(token)


class ReadOnce:
    """Middleware: no request asks for the firm's grades twice, and none keeps them for the next."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        with read_once():
            return self.get_response(request)


@transaction.atomic
def state_grade(by: Any, why: str, lines: str, **stated: str) -> FirmGrade:
    """From now on the firm holds a grade (name, standard, group, source, note); `lines`: its bands, one a line.

    A grade of the same name is replaced by it. Raises ValueError naming what is wrong.
    """
    if not why.strip():
        raise ValueError("Say why the firm needs the grade: the reason is kept with it.")
    bands = bands_of(lines)
    grade = checked(bands=bands, **stated)
    if (held := held_already(grade.name)) is not None:
        raise ValueError(
            f"The register holds {held.name} itself (group {held.group or 'not known'}, {held.standard}). "
            "Give your own grade a name of its own, for example with the number of the data sheet."
        )
    before = latest_grades().get(FirmGrade.key_of(grade.name))
    made = FirmGrade.objects.create(
        by_name=by.get_username(), name=grade.name, standard=grade.standard, group=grade.group, bands=bands,
        source=grade.source, note=grade.note, why=why.strip(),
    )  # fmt: skip
    _forget()
    old = before.facts if before is not None and not before.withdrawn else {}
    record_act(by, "stated the steel grade", made, before=old, after=made.facts | {AT: moment(made)}, note=made.why)
    return made


@transaction.atomic
def withdraw_grade(by: Any, name: str, why: str) -> FirmGrade:
    """The firm holds the grade no longer. Raises ValueError where it does not hold it, or without a reason."""
    before = latest_grades().get(FirmGrade.key_of(name))
    if before is None or before.withdrawn:
        raise ValueError(f"“{name[:40]}” is no grade of the firm in force.")
    if not why.strip():
        raise ValueError("Say why it is withdrawn.")
    kept = {field: getattr(before, field) for field in ("name", "standard", "group", "bands", "source", "note")}
    made = FirmGrade.objects.create(by_name=by.get_username(), why=why.strip(), withdrawn=True, **kept)
    _forget()
    record_act(by, "withdrew the steel grade", made, before=before.facts, after={AT: moment(made)}, note=made.why)
    return made


def uses_of(name: str) -> tuple[str, ...]:
    """What names a grade now, in words."""
    return tuple(words for count in count_uses if (words := count(name)))


def _forget() -> None:
    known = _read.get()
    if known:
        known.clear()
