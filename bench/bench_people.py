"""People: the states of 5,000 certificates with 20 events each on any date, and the page of what falls due."""

import random
import time
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from bench.database import p50, p95, scratch_database, times_ms

NAME = "People: 5,000 certificates with 20 events each (ms)"
CERTIFICATES, EVENTS = 5000, 20
PEOPLE = 1500
TODAY = date(2026, 11, 25)
PLAIN_FILES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}


def main() -> list[dict[str, Any]]:
    with scratch_database():
        fill()
        return list(rows())


def fill() -> None:
    """An invented shop of that size: most certificates confirmed in time, some lapsed, some prolonged."""
    from qualifications.models import Certificate, CertificateEvent, Person

    chance = random.Random(9606)
    people = [Person(name=f"Person {n:04}", identification=f"S{n:04}", site=f"Hall {n % 7}") for n in range(PEOPLE)]
    Person.objects.bulk_create(people, batch_size=500)
    people = list(Person.objects.order_by("pk"))
    certificates = [_certificate(n, people[n % PEOPLE], chance) for n in range(CERTIFICATES)]
    Certificate.objects.bulk_create(certificates, batch_size=200)
    events = [e for one in Certificate.objects.order_by("pk") for e in _events(one, chance)]
    CertificateEvent.objects.bulk_create(events, batch_size=500)


def _certificate(n: int, holder: Any, chance: random.Random) -> Any:
    from qualifications.models import Certificate

    piece = {
        "process": chance.choice(("135", "136", "111", "141")),
        "weld_type": "fillet",
        "product": "plate",
        "filler_group": "FM1",
        "filler_type": "S",
        "parent_t": chance.choice(("6", "8", "10", "12")),
        "position": chance.choice(("PB", "PF", "PD")),
        "run_type": "multi_run",
    }
    option = chance.choice("bc")
    return Certificate(
        person=holder,
        code="ISO 9606-1:2012",
        kind="welder",
        number=f"W-{n:05}",
        pieces=[piece],
        welded_on=TODAY - timedelta(days=EVENTS * 165 + chance.randrange(30, 150)),
        option=option,
        facts={"same_manufacturer": "yes", "iso_3834": "2", "quality_documented": "yes"},
    )


def _events(certificate: Any, chance: random.Random) -> Iterator[Any]:
    from qualifications.models import CertificateEvent

    gap = 165 if chance.random() < 0.95 else 190
    for n in range(1, EVENTS + 1):
        on = certificate.welded_on + timedelta(days=n * gap)
        details: dict[str, str] = {}
        kind = "confirmation"
        if certificate.option == "b" and n % 4 == 0:
            kind, details = "prolongation", _welds(on)
        yield CertificateEvent(
            certificate=certificate, kind=kind, on=on, by_name="Marek Holt", evidence="B12/3, WPS 014", details=details
        )


def _welds(on: date) -> dict[str, str]:
    welds = {"weld_1": (on - timedelta(days=9)).isoformat(), "weld_2": (on - timedelta(days=8)).isoformat()}
    return welds | {"reported_on": on.isoformat(), "tested_by": "RT", "conditions_reproduced": "yes"}


def rows() -> Iterator[dict[str, Any]]:
    yield from state_rows()
    yield from page_rows()


def state_rows() -> Iterator[dict[str, Any]]:
    from qualifications.offers import certificate_offers

    start = time.perf_counter()
    certificate_offers()
    yield row("all certificates and events read for the first time", [(time.perf_counter() - start) * 1000])
    days = iter(range(-3000, 3000, 17))

    def states() -> int:
        day = TODAY + timedelta(days=next(days))
        return sum(one.validity.state(day).valid for one in certificate_offers())

    yield row("states of all on another date", times_ms(states, repeats=40), limit=1000)


def page_rows() -> Iterator[dict[str, Any]]:
    from django.test import Client, override_settings

    from qualifications.models import Certificate, CertificateEvent
    from register.demo import make_sign_ins

    # Hashed names of style sheets need a build first.
    override_settings(STORAGES=PLAIN_FILES).enable()
    client = Client(HTTP_HOST="localhost")
    client.force_login(make_sign_ins()["marta"])
    asked = iter(range(0, 3000, 7))

    def page(query: str = "", back: int = 0) -> None:
        day = TODAY - timedelta(days=back)
        assert client.get(f"/people/due/?on={day.isoformat()}{query}").status_code == 200

    yield row("due page", times_ms(page, repeats=60), limit=150)
    yield row("due page, another date each time", times_ms(lambda: page(back=next(asked)), repeats=60), limit=150)
    for view in ("week", "person", "workstation"):
        yield row(f"due page by {view}", times_ms(lambda view=view: page(f"&by={view}"), repeats=40), limit=150)
    held = Certificate.objects.order_by("pk").first()

    def signed() -> None:
        CertificateEvent.objects.create(certificate=held, kind="confirmation", on=TODAY, by_name="Marek Holt")
        page()

    yield row("one signature written, then the due page", times_ms(signed, repeats=40), limit=150)


def row(what: str, taken: list[float], limit: int | None = None) -> dict[str, Any]:
    return {"what": what, "p50": p50(taken), "p95": p95(taken), "limit_p95": limit}
