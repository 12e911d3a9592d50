"""Coverage against the demo register: one joint explained, and 10,000 joints at once."""

import time
from collections.abc import Iterator
from typing import Any

from bench.database import p50, p95, scratch_database

NAME = "Coverage: one joint explained (ms), 10,000 joints at once (s), against the demo register"
JOINTS = 10_000
EXPLAINED = 200
THICKNESSES = (5, 6, 8, 10, 12, 13, 15, 16, 18, 20, 22, 25, 28, 30, 35, 40)


def main() -> list[dict[str, Any]]:
    with scratch_database():
        from django.core.management import call_command

        call_command("load_demo", verbosity=0)
        return list(rows())


def rows() -> Iterator[dict[str, Any]]:
    from django.utils import timezone

    from joints.day import Day
    from joints.models import Joint

    on = timezone.localdate()
    start = time.perf_counter()
    day = Day(on)
    yield _row("all offers read and worked out", time.perf_counter() - start, "s", len(day.procedures))
    start = time.perf_counter()
    Day(on)
    yield _row("the same once more", time.perf_counter() - start, "s", len(day.certificates))
    yield from explained(day)
    fill(JOINTS)
    every = Joint.objects.order_by("assembly_id", "order_key", "pk")
    fresh = Day(on)
    start = time.perf_counter()
    answers = fresh.answers(every)
    taken = time.perf_counter() - start
    yield _row(f"{JOINTS:,} joints, nothing known before", taken, "s", len(answers), limit=2.0)
    yield _row("of these asked anew (distinct phases)", 0.0, "s", fresh.engine.asked)
    start = time.perf_counter()
    fresh.answers(every)
    yield _row(f"{JOINTS:,} joints once more", time.perf_counter() - start, "s", JOINTS)


def explained(day: Any) -> Iterator[dict[str, Any]]:
    """Demo joints one by one, every finding in words of the nearest procedure and certificate included."""
    from joints.models import Joint

    joints = list(Joint.objects.select_related("assembly__job", "final_workstation", "tack_workstation")[:EXPLAINED])
    taken: list[float] = []
    for round_ in range(2):
        for joint in joints:
            start = time.perf_counter()
            found = day.explain(joint, joint.assembly.job)
            for phase in found.phases:
                _ = [answer.verdict for answer in (*phase.procedures[:1], *phase.people[:1])]
                _ = phase.nearest_certificate and phase.nearest_certificate.verdict
            if round_:
                taken.append((time.perf_counter() - start) * 1000)
    yield _row("one joint explained, median", p50(taken), "ms", len(taken))
    yield _row("one joint explained, 95 in 100 below", p95(taken), "ms", len(taken), limit=20.0)


def fill(number: int) -> None:
    """Joints after the pattern of the demo's own, every fifth one with other thicknesses."""
    from joints.models import Joint

    pattern = list(Joint.objects.all())
    made = []
    for index in range(number - len(pattern)):
        joint = Joint(
            **{f.attname: getattr(pattern[index % len(pattern)], f.attname) for f in Joint._meta.concrete_fields}
        )
        joint.pk, joint.number, joint.order_key = None, f"X{index}", f"x{index:08}"
        if index % 5 == 0 and joint.t1_mm:
            joint.t1_mm = THICKNESSES[index % len(THICKNESSES)]
            joint.t2_mm = THICKNESSES[index // 7 % len(THICKNESSES)]
        made.append(joint)
    Joint.objects.bulk_create(made, batch_size=500)


def _row(what: str, value: float, unit: str, count: int, limit: float | None = None) -> dict[str, Any]:
    return {"what": what, "count": count, "taken": float(value), "unit": unit, "limit_taken": limit}
