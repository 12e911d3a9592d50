"""The mail digest: each deadline is announced once for each horizon, whatever how often the command runs."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.conf import settings as site
from django.core.mail import EmailMessage, get_connection
from django.db import transaction
from django.urls import reverse
from django.utils.translation import gettext, ngettext, override

from qualifications.calendar.models import DueNotice
from qualifications.due import DueItem, falls_due
from qualifications.offers import certificate_offers
from register.held.firm import firm_settings
from register.judged_words import told
from register.own_language import language_at
from register.plants.reach import Reach
from register.plants.standing import holders
from register.roles import Capability, Role, reach_with
from register.trail.sealing import seal

EVERYBODYS = (Role.COORDINATOR.value, Role.QA.value)


@dataclass(frozen=True, slots=True)
class Announced:
    """A deadline and the horizon [days] at which it is announced; 0 for a lapse and a decision."""

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
    """The deadlines, lapses and open decisions not announced yet. Each deadline stands under its smallest horizon: with
    30 and 7, one six days ahead is announced at 7 only.
    """
    settings = firm_settings()
    items = falls_due(certificate_offers(settings), on, tuple(sorted(horizons)), settings=settings)
    found = [Announced(item, item.within) for item in items]
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
    made, is_new = DueNotice.objects.get_or_create(
        certificate_id=certificate, act=act, by=by, horizon=horizon, defaults={"sent_to": ", ".join(sorted(addresses))}
    )
    if is_new:
        seal(DueNotice, [made.pk])
    return is_new


@dataclass(frozen=True, slots=True)
class _Reader:
    """An account with an address: where it sees everybody, and where its own people only."""

    email: str
    pk: int
    everybody: Reach
    own: Reach

    def concerns(self, item: DueItem) -> bool:
        return self.everybody.holds(item.plant_id) or (self.own.holds(item.plant_id) and self.pk == item.supervisor_id)


def _people() -> list[_Reader]:
    """Those who hold a role and have an address."""
    held = set().union(*(holders(role).exclude(email="") for role in (*EVERYBODYS, Role.SUPERVISOR.value)))
    return [
        _Reader(
            user.email,
            user.pk,
            reach_with(user, Capability.RECORD_CONFIRMATION),
            reach_with(user, Capability.CONFIRM_OWN_PEOPLE),
        )
        for user in sorted(held, key=lambda user: user.pk)
    ]


def _addresses(item: DueItem, people: Iterable[_Reader]) -> frozenset[str]:
    """Whom a deadline concerns: the addresses of the settings, else coordinators and QA of the plant and the person's
    supervisor.
    """
    stated = getattr(site, "DUE_DIGEST_TO", [])
    if stated:
        return frozenset(stated)
    return frozenset(reader.email for reader in people if reader.concerns(item))


def _mails(ours: Sequence[Announced], addressed: Any, on: date) -> Iterator[EmailMessage]:
    for address in sorted({address for one in ours for address in addressed[one.key]}):
        own = [one.item for one in ours if address in addressed[one.key]]
        with override(language_at(address)):
            yield EmailMessage(subject_of(own), body_of(own, on), to=[address])


def subject_of(items: Sequence[DueItem]) -> str:
    """Example: "Welding certificates: 3 deadlines, 1 lapsed, 1 to be decided"."""
    lapsed, asked = sum(item.is_lapse for item in items), sum(item.is_decision for item in items)
    ahead = len(items) - lapsed - asked
    parts = [ngettext("%(number)s deadline", "%(number)s deadlines", ahead) % {"number": ahead}] if ahead else []
    if lapsed:
        parts.append(gettext("%(number)s lapsed") % {"number": lapsed})
    if asked:
        parts.append(gettext("%(number)s to be decided") % {"number": asked})
    return gettext("Welding certificates: %(what)s") % {"what": ", ".join(parts)}


def body_of(items: Sequence[DueItem], on: date) -> str:
    """The deadlines, the earliest first; the day named still counts."""
    lines = [gettext("As of %(on)s. The day named still counts.") % {"on": on.isoformat()}, ""]
    for item in sorted(items, key=lambda item: (item.by, item.person_name)):
        lines.append(f"{item.by.isoformat()}  {item.person_name}, {item.number} ({item.code}): {told(item.what)}")
    public = str(getattr(site, "PUBLIC_URL", "")).rstrip("/")
    return "\n".join([*lines, "", *([f"{public}{reverse('qualifications:due')}"] if public else [])])
