"""People on paper: what the PDFs say, their size, and that the same day gives the same bytes."""

import io
import re
from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal as D
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from pypdf import PdfReader

from codes.editions import edition
from codes.units import System
from qualifications.due import falls_due, grouped
from qualifications.models import Certificate
from qualifications.offers import certificate_offers, limits
from qualifications.paper.field_list import field_lists
from qualifications.paper.pdfs import card_draft, certificate_draft, due_draft, where_said
from register.papers.models import PrintedPaper
from register.papers.printing import Draft, PaperChoice, rendered
from register.plants.models import Plant
from register.templatetags.said import broken_at_commas
from tests.qualifications.make import FILLET, certificate, event, person

pytestmark = pytest.mark.django_db
SignIn = Callable[[str], Client]
ON = date(2025, 7, 1)


def words(data: bytes) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages).split())


def pdf(draft: Draft, **choice: str) -> bytes:
    return rendered(draft, PaperChoice(**choice), "https://register.example/s/{code}/")[0]


def certificate_pdf(one: Certificate, on: date, system: System = System.SI) -> bytes:
    return pdf(certificate_draft(one, on, system))


def held() -> Certificate:
    one = certificate(
        person("Ada Krol", identification="W07", employer="Nordhalle", born_on=date(1990, 2, 3)),
        examiner="E. Munk",
        job_knowledge="accepted",
        results={"vt": "accepted", "fracture": "accepted", "bend_root": "2"},
    )
    wrong = event(one, date(2025, 6, 1), evidence="a mistaken weld")
    event(one, date(2025, 6, 2), "correction", voids=wrong, reason="another welder")
    event(one, date(2025, 6, 20), evidence="joint B12/3, WPS 014", by_role="supervisor")
    return one


def test_the_field_list_holds_every_tested_value_and_every_limit() -> None:
    one = held()
    ((listed),) = field_lists(one)
    labels = [line.label for line in listed.lines if line.label]
    for name in FILLET:
        known = next(f for f in edition(one.code).fields if f.name == name)
        assert (known.label or known.variable.label) in labels
    (limit_set,) = limits(one)[0]
    assert sum(line.allowed != "recorded" for line in listed.lines) == len(limit_set.limits)
    assert all(line.clause for line in listed.lines if line.allowed not in ("", "recorded"))


def test_fields_come_in_the_order_of_the_code() -> None:
    ((listed),) = field_lists(held())
    order = [f.label or f.variable.label for f in edition("ISO 9606-1:2012").fields]
    shown = [line.label for line in listed.lines if line.label in order]
    assert shown == sorted(shown, key=order.index)


def test_an_edition_that_is_not_held_has_no_field_list() -> None:
    assert field_lists(certificate(code="EN 287-1:2004")) == ()


def test_a_certificate_on_paper() -> None:
    said = words(certificate_pdf(held(), ON))
    for text in (
        "Certificate W-1, Ada Krol",
        "ISO 9606-1 135 P FW FM1 S t10 PB ml",
        "Valid on 2025-07-01, until 2025-12-20",
        "W07",
        "1990-02-03",
        "E. Munk",
        "135 · GMAW, 138 · GMAW metal-cored",
        "ISO 9606-1:2012, 5.7, Table 8",
        "Root bends: 2",
        "Welder's qualification test certificate",
        "Name, date, signature",
        "joint B12/3, WPS 014",
        "Marek Holt, supervisor",
        "side 1 of",
        "the text of the standard",
    ):
        assert text in said, text
    assert "a mistaken weld" not in said


def test_the_same_day_gives_the_same_bytes_and_another_day_another_state() -> None:
    one = held()
    first = certificate_pdf(one, ON)
    assert certificate_pdf(one, ON) == first
    assert "Not valid on 2025-12-21" in words(certificate_pdf(one, date(2025, 12, 21)))


