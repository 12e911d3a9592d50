"""Coverage: one joint explained and 10,000 at once against the demo register, a million against a large one, and the
packed masks against a join.
"""

import random
import resource
import time
from collections.abc import Iterator
from typing import Any

from bench import masks_against_join
from bench.database import p50, p95, scratch_database
from codes.verdict import Outcome

NAME = "Coverage: one joint explained (ms), many at once (s), and the packed masks against a join"
JOINTS = 10_000
EXPLAINED = 200
MILLION, DIFFERENT = 1_000_000, 10_000
THICKNESSES = (5, 6, 8, 10, 12, 13, 15, 16, 18, 20, 22, 25, 28, 30, 35, 40)


def main() -> list[dict[str, Any]]:
    with scratch_database():
        from django.core.management import call_command

        call_command("load_demo", verbosity=0)
        return [*rows(), *big(), *masks_against_join.rows()]


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
    start, used = time.perf_counter(), time.process_time()
    answers = fresh.answers(every)
    taken, used = time.perf_counter() - start, time.process_time() - used
    yield _row(f"{JOINTS:,} joints, nothing known before", taken, "s", len(answers), limit=2.0)
    yield _row("the same, time of the processor", used, "s", len(answers))
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


def big() -> Iterator[dict[str, Any]]:
    """A million joints against a thousand procedures and five thousand certificates, in this process."""
    from django.utils import timezone

    from bench import big_register
    from joints.bulk import Engine
    from joints.day import answered
    from joints.models import Job, Workstation
    from register.memory import without_looking_for_garbage

    on, chance = timezone.localdate(), random.Random(15614)
    procedures = big_register.procedures(1000, on, chance)
    certificates = big_register.certificates(5000, on, chance)
    every = list(big_register.many(big_register.joint_rows(DIFFERENT, chance), MILLION, chance))
    jobs, stations = Job.objects.in_bulk(), Workstation.objects.in_bulk()
    start, used = time.perf_counter(), time.process_time()
    with without_looking_for_garbage():  # as Day.answers does
        engine = Engine(procedures, certificates, on)
        answers = answered(dict.fromkeys(jobs, engine), every, jobs, stations)
        covered = sum(one.result.outcome is Outcome.COVERED for one in answers)
    taken, used = time.perf_counter() - start, time.process_time() - used
    yield _row(f"{MILLION:,} joints x 1,000 procedures x 5,000 certificates", taken, "s", MILLION, limit=10.0)
    yield _row("the same, time of the processor", used, "s", MILLION)
    yield _row("of these covered", 100 * covered / MILLION, "%", covered)
    yield _row("of these different joints", 0.0, "s", DIFFERENT)
    yield _row("of these asked anew (distinct phases)", 0.0, "s", engine.asked)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    yield _row("most memory held by the process", peak, "MB", 1, limit=2000.0)


_row = masks_against_join.row
