"""Acts on a certificate: who may sign, what is refused, what is written."""

from datetime import date
from typing import Any

import pytest

from qualifications import events
from qualifications.events import Signature, confirm, confirm_each, correct, end, may_confirm, obstacle, prolong
from qualifications.models import Certificate, CertificateEvent
from qualifications.periods import state
from register.models import AuditEntry
from tests.qualifications.make import certificate, event, person

pytestmark = pytest.mark.django_db
TODAY = date(2025, 7, 31)


def signed(user: Any, on: date = TODAY, evidence: str = "B12/3, 2025-07-20, WPS 014", **details: str) -> Signature:
    return Signature(on, "Marek Holt", user, "welding supervisor", evidence, details)


@pytest.mark.parametrize(
    ("name", "own", "other"),
    [
        ("coordinator", True, True),
        ("qa", True, True),
        ("supervisor", True, False),
        ("auditor", False, False),
        ("no_role", False, False),
        ("nobody", False, False),
    ],
)
def test_who_may_confirm_whom(people: dict[str, Any], name: str, own: bool, other: bool) -> None:
    mine = person("Ada Krol", supervisor=people["supervisor"])
    theirs = person("Bo Lang", supervisor=people["coordinator"])
    assert may_confirm(people[name], mine) is own
    assert may_confirm(people[name], theirs) is other


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (date(2025, 7, 31), ""),
        (date(2025, 8, 1), "later than today"),
        (date(2025, 1, 30), "nothing can be confirmed before it"),
        (date(2025, 1, 31), ""),
    ],
)
def test_days_on_which_a_confirmation_can_be_signed(day: date, said: str) -> None:
    found = obstacle(certificate(), day, TODAY)
    assert said in found
    assert bool(said) is bool(found)


def test_after_the_lapse_a_confirmation_is_refused_with_the_reason() -> None:
    found = obstacle(certificate(), date(2025, 8, 1), date(2025, 8, 1))
    assert "no confirmation between 2025-01-31 and 2025-07-31" in found
    assert "new test" in found


def test_after_a_revocation_the_way_of_a_signature_made_in_time_is_named() -> None:
    revoked = certificate()
    event(revoked, date(2025, 5, 1), "revocation", reason="defects")
    assert "give the date of that signature" in obstacle(revoked, date(2025, 6, 1), TODAY, state_shown=True)
    assert obstacle(revoked, date(2025, 4, 1), TODAY) == ""


def test_a_confirmation_is_written_with_the_act(coordinator: Any) -> None:
    held = certificate()
    (made,) = confirm(held, signed(coordinator), TODAY)
    assert (made.kind, made.on, made.by_user, made.evidence) == (
        "confirmation",
        TODAY,
        coordinator,
        "B12/3, 2025-07-20, WPS 014",
    )
    assert state(Certificate.objects.get(), date(2026, 1, 31)).valid
    entry = AuditEntry.objects.get()
    assert (entry.user_name, entry.act, entry.after["on"]) == ("coordinator", "recorded confirmation", "2025-07-31")


@pytest.mark.parametrize("evidence", ["", "   "])
def test_without_evidence_nothing_is_written(coordinator: Any, evidence: str) -> None:
    with pytest.raises(ValueError, match="evidence"):
        confirm(certificate(), signed(coordinator, evidence=evidence), TODAY)
    assert not CertificateEvent.objects.exists()
    assert not AuditEntry.objects.exists()


def test_the_same_day_is_confirmed_once(coordinator: Any) -> None:
    held = certificate()
    confirm(held, signed(coordinator), TODAY)
    with pytest.raises(ValueError, match="already"):
        confirm(held, signed(coordinator), TODAY)
    assert CertificateEvent.objects.count() == 1


