"""The offers that are kept between questions: nothing that was written is ever missed."""

from collections.abc import Iterator
from datetime import date

import pytest
from django.db import connection, transaction
from django.test.utils import CaptureQueriesContext

from qualifications import reading
from qualifications.due import falls_due
from qualifications.offers import certificate_offers, offer
from tests.qualifications.make import certificate, event, person

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture(autouse=True)
def fresh() -> Iterator[None]:
    reading._reading.cache_clear()
    yield
    reading._reading.cache_clear()


def test_the_second_question_reads_one_stamp_only() -> None:
    event(certificate(), date(2025, 7, 1))
    first = certificate_offers()
    with CaptureQueriesContext(connection) as asked:
        assert certificate_offers() is first
    assert len(asked) == 1


def test_an_offer_is_what_the_models_give() -> None:
    held = certificate()
    wrong = event(held, date(2025, 7, 1), "revocation", reason="doubt")
    event(held, date(2025, 7, 5), "correction", voids=wrong, reason="another welder was meant")
    event(held, date(2025, 7, 20), details={"weld_log": "7"})
    assert certificate_offers() == (offer(held),)


def test_everything_that_changes_is_seen() -> None:
    holder = person()
    one, two = certificate(holder), certificate(holder, number="W-2")
    before = certificate_offers()
    event(one, date(2025, 7, 1))
    after = certificate_offers()
    assert after[0].validity != before[0].validity
    assert after[1] is before[1]  # what did not change is not worked out again
    two.option = "b"
    two.save()
    assert certificate_offers()[1].validity != after[1].validity
    holder.name, holder.left_on, holder.active = "Ada Moll", date(2025, 3, 1), False
    holder.save()
    assert {o.person_name for o in certificate_offers()} == {"Ada Moll"}
    assert not certificate_offers()[0].validity.state(date(2025, 3, 2)).valid
    third = certificate(person("Abe Orr"), number="W-3")
    assert [o.certificate_id for o in certificate_offers()] == [third.pk, one.pk, two.pk]
    third.delete()
    assert len(certificate_offers()) == 2


def test_what_falls_due_follows() -> None:
    held = certificate()
    on = date(2025, 7, 20)
    assert [i.by for i in falls_due(certificate_offers(), on, (30,))] == [date(2025, 7, 31)]
    event(held, date(2025, 7, 20))
    assert falls_due(certificate_offers(), on, (30,)) == ()
    assert [i.by for i in falls_due(certificate_offers(), on, (190,))] == [date(2026, 1, 20)]


def test_what_is_taken_back_is_not_kept() -> None:
    held = certificate()
    before = certificate_offers()

    class Back(Exception):
        pass

    with pytest.raises(Back), transaction.atomic():
        event(held, date(2025, 7, 1))
        assert certificate_offers()[0].validity != before[0].validity
        raise Back
    assert certificate_offers() is before
    event(held, date(2025, 7, 2), "revocation", reason="doubt")  # may get the number of the one taken back
    assert "revoked" in certificate_offers()[0].validity.state(date(2025, 7, 2)).because


def test_readings_of_the_firm_are_kept_apart() -> None:
    certificate()
    assert reading.reading({"a": "b"}) is not reading.reading({})
    assert reading.reading({"a": "b"}) is reading.reading({"a": "b"})


def test_a_transaction_that_ends_later_is_seen_although_its_number_is_lower() -> None:
    """As on a server where two write at once: the later number is there first."""
    held = certificate()
    later = event(held, date(2025, 7, 2), pk=20)
    assert certificate_offers()[0].validity == offer(held).validity
    event(held, date(2025, 7, 1), pk=10)
    assert certificate_offers()[0].validity == offer(type(held).objects.get(pk=held.pk)).validity
    assert later.pk == 20


def test_an_answer_given_before_is_not_given_after_a_change() -> None:
    held = certificate()
    on = date(2025, 7, 20)
    first = falls_due(certificate_offers(), on, (30,))
    assert falls_due(certificate_offers(), on, (30,)) is first
    event(held, on)
    assert falls_due(certificate_offers(), on, (30,)) == ()


def test_a_signature_asks_only_for_the_events_that_came_since() -> None:
    one, two = certificate(), certificate(person("Abe Orr"), number="W-2")
    event(two, date(2025, 7, 1))
    before = certificate_offers()
    for held, day in ((one, date(2025, 7, 2)), (two, date(2025, 7, 3)), (one, date(2025, 7, 4))):
        event(held, day)
        with CaptureQueriesContext(connection) as asked:
            after = certificate_offers()
        # The stamp, the new events, two for the versions of their certificate, three for what it says now.
        assert len(asked) == 7
        assert all("certificate" in one["sql"] for one in asked)
        assert after == tuple(offer(type(held).objects.get(pk=o.certificate_id)) for o in before)


def test_events_while_everything_else_changes_too() -> None:
    """The short way is left where a person, a certificate or the order of names changed as well."""
    holder = person()
    held = certificate(holder)
    certificate(person("Abe Orr"), number="W-2")
    certificate_offers()
    event(held, date(2025, 7, 1))
    holder.name = "Aaron Moll"
    holder.save()
    assert [o.person_name for o in certificate_offers()] == ["Aaron Moll", "Abe Orr"]
    assert certificate_offers()[0] == offer(type(held).objects.get(pk=held.pk))