def test_a_pocket_card_is_as_large_as_a_bank_card() -> None:
    one = held()
    certificate(one.person, number="W-2", code="EN 287-1:2004", pieces=[])
    data = pdf(card_draft(one.person, ON))
    reader = PdfReader(io.BytesIO(data))
    for page in reader.pages:
        width, height = (D(str(side)) * D("25.4") / 72 for side in page.mediabox[2:])
        assert (round(width, 1), round(height, 1)) == (D("85.6"), D("54.0"))
    assert len(reader.pages) == 2
    said = words(data)
    assert "Ada Krol" in said
    assert "to 2025-12-20" in said
    assert "from 3 mm" in said
    assert "W-2" not in said  # what is not judged is on no card


def test_a_card_of_somebody_with_nothing_valid_says_so() -> None:
    one = held()
    data = pdf(card_draft(one.person, date(2026, 1, 1)))
    assert "No certificate is valid on 2026-01-01" in words(data)
    assert len(PdfReader(io.BytesIO(data)).pages) == 1


def test_the_list_of_what_falls_due() -> None:
    certificate()
    groups = grouped(falls_due(certificate_offers(), date(2025, 7, 20)))
    said = words(pdf(due_draft(Plant(), groups, date(2025, 7, 20), "By how soon.")))
    assert "Within 30 days (1)" in said
    assert "2025-07-31 confirmation" in said
    assert "No longer valid" not in said  # empty
    assert "Nothing falls due" in words(pdf(due_draft(Plant(), [], ON)))


def test_in_us_units_the_figures_are_turned_inwards_and_the_designation_stays() -> None:
    """10 mm is 0.394 in (25.4 mm to the inch, exactly); a fillet from 3 mm on is 0.119 in, rounded inwards."""
    one = held()
    said = words(certificate_pdf(one, ON, System.US))
    assert "0.394 in" in said
    assert "0.119 in" in said
    assert "t10 PB ml" in said
    assert not re.search(r"\d mm\b", said)
    card = words(pdf(card_draft(one.person, ON, System.US)))
    assert "0.119 in" in card
    assert not re.search(r"\d mm\b", card)


