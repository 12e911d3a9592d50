"""The list of joints with 100,000 joints on file: pages, sorts, filters and a search, as the browser asks for them."""

from collections.abc import Iterator
from decimal import Decimal
from random import Random
from typing import Any

from bench.database import p50, p95, scratch_database, times_ms

NAME = "The list of joints, 100,000 on file (ms a page)"
JOINTS, PER_ASSEMBLY, PER_JOB = 100_000, 20, 250
LIMIT = 150.0
REPEATS = 40

PAGES = {
    "first page": "",
    "page 400": "?page=400",
    "sorted by number": "?sort=number",
    "sorted by thickness": "?sort=parts",
    "sorted by throat, downwards": "?sort=-throat",
    "sorted by date": "?sort=weld_date",
    "sorted by process, page 50": "?sort=process&page=50",
    "one job": "?job=3",
    "butt welds over 20 mm": "?weld_type=butt_cjp&thinnest=20",
    "one position, sorted by number": "?position=PF&sort=number",
    "search for an assembly": "?q=B17-4",
    "search for a number": "?q=19",
    "search for what is not there": "?q=zzz",
}


def main() -> list[dict[str, Any]]:
    with scratch_database():
        return list(rows())


def rows() -> Iterator[dict[str, Any]]:
    from django.core.management import call_command
    from django.test import Client

    from register.demo import make_sign_ins

    call_command("collectstatic", interactive=False, verbosity=0)  # hashed names, as the shop serves them
    fill()
    client = Client(HTTP_HOST="localhost")
    client.force_login(make_sign_ins()["marta"])
    for name, query in PAGES.items():
        taken = times_ms(lambda query=query: _asked(client, f"/joints/{query}"), repeats=REPEATS)
        yield {"page": name, "p50": p50(taken), "p95": p95(taken), "limit_p95": LIMIT}


def _asked(client: Any, url: str) -> None:
    response = client.get(url)
    if response.status_code != 200:
        raise RuntimeError(f"{url} answered {response.status_code}")


def fill() -> None:
    """Invented joints in assemblies of jobs."""
    from joints.models import Assembly, Job, Joint
    from joints.order import natural_key

    random = Random(7)
    jobs = Job.objects.bulk_create(
        Job(number=f"J{n:03}", title=f"Hall {n}") for n in range(JOINTS // PER_ASSEMBLY // PER_JOB)
    )
    marks = [(job, f"B{number}-{n}") for number, job in enumerate(jobs) for n in range(PER_JOB)]
    made = Assembly.objects.bulk_create(
        [Assembly(job=job, mark=mark, order_key=natural_key(mark)) for job, mark in marks], batch_size=500
    )
    Joint.objects.bulk_create(
        (_joint(assembly.pk, number, random) for assembly in made for number in range(1, PER_ASSEMBLY + 1)),
        batch_size=500,
    )


def _joint(assembly: int, number: int, random: Random) -> Any:
    from joints.models import Joint
    from joints.order import natural_key

    fillet = random.random() < 0.8
    return Joint(
        assembly_id=assembly,
        number=str(number),
        order_key=natural_key(str(number)),
        weld_type="fillet" if fillet else "butt_cjp",
        grade_1=random.choice(("S355J2+N", "S235JR", "S460M")),
        t1_mm=Decimal(random.choice((6, 8, 10, 12, 15, 20, 25, 30))),
        t2_mm=Decimal(random.choice((6, 8, 10, 12, 15, 20, 25, 30))),
        throat_mm=Decimal(random.choice((3, 4, 5, 6, 8))) if fillet else None,
        position=random.choice(("PA", "PB", "PF")),
        final_process=random.choice(("135", "136", "111")),
        weld_date=f"2026-{random.randint(1, 12):02}-{random.randint(1, 28):02}",
    )
