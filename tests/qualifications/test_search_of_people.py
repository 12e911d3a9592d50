"""Searching people by their certificates: many certificates and many words stay one question each."""

import time
from collections.abc import Callable
from datetime import date

import pytest
from django.test import Client

from qualifications.models import Certificate, Person

pytestmark = pytest.mark.django_db


def test_ten_words_and_many_certificates_are_answered_at_once(client_of: Callable[[str], Client]) -> None:
    """A join for each word made twelve certificates sixty thousand million rows."""
    holder = Person.objects.create(name="Edda Borg", identification="B1")
    Certificate.objects.bulk_create(
        Certificate(person=holder, code="X", kind="welder", number=f"abcdefghij {n}", welded_on=date(2026, 1, 5))
        for n in range(12)
    )
    start = time.perf_counter()
    found = client_of("auditor").get("/people/?q=a+b+c+d+e+f+g+h+i+j")
    assert time.perf_counter() - start < 3
    assert found.status_code == 200 and "Edda Borg" in found.content.decode()
    none = client_of("auditor").get("/people/?q=a+b+zz")
    assert "Edda Borg" not in none.content.decode()