@pytest.mark.parametrize(
    ("name", "title"), [("certificate_sheet", "Certificate W-1"), ("pocket_card", "Pocket card of")]
)
def test_scanning_says_current_then_superseded(
    client_of: SignIn, client: Client, name: str, title: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = held()
    monkeypatch.setattr(timezone, "localdate", lambda: ON)
    pk = {"certificate_sheet": one.pk, "pocket_card": one.person_id}[name]
    client_of("qa").get(reverse(f"qualifications:{name}", args=[pk]), {"on": str(ON), "units": "us", "paper": "letter"})
    (paper,) = PrintedPaper.everything.all()
    assert paper.units == "us"
    url = reverse("wps:sheet_status", args=[paper.check_code])
    page = client.get(url).content.decode()
    assert "Current" in page
    assert title in page
    assert "E. Munk" not in page
    # Revoked on a later day: whoever scans it then is not told that it is current.
    event(one, ON + timedelta(days=3), "revocation", reason="work in doubt")
    monkeypatch.setattr(timezone, "localdate", lambda: ON + timedelta(days=4))
    later = client.get(url).content.decode()
    assert "Current" not in later
    assert "Superseded" in later or "Out of date" in later
    event(one, date(2025, 6, 25), "revocation", reason="work in doubt")
    assert "Superseded" in client.get(url).content.decode()


def test_a_list_of_what_falls_due_bears_a_code_unless_it_is_narrowed_down(
    client_of: SignIn, client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = certificate()
    monkeypatch.setattr(timezone, "localdate", lambda: date(2025, 7, 20))
    qa, url = client_of("qa"), reverse("qualifications:due_sheet")
    narrowed = words(qa.get(url, {"on": "2025-07-20", "within": "30"}).content)
    assert "bears no check code" in narrowed
    assert not PrintedPaper.everything.exists()
    assert "bears no check code" in words(qa.get(url, {"on": "2025-07-20", "by": "person"}).content)
    assert "Check code" in words(qa.get(url, {"on": "2025-07-20"}).content)
    status = reverse("wps:sheet_status", args=[PrintedPaper.everything.get().check_code])
    assert "Current" in client.get(status).content.decode()
    event(one, date(2025, 7, 19))
    assert "Superseded" in client.get(status).content.decode()


@pytest.mark.parametrize("name", ["certificate_sheet", "pocket_card", "due_sheet"])
def test_another_day_is_another_paper_also_where_nothing_has_changed(client_of: SignIn, name: str) -> None:
    one, qa = held(), client_of("qa")
    key: dict[str, Any] = {"certificate_sheet": [one.pk], "pocket_card": [one.person_id]}
    for day in ("2025-07-01", "2025-07-02"):
        assert day in words(qa.get(reverse(f"qualifications:{name}", args=key.get(name)), {"on": day}).content)
    assert PrintedPaper.everything.count() == 2


@pytest.mark.parametrize("name", ["certificate_sheet", "pocket_card", "due_sheet"])
def test_the_addresses_give_pdfs_that_load_nothing(client_of: SignIn, name: str) -> None:
    one = held()
    key: dict[str, Any] = {"certificate_sheet": [one.pk], "pocket_card": [one.person_id]}
    query = {"on": "2025-12-10", "by": "person", "within": "30"}
    response = client_of("auditor").get(reverse(f"qualifications:{name}", args=key.get(name)), query)
    assert response.headers["Content-Type"] == "application/pdf"
    assert response.content[:5] == b"%PDF-"
    assert "default-src 'none'" in response.headers["Content-Security-Policy"]
    assert response.headers["Cache-Control"] == "private, no-cache"
    assert "2025-12-" in words(response.content)


def test_markup_in_a_name_is_text() -> None:
    one = certificate(person("<img src='file:///etc/hostname'>Ada"))
    assert "<img src='file:///etc/hostname'>Ada" in words(certificate_pdf(one, ON))


@pytest.mark.parametrize(
    ("whens", "said"),
    [
        (["weld type is fillet weld", "weld type is not fillet weld"], ""),  # whichever it is
        (["", "weld type is fillet weld"], ""),
        (["weld type is none of fillet weld, build-up", "weld type is fillet weld, build-up"], ""),
        (["weld type is fillet weld"], " (weld type is fillet weld)"),
        (["product is pipe; the pipe is not rotated", "product is pipe; the pipe is rotated"],
         " (product is pipe; the pipe is not rotated, or product is pipe; the pipe is rotated)"),
        (["weld type is not fillet weld", "weld type is butt weld"],
         " (weld type is not fillet weld, or weld type is butt weld)"),
    ],
)  # fmt: skip
def test_a_card_says_once_what_holds_either_way(whens: list[str], said: str) -> None:
    assert where_said(whens) == said


def test_a_card_has_a_side_for_each_certificate_and_type_as_large_as_that_leaves() -> None:
    held = certificate()
    draft = card_draft(held.person, ON)
    (box,) = {tuple(map(float, page.mediabox[2:])) for page in PdfReader(io.BytesIO(pdf(draft))).pages}
    assert box == pytest.approx((85.6 / 25.4 * 72, 54 / 25.4 * 72), abs=0.1)
    assert draft.sides == 2
    sizes = {
        round(size, 1)
        for page in PdfReader(io.BytesIO(pdf(draft))).pages
        for size in re.findall(rb"/\S+ ([\d.]+) Tf", page.get_contents().get_data())
        for size in [float(size)]
    }
    assert 6.6 in sizes or 8.8 in sizes, sizes  # points, or CSS pixels


@pytest.mark.parametrize("system", [System.SI, System.US])
def test_nine_certificates_take_one_side_each_behind_the_front(system: System) -> None:
    """The ranges of a welder to AWS D1.1 are the longest in words."""
    one = person("Ada Krol", identification="W07", employer="Nordhalle")
    butt = FILLET | {"weld_type": "butt_full", "deposit_t": "12", "sides": "ss_nb"}
    for n in range(8):
        certificate(one, number=f"W-{n}", pieces=[butt if n % 2 else FILLET], welded_on=date(2025, 6, 1))
    aws = {"unit_system": "si", "process": "136", "contractor": "Nordhalle", "weld_type": "butt_cjp"}
    aws |= {"product": "plate", "parent_t": "10", "aws_position": "2G", "weld_detail": "ss_mb"}
    certificate(one, number="W-9", code="AWS D1.1:2020 welder", pieces=[aws], welded_on=date(2025, 6, 1))
    (held_aws,) = one.certificates.filter(number="W-9")
    assert "butt weld, full or partial penetration" in words(certificate_pdf(held_aws, ON, system))
    said = words(certificate_pdf(held_aws, ON, system))
    letter = PaperChoice("letter", system.value)
    assert rendered(certificate_draft(held_aws, ON, system), letter, "https://welds.example.com/sheet/{code}/")[1] == 1
    assert "not branch connection" in said
    assert "nothing" not in said
    draft = card_draft(one, ON, system)
    assert draft.sides == 10
    data, sides = rendered(draft, PaperChoice(units=system.value), "https://welds.example.com/sheet/{code}/")
    assert sides == 10
    assert "W-9, AWS D1.1:2020 welder to 2025-12-01" in words(data)


def test_no_line_of_a_range_reads_wider_than_all_together_iso_9606_1_2012_5_3() -> None:
    """A butt weld tested in PF covers PA and PF; a plate on a rotated pipe no more than the PA of these."""
    butt = FILLET | {"weld_type": "butt_cjp", "deposit_t": "12", "weld_detail": "ss_mb", "position": "PF"}
    one = certificate(pieces=[butt])
    where = "product is pipe or hollow section; the pipe is rotated"
    ((listed),) = field_lists(one)
    at = next(at for at, line in enumerate(listed.lines) if line.label == "Position")
    allowed = [line.allowed for line in listed.lines[at : at + 2]]
    assert allowed == ["PA · 1G / 1F, PF · 3G / 3F up", f"only PA · 1G / 1F, where {where}"]
    on_card = words(pdf(card_draft(one.person, ON))).replace("\u00a0", " ")
    assert f"Position PA · 1G / 1F, PF · 3G / 3F up; only PA · 1G / 1F ({where})" in on_card
    assert "Filler group FM1, FM2 Weld" in on_card


def test_a_paper_says_once_that_an_edition_is_not_held() -> None:
    said = words(certificate_pdf(certificate(code="EN 287-1:2004"), ON))
    assert said.count("the register does not hold EN 287-1:2004") == 1
    assert "Not judged on 2025-07-01" in said
    assert "WPS of the test not stated" in said


def test_a_title_ends_its_lines_at_commas_so_that_a_name_is_not_parted() -> None:
    assert broken_at_commas("Certificate W-1, Ada Krol") == "Certificate\u00a0W-1, Ada\u00a0Krol"
    long = "Johanna Margarethe von der Lindenau"
    assert broken_at_commas(f"Certificate W-1, {long}") == f"Certificate\u00a0W-1, {long}"


def test_of_two_lines_without_a_condition_the_narrower_says_only_iso_14732_2013_4_2() -> None:
    unit = {"role": "operator", "mechanisation": "automatic", "process": "135", "run_type": "multi_run", "robot": "yes"}
    ((listed),) = field_lists(certificate(code="ISO 14732:2013", kind="operator", pieces=[unit | {"product": "plate"}]))
    at = next(at for at, line in enumerate(listed.lines) if line.label == "Mechanisation")
    assert [line.allowed for line in listed.lines[at : at + 2]] == ["fully mechanised, automatic", "only automatic"]
