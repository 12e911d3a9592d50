"""A test record on paper."""

import re
from io import BytesIO
from typing import Any

import pytest
from django.urls import reverse
from pypdf import PdfReader

from register.papers.models import PrintedPaper
from tests.wps.iso import iso_record
from tests.wps.us import us_record

pytestmark = pytest.mark.django_db


def words(data: bytes) -> str:
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in PdfReader(BytesIO(data)).pages))


def test_a_record_says_what_was_tested_and_what_it_earned(client_of: Any) -> None:
    record = iso_record()
    url = reverse("wps:record_sheet", args=[record.pk])
    said = words(client_of("qa").get(url).content)
    assert record.number in said
    assert "Range of qualification" in said
    assert "ISO 15614-1:2017, 8.3.2" in said
    assert "In use" in said
    assert "Welding procedure qualification record (WPQR)" in said
    assert all(who in said for who in ("For the manufacturer", "Examiner or examining body", "Name, date, signature"))
    us = words(client_of("qa").get(url, {"units": "us", "paper": "letter"}).content)
    assert "Converted from SI" in us
    assert " in" in us
    assert PrintedPaper.objects.count() == 2


def test_a_record_out_of_use_says_so_across_the_sheet(client_of: Any, client: Any) -> None:
    record = iso_record()
    url = reverse("wps:record_sheet", args=[record.pk])
    client_of("qa").get(url, {"on": "2026-03-02"})
    code = PrintedPaper.objects.get().check_code
    record.withdrawn_on = "2026-03-01"
    record.save()
    said = words(client_of("qa").get(url, {"on": "2026-03-02"}).content)
    assert "No longer used from 2026-03-01 on." in said
    assert "WITHDRAWN" in said
    assert "Superseded" in client.get(reverse("wps:sheet_status", args=[code])).content.decode()


def test_a_record_of_another_code_has_no_route_of_iso(client_of: Any) -> None:
    record = us_record("AWS D1.1:2020")
    said = words(client_of("qa").get(reverse("wps:record_sheet", args=[record.pk]), {"units": "us"}).content)
    assert "Procedure qualification record (PQR)" in said
    assert "Route of qualification" not in said
    assert "F, 1G, 1F" in said
    assert "Parent thickness: 0.5 in" in said
