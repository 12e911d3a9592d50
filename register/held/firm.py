"""The readings and ticks in force, and how they are set."""

from collections.abc import Iterable
from typing import Any

from django.db import transaction
from django.db.models import QuerySet, TextField, Value

from codes.editions import all_editions
from codes.readings import Settings, Switch
from codes.verdict import Verdict
from register.audit import record_act
from register.held.grades import grade_settings
from register.held.models import ClauseCheck, FirmGrade, FirmReading
from register.held.tables import held_clauses
from register.held.witness import AT, moment


def switches() -> dict[str, Switch]:
    """Every switch of every edition, by key."""
    return {switch.key: switch for edition in all_editions() for switch in edition.switches}


def latest_readings() -> dict[str, FirmReading]:
    """The reading in force for each switch that the firm has set. One query."""
    return {reading.switch: reading for reading in FirmReading.objects.all()}


def firm_settings() -> Settings:
    """The firm's readings as the codes take them, and its own steel grades (codes.own_grades). One query.

    A reading that no edition knows any more is left out.
    """
    rows = sorted(_readings().union(_grades(), all=True), key=lambda row: (row[1], row[2]))
    known = switches()
    chosen = {row[3]: row[4] for row in rows if row[0] == READING}
    grades = [
        FirmGrade(withdrawn=row[9], **dict(zip(GRADE, row[3:9], strict=True))) for row in rows if row[0] != READING
    ]
    readings = {key: option for key, option in chosen.items() if key in known and option in known[key].options}
    return readings | grade_settings(grades)


READING = "reading"
GRADE = ("name", "group", "bands", "source", "standard", "note")


def _readings() -> QuerySet[FirmReading, Any]:
    blank = [Value("", output_field=TextField()) for _ in GRADE[2:]]
    rows = FirmReading.objects.order_by().annotate(what=Value(READING, output_field=TextField()))
    return rows.values_list("what", "at", "pk", "switch", "option", *blank, Value(False))


def _grades() -> QuerySet[FirmGrade, Any]:
    rows = FirmGrade.objects.order_by().annotate(what=Value("grade", output_field=TextField()))
    return rows.values_list("what", "at", "pk", *GRADE, "withdrawn")


@transaction.atomic
def set_reading(by: Any, key: str, option: str, why: str) -> FirmReading:
    """From now on read rule `key` in the way of `option`. Raises ValueError naming what is wrong."""
    known = switches().get(key)
    if known is None:
        raise ValueError(f"There is no doubtful rule {key}.")
    if option not in known.options:
        raise ValueError(f"Choose one of: {', '.join(known.options)}.")
    if not why.strip():
        raise ValueError("Say why: the reason is printed beside the reading.")
    before = firm_settings().get(key, known.default)
    reading = FirmReading.objects.create(by_name=by.get_username(), switch=key, option=option, why=why.strip())
    after = {"option": option, AT: moment(reading)}
    record_act(by, "set the reading", reading, before={"option": before}, after=after, note=why.strip())
    return reading


def latest_checks() -> dict[str, ClauseCheck]:
    """The latest check of each clause. One query."""
    return {check.clause: check for check in ClauseCheck.objects.all()}


def ticked() -> frozenset[str]:
    """The clauses that somebody checked against the firm's own copy of the standard. One query."""
    return frozenset(clause for clause, check in latest_checks().items() if check.agrees)


@transaction.atomic
def check_clause(by: Any, clause: str, agrees: bool, note: str = "") -> ClauseCheck:
    """Tick a clause, or take the tick back. Raises ValueError for a clause that the register does not hold."""
    if clause not in {held.key for held in held_clauses()}:
        raise ValueError(f"The register holds no clause “{clause[:80]}”.")
    check = ClauseCheck.objects.create(by_name=by.get_username(), clause=clause, agrees=agrees, note=note.strip()[:250])
    act = "checked the clause" if agrees else "took back the check of"
    record_act(by, act, check, after={AT: moment(check)}, note=check.note)
    return check


def resting_on(verdicts: Iterable[Verdict], done: frozenset[str] | None = None) -> tuple[str, ...]:
    """The clauses that these verdicts rest on, that no public source confirmed and nobody ticked, each once."""
    ticks = ticked() if done is None else done
    cited = (clause for verdict in verdicts for clause in verdict.unconfirmed)
    return tuple(clause for clause in dict.fromkeys(cited) if clause not in ticks)
