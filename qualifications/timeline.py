"""Who is qualified for a process over time: for each person the periods of all certificates for it, laid together."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from codes.dates import add_months
from qualifications.offers import CertificateOffer
from qualifications.sheets import AHEAD_MONTHS, BACK_MONTHS
from register.base.draw import Span

FOREVER = date(2149, 12, 31)
DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Row:
    """One person for one process and kind: the certificates, and when at least one of them is valid."""

    person_id: int
    person_name: str
    kind: str
    process: str
    certificates: tuple[tuple[int, str, bool], ...]
    spans: tuple[Span, ...]
    valid: bool
    until: date | None

    @property
    def text(self) -> str:
        """The state in words. Example: "valid until 2027-01-31", "not valid"."""
        if not self.valid:
            return "not valid"
        return f"valid until {self.until.isoformat()}" if self.until else "valid, without end"


def rows(offers: Iterable[CertificateOffer], on: date, process: str = "", person_id: int | None = None) -> list[Row]:
    """A row for each person, process and kind; of one process or person where named. Those valid on the day first."""
    groups: dict[tuple[str, int, str, str], list[CertificateOffer]] = defaultdict(list)
    for one in offers:
        if person_id is not None and one.person_id != person_id:
            continue
        for tested in one.processes:
            if process in ("", tested):
                groups[one.person_name, one.person_id, tested, one.kind].append(one)
    found = [_row(key, held, on) for key, held in groups.items()]
    return sorted(found, key=lambda row: (not row.valid, row.person_name, row.person_id, row.process, row.kind))


def _row(key: tuple[str, int, str, str], held: list[CertificateOffer], on: date) -> Row:
    name, pk, process, kind = key
    spans = joined(
        Span(period.start, period.end or FOREVER, "valid") for one in held for period in one.validity.periods
    )
    now = next((span for span in spans if span.start <= on <= span.end), None)
    certificates = tuple((one.certificate_id, one.number, one.validity.state(on).valid) for one in held)
    until = now.end if now is not None and now.end < FOREVER else None
    return Row(pk, name, kind, process, certificates, spans, now is not None, until)


def joined(spans: Iterable[Span]) -> tuple[Span, ...]:
    """Spans in order, those that touch or overlap as one.

    Example: one to 31 July and one from 1 August become one; one from 2 August stays apart.
    """
    found: list[Span] = []
    for span in sorted(spans):
        if found and span.start <= found[-1].end + DAY:
            found[-1] = found[-1]._replace(end=max(found[-1].end, span.end))
        else:
            found.append(span)
    return tuple(found)


def view_of(on: date) -> tuple[date, date]:
    """First and last day of a strip: a year back, two years ahead."""
    return add_months(on, -BACK_MONTHS), add_months(on, AHEAD_MONTHS)