def test_several_are_confirmed_all_or_none(coordinator: Any) -> None:
    holder = person()
    good, bad = certificate(holder), certificate(holder, number="W-2", welded_on=date(2024, 1, 1))
    with pytest.raises(ValueError, match="W-2"):
        confirm_each([good, bad], {one.pk: signed(coordinator) for one in (good, bad)}, TODAY)
    assert not CertificateEvent.objects.exists()
    assert confirm_each([good], {good.pk: signed(coordinator)}, TODAY) == 1


def test_what_must_be_said_knowingly() -> None:
    held = certificate()
    event(held, date(2025, 6, 1))
    late = date(2026, 1, 5)
    assert events.cautions(held, date(2025, 7, 1), date(2025, 7, 2)) == []
    assert "before the last entry" in events.cautions(held, date(2025, 5, 1), date(2025, 7, 2))[0]
    (said,) = events.cautions(held, date(2025, 11, 30), late)
    assert "not valid today" in said


def _ready_for_prolongation() -> Certificate:
    held = certificate(option="b")
    for day in (date(2025, 7, 1), date(2025, 12, 1), date(2026, 5, 1), date(2026, 10, 1)):
        event(held, day)
    return held


WELDS = {"weld_1": "2026-07-31", "weld_2": "2027-01-15", "tested_by": "RT", "conditions_reproduced": "yes"}


def test_a_prolongation_lengthens_option_b(coordinator: Any) -> None:
    held = _ready_for_prolongation()
    prolong(held, signed(coordinator, date(2027, 1, 20), **WELDS), date(2027, 1, 20))
    event(held, date(2027, 1, 20))
    assert state(Certificate.objects.get(), date(2027, 2, 1)).valid


@pytest.mark.parametrize(
    "change",
    [{"weld_1": "2026-07-30"}, {"weld_2": "2027-01-21"}, {"conditions_reproduced": "no"}, {"tested_by": "MT"}],
)
def test_a_prolongation_that_would_change_nothing_is_refused(coordinator: Any, change: dict[str, str]) -> None:
    held = _ready_for_prolongation()
    with pytest.raises(ValueError, match="would not lengthen"):
        prolong(held, signed(coordinator, date(2027, 1, 20), **(WELDS | change)), date(2027, 1, 20))


@pytest.mark.parametrize("option", ["a", "c", ""])
def test_only_option_b_is_prolonged(coordinator: Any, option: str) -> None:
    with pytest.raises(ValueError, match="Only option b"):
        prolong(certificate(option=option), signed(coordinator, **WELDS), TODAY)


def test_a_revocation_counts_from_its_day(coordinator: Any) -> None:
    end(certificate(), "revocation", signed(coordinator, date(2025, 3, 1)), "cold laps in three joints", TODAY)
    assert state(Certificate.objects.get(), date(2025, 2, 28)).valid
    assert state(Certificate.objects.get(), date(2025, 3, 1)).reason == "revoked"


def test_a_revocation_needs_a_reason_and_a_day_that_has_come(coordinator: Any) -> None:
    held = certificate()
    with pytest.raises(ValueError, match="reason"):
        end(held, "revocation", signed(coordinator), " ", TODAY)
    with pytest.raises(ValueError, match="later than today"):
        end(held, "revocation", signed(coordinator, date(2025, 8, 1)), "doubt", TODAY)
    with pytest.raises(ValueError, match="Only option c"):
        end(held, "iso_3834_lost", signed(coordinator), "audit failed", TODAY)


def test_a_correction_voids_once_and_keeps_both(coordinator: Any) -> None:
    held = certificate()
    (wrong,) = confirm(held, signed(coordinator), TODAY)
    with pytest.raises(ValueError, match="why"):
        correct(wrong, signed(coordinator), "")
    void = correct(wrong, signed(coordinator), "another welder was meant")
    assert void.voids == wrong
    assert CertificateEvent.objects.count() == 2
    for entry in (wrong, void):
        with pytest.raises(ValueError, match="void"):
            correct(CertificateEvent.objects.get(pk=entry.pk), signed(coordinator), "again")
    # What was voided may be entered anew, on the same day.
    confirm(held, signed(coordinator), TODAY)
