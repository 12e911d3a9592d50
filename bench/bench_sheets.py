"""A sheet laid out anew for every reader, against one that was issued and is served from its stored bytes.

"laid out anew" is the plain way: data, template, fresh renderer. "Served" is the whole request by an auditor: session,
guard, two queries, bytes. `share` is the part of the plain way's median; the promise is at most a half.
"""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from typing import Any

from bench.database import p50, p95, scratch_database, times_ms

NAME = "Sheet for the cell, three runs, A4 (ms)"
ON = date(2026, 3, 2)
LAYOUTS, SERVED = 15, 200


def main() -> list[dict[str, Any]]:
    with scratch_database():
        return list(rows())


def rows() -> Iterator[dict[str, Any]]:
    from django.test import Client

    from register.demo import make_sign_ins
    from wps import issued
    from wps.sheets import Choice, sheet

    people = make_sign_ins()
    revision = approved_revision(*list(people.values())[:2])
    reader = Client(HTTP_HOST="localhost")
    reader.force_login(next(iter(people.values())))
    url = f"/procedures/revisions/{revision.pk}/sheet/"
    issued.issue(revision, Choice(), next(iter(people.values())), "https://register.example/{code}/")
    etag = reader.get(url).headers["ETag"]
    ways = (
        ("laid out anew", LAYOUTS, lambda: sheet(revision, Choice(), ON, "https://register.example/{code}/")),
        ("served, whole request", SERVED, lambda: reader.get(url)),
        ("served, browser has it (304)", SERVED, lambda: reader.get(url, headers={"If-None-Match": etag})),
    )
    plain = 0.0
    for name, repeats, act in ways:
        taken = times_ms(act, repeats=repeats)
        plain = plain or p50(taken)
        limit = None if name == "laid out anew" else 0.5
        yield {"what": name, "p50": p50(taken), "p95": p95(taken), "share": p50(taken) / plain, "limit_share": limit}


def approved_revision(author: Any, approver: Any) -> Any:
    """A butt weld of three runs, approved. Invented."""
    from wps.models import Procedure, ProcedureRevision, ProcedureRun, Status

    window = {
        "process": ["135"], "mechanisation": ["partly_mechanised"], "weld_type": ["butt_cjp"], "joint_type": ["butt"],
        "product": ["plate"], "steels": [{"group": "1.2", "yield_mpa": "355", "grade": "S355J2+N"}],
        "parent_t": {"min": "6", "max": "24"}, "position": ["PA", "PC", "PF"], "weld_detail": ["ss_nb"],
        "run_type": ["multi_run"], "filler_designation": "ISO 14341-A G 42 4 M21 3Si1", "gas": ["M21"],
        "current_type": ["DC+"], "preheat": "20", "interpass": "250", "pwht": ["no"],
    }  # fmt: skip
    preparation = {"kind": "single_v", "angle_deg": "60", "gap_mm": "2", "root_face_mm": "1", "method": "ground clean"}
    procedure = Procedure.objects.create(number="WPS 014", title="Butt welds of flange plates")
    revision = ProcedureRevision.objects.create(
        procedure=procedure, letter="A", code="ISO 15614-1:2017", window=window, preparation=preparation,
        author=author, author_name="Marta Kowalczyk", status=Status.CHECKED, checked_name="Jonas Feld", checked_on=ON,
    )  # fmt: skip
    for order, layer in enumerate(("root", "fill 2-3", "cap 4-5"), start=1):
        ProcedureRun.objects.create(
            revision=revision, order=order, layer=layer, process="135", filler_designation="G 42 4 M21 3Si1",
            diameter_mm=Decimal("1.2"), current_type="DC+", current_min_a=Decimal(200), current_max_a=Decimal(240),
            voltage_min_v=Decimal(24), voltage_max_v=Decimal(27), speed_min_mm_min=Decimal(250),
            speed_max_mm_min=Decimal(350), gas_flow_min_l_min=Decimal(14), gas_flow_max_l_min=Decimal(18),
        )  # fmt: skip
    revision.status, revision.approved_by, revision.approved_on = Status.APPROVED, approver, ON
    revision.approved_name = "Ines Duarte"
    revision.save()
    return revision
