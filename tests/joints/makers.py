"""Hand-made offers and joints for tests: small, and with round figures."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal as D
from itertools import count
from typing import Any

from codes.clauses import Clause, Mark
from codes.limits import Limit, LimitSet, OneOf, Within, span, when_is
from codes.validity import Ending, Period, Validity
from codes.values import Interval, Steel, SteelPair, Value
from joints.demands import FINAL, TACK, JointDemand, PhaseDemand, Place, Requirements
from joints.models import Assembly, Job, Joint, Workstation
from qualifications.offers import CertificateOffer
from wps.offers import ProcedureOffer, RecordOffer

ON = date(2026, 11, 25)
CODE = "ISO 15614-1:2017"
RECORD_IDS = count(1)
RANGE = Clause("Test code", "range", Mark.OWN)
S355 = SteelPair(Steel("1.2", D(355), "S355J2"), Steel("1.2", D(355), "S355J2"))


def within(lo: object, hi: object) -> Within:
    """A closed range in mm."""
    return span(D(str(lo)), D(str(hi)), "mm")


def limits(label: str, *rows: Limit, t: tuple[object, object] = (3, 30), process: str = "135") -> LimitSet:
    """A limit set on process and parent thickness, and whatever rows are given."""
    own = (
        Limit("process", OneOf((process,)), RANGE, f"tested with {process}"),
        Limit("parent_t", within(*t), RANGE, "tested t"),
    )
    return LimitSet(label, own + rows, CODE)


def record(label: str = "WPQR 1", *sets: LimitSet, **facts: Any) -> RecordOffer:
    """A record with the given limit sets (one from 3 to 30 mm where none is given)."""
    known = {"code": CODE, "level": 2, "route": "procedure_test"} | facts
    return RecordOffer(record_id=next(RECORD_IDS), label=label, sets=sets or (limits(label),), **known)


def procedure(
    label: str = "WPS 014 rev C",
    *records: RecordOffer,
    window: Mapping[str, Value] | None = None,
    serves: tuple[str, ...] = (TACK, FINAL),
    pk: int = 14,
) -> ProcedureOffer:
    """A procedure with a window as values; by default 135, partly mechanised, 3 to 30 mm, PA and PB."""
    values: dict[str, Value] = {
        "process": "135",
        "mechanisation": "partly_mechanised",
        "parent_t": Interval(D(3), D(30), "mm"),
        "position": ("PA", "PB"),
        "gas": "M21",
    } | dict(window or {})
    from wps.window import allowed_of

    clause = Clause(label, "range stated", Mark.OWN)
    own = tuple(Limit(name, allowed_of(name, value), clause) for name, value in values.items())
    return ProcedureOffer(
        revision_id=pk,
        procedure_id=pk,
        label=label,
        title=label,
        code=CODE,
        serves=frozenset(serves),
        window=LimitSet(label, own, CODE),
        values=values,
        process_values={"135": values},
        records=records or (record(),),
    )


def validity(start: date = date(2026, 1, 1), end: date | None = date(2027, 1, 1)) -> Validity:
    """One period."""
    ending = Ending("validity_confirmation", "not confirmed in six months", RANGE)
    period = Period(start, end, "confirmed", ending)
    return Validity((period,), Ending("validity_not_started", "not tested yet", RANGE))


def certificate(
    name: str = "Ada Krol",
    *rows: Limit,
    pk: int = 1,
    kind: str = "welder",
    code: str = "ISO 9606-1:2012",
    valid: Validity | None = None,
) -> CertificateOffer:
    """A certificate on process and position."""
    own = rows or (
        Limit("process", OneOf(("135",)), RANGE),
        Limit("position", OneOf(("PA", "PB")), RANGE, reason="position", tested="PB"),
    )
    return CertificateOffer(
        certificate_id=pk,
        person_id=pk,
        person_name=name,
        label=f"{name}, 135-{pk} ({code})",
        kind=kind,
        sets=(LimitSet(f"135-{pk}", own, code),),
        validity=valid or validity(),
        code=code,
        number=f"135-{pk}",
    )


def demand(**changes: Value | None) -> dict[str, Value]:
    """The demand of a fillet, 12 to 20 mm, PB; None takes a variable away."""
    base: dict[str, Value | None] = {
        "process": "135",
        "mechanisation": "partly_mechanised",
        "weld_type": "fillet",
        "parent_t": (D(12), D(20)),
        "throat_a": D(5),
        "position": "PB",
        "steels": S355,
    }
    return {name: value for name, value in (base | changes).items() if value is not None}


def joint_demand(
    *final: Mapping[str, Value], tack: Mapping[str, Value] | None = None, place: Place | None = None, code: str = CODE
) -> JointDemand:
    """A joint from demands; the tacks like the final weld unless given."""
    each = final or (demand(),)
    return JointDemand(
        label="Joint 1",
        tack=PhaseDemand(TACK, (tack or each[0],), place),
        final=PhaseDemand(FINAL, tuple(each), place),
        requirements=Requirements(code),
    )


def butt_only(variable: str, lo: object, hi: object) -> Limit:
    """A limit that only counts for butt welds."""
    return Limit(variable, within(lo, hi), RANGE, when=(when_is("weld_type", "butt_cjp"),))


def make_job(**changes: Any) -> Job:
    """A job on file."""
    fields = {"number": "24-031", "title": "Hall Nord", "starts_on": date(2026, 11, 1), "ends_on": date(2027, 2, 1)}
    return Job.objects.create(**(fields | changes))


def make_station(**changes: Any) -> Workstation:
    """A manual bay on file."""
    fields = {"name": "Bay 1", "kind": "manual_bay", "processes": ["135"], "mechanisation": "partly_mechanised"}
    return Workstation.objects.create(**(fields | changes))


def make_joint(job: Job | None = None, mark: str = "B1", **changes: Any) -> Joint:
    """A fillet on file that states everything."""
    job = job or Job.objects.first() or make_job()
    assembly, _ = Assembly.objects.get_or_create(job=job, mark=mark)
    station = Workstation.objects.filter(name="Bay 1").first() or make_station()
    fields = {
        "number": "1",
        "weld_type": "fillet",
        "joint_type": "tee",
        "product": "plate",
        "grade_1": "S355J2",
        "grade_2": "S355J2",
        "t1_mm": D(12),
        "t2_mm": D(20),
        "throat_mm": D(5),
        "length_mm": D(310),
        "position": "PB",
        "final_process": "135",
        "final_workstation": station,
        "tack_process": "135",
        "tack_workstation": station,
        "tack_length_mm": D(50),
        "tack_throat_mm": D(3),
    }
    return Joint.objects.create(assembly=assembly, **(fields | changes))
