"""The mail digest: each deadline is announced once for each horizon, whatever how often the command runs."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.conf import settings as site
from django.contrib.auth.models import User
from django.core.mail import EmailMessage, get_connection
from django.db import transaction
from django.urls import reverse

from qualifications.calendar.models import DueNotice
from qualifications.due import DueItem, falls_due
from qualifications.offers import certificate_offers
from register.held.firm import firm_settings
from register.roles import Role

EVERYBODYS = (Role.COORDINATOR.value, Role.QA.value)


@dataclass(frozen=True, slots=True)
class Announced:
    """A deadline and the horizon [days] at which it is announced; 0 for a lapse."""

    item: DueItem
    horizon: int

    @property
    def key(self) -> tuple[int, str, date, int]:
        """What is announced once."""
        return self.item.certificate_id, self.item.act, self.item.by, self.horizon


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a run did: mails, deadlines announced in them, and those for which there is nobody to write to."""

    mails: int
    announced: int
    nobody: int


def to_announce(on: date, horizons: Sequence[int]) -> list[Announced]:
    """The deadlines and lapses not announced yet. Each stands under its smallest horizon: with 30 and 7, one six days
    ahead is announced at 7 only.
    """
    settings = firm_settings()
    items = falls_due(certificate_offers(settings), on, tuple(sorted(horizons)), settings=settings)
    found = [Announced(item, 0 if item.is_lapse else item.within) for item in items]
    first = min((one.item.by for one in found), default=on)
    sent = DueNotice.objects.filter(by__gte=first).values_list("certificate_id", "act", "by", "horizon")
    known = set(sent)
    return [one for one in found if one.key not in known]


def send(on: date, horizons: Sequence[int]) -> Outcome:
    """Send what is new and note it, both or neither: a mail server that fails leaves everything to the next run."""
    with transaction.atomic():
        new = to_announce(on, horizons)
        people = _people()
        addressed = {one.key: _addresses(one.item, people) for one in new}
        sendable = [one for one in new if addressed[one.key]]
        ours = [one for one in sendable if _note(one, addressed[one.key])]
        mails = list(_mails(ours, addressed, on))
        if mails:
            get_connection().send_messages(mails)
    return Outcome(len(mails), len(ours), len(new) - len(sendable))


def _note(one: Announced, addresses: Iterable[str]) -> bool:
    """True where this run is the one that announces it."""
    certificate, act, by, horizon = one.key
    _, is_new = DueNotice.objects.get_or_create(
        certificate_id=certificate, act=act, by=by, horizon=horizon, defaults={"sent_to": ", ".join(sorted(addresses))}
    )
    return is_new


def _people() -> list[tuple[str, int, bool]]:
    """(address, account, sees everybody) of those who hold a role and have an address."""
    rows = User.objects.filter(is_active=True, groups__name__in=(*EVERYBODYS, Role.SUPERVISOR.value)).exclude(email="")
    found: dict[int, tuple[str, int, bool]] = {}
    for email, pk, role in rows.values_list("email", "pk", "groups__name"):
        sees_all = role in EVERYBODYS or (pk in found and found[pk][2])
        found[pk] = (email, pk, sees_all)
    return list(found.values())


def _addresses(item: DueItem, people: Iterable[tuple[str, int, bool]]) -> frozenset[str]:
    """Whom a deadline concerns: the addresses of the settings, else coordinators, QA and the person's supervisor."""
    stated = getattr(site, "DUE_DIGEST_TO", [])
    if stated:
        return frozenset(stated)
    return frozenset(email for email, pk, sees_all in people if sees_all or pk == item.supervisor_id)


def _mails(ours: Sequence[Announced], addressed: Any, on: date) -> Iterator[EmailMessage]:
    for address in sorted({address for one in ours for address in addressed[one.key]}):
        own = [one.item for one in ours if address in addressed[one.key]]
        yield EmailMessage(subject_of(own), body_of(own, on), to=[address])


def subject_of(items: Sequence[DueItem]) -> str:
    """Example: "Welding certificates: 3 deadlines, 1 lapsed"."""
    lapsed = sum(item.is_lapse for item in items)
    ahead = len(items) - lapsed
    parts = [f"{ahead} deadline{'s' if ahead != 1 else ''}"] if ahead else []
    return f"Welding certificates: {', '.join([*parts, *([f'{lapsed} lapsed'] if lapsed else [])])}"


def body_of(items: Sequence[DueItem], on: date) -> str:
    """The deadlines, the earliest first; the day named still counts."""
    lines = [f"As of {on.isoformat()}. The day named still counts.", ""]
    for item in sorted(items, key=lambda item: (item.by, item.person_name)):
        what = f"lapsed: {item.because}" if item.is_lapse else item.act
        lines.append(f"{item.by.isoformat()}  {item.person_name}, {item.number} ({item.code}): {what}")
    public = str(getattr(site, "PUBLIC_URL", "")).rstrip("/")
    return "\n".join([*lines, "", *([f"{public}{reverse('qualifications:due')}"] if public else [])])
