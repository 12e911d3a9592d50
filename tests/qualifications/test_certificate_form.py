"""Entering a certificate: from its designation, by its standard's own fields, or recorded only."""

import re
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from codes.editions import edition
from qualifications.models import Certificate
from qualifications.periods import state
from qualifications.pieces import field_name, read_steels, steels_text
from tests.qualifications.make import FILLET, certificate, person

pytestmark = pytest.mark.django_db
SignIn = Callable[[str], Client]
LINE = "ISO 9606-1 135 P FW FM1 S t10 PB ml"


def text(response: Any) -> str:
    return " ".join(response.content.decode().split())


def new(holder: Any) -> str:
    return reverse("qualifications:certificate_new", args=[holder.pk])


def fields_of(piece: dict[str, str], index: int = 0) -> dict[str, str]:
    return {field_name(index, name): value for name, value in piece.items()}


DATA = {"code": "ISO 9606-1:2012", "kind": "welder", "number": "W-9", "welded_on": "2025-01-31", "option": "a"}


def test_a_designation_fills_the_fields_of_the_test(client_of: SignIn) -> None:
    page = client_of("coordinator").get(new(person()), {"designation": LINE})
    form = page.context["form"]
    assert form.edition.key == "ISO 9606-1:2012"
    shown = {name: form[field_name(0, name)].value() for name in ("process", "position", "parent_t", "weld_type")}
    assert shown == {"process": "135", "position": "PB", "parent_t": "10", "weld_type": "fillet"}
    assert form["designation"].value() == LINE
    assert not Certificate.objects.exists()


def test_a_designation_that_cannot_be_read_is_kept_with_the_reason(client_of: SignIn) -> None:
    page = text(client_of("coordinator").get(new(person()), {"designation": "ISO 9606-1 135 Q FW"}))
    assert "must be P (plate) or T (pipe)" in page
    assert "ISO 9606-1 135 Q FW" in page


def test_a_designation_of_another_edition_leads_to_recorded_only(client_of: SignIn) -> None:
    page = client_of("coordinator").get(new(person()), {"designation": "EN 287-1 135 P FW 1.2 S t10 PB ml"})
    assert page.context["form"].edition is None
    assert "recorded, not judged" in text(page)


def test_what_is_entered_is_kept_in_plain_form_and_judged(client_of: SignIn) -> None:
    holder = person()
    data = DATA | fields_of(FILLET) | {"result_vt": "accepted", "result_bend_root": "2"}
    response = client_of("coordinator").post(new(holder), data)
    assert response.status_code == 302, response.context["form"].errors
    made = Certificate.objects.get()
    assert made.person == holder
    assert made.pieces == [FILLET]
    assert made.results == {"vt": "accepted", "bend_root": "2"}
    assert state(made, made.welded_on).valid


def test_two_processes_keep_their_order_root_first(client_of: SignIn) -> None:
    piece = {
        "process": "141/111",
        "product": "plate",
        "weld_type": "butt_cjp",
        "deposit_t": "4/8",
        "steels": "1.2 S355J2",
    }
    client_of("coordinator").post(new(person()), DATA | fields_of(piece))
    (kept,) = Certificate.objects.get().pieces
    assert kept["process"] == ["141", "111"]
    assert kept["deposit_t"] == ["4", "8"]
    assert kept["steels"][0]["grade"] == "S355J2"


def test_two_pieces_stand_side_by_side(client_of: SignIn) -> None:
    data = DATA | {"pieces": "2"} | fields_of(FILLET) | fields_of(FILLET | {"position": "PF"}, 1)
    client_of("coordinator").post(new(person()), data)
    assert [p["position"] for p in Certificate.objects.get().pieces] == ["PB", "PF"]


@pytest.mark.parametrize(
    ("change", "field", "said"),
    [
        ({"piece1_parent_t": "-3"}, "piece1_parent_t", "negative"),
        ({"piece1_parent_t": "ten"}, "piece1_parent_t", "not a number"),
        ({"piece1_process": "999"}, "piece1_process", "not a known process"),
        ({"piece1_position": "PB/PZ"}, "piece1_position", "not a known position"),
        ({"piece1_steels": "???"}, "piece1_steels", "not a steel"),
        ({"welded_on": "2025-02-30"}, "welded_on", "write year-month-day"),
        ({"results_on": "2025-01-30"}, "results_on", "before the test piece was welded"),
        ({"issued_on": "2025-01-30"}, "issued_on", "before the test piece was welded"),
        ({"number": ""}, "number", "Missing; enter it."),
        ({"kind": "operator"}, "kind", "not one of the available choices"),
    ],
)
def test_a_bad_entry_is_named_at_its_field_and_nothing_is_saved(
    client_of: SignIn, change: dict[str, str], field: str, said: str
) -> None:
    response = client_of("coordinator").post(new(person()), DATA | fields_of(FILLET) | change)
    assert response.status_code == 422
    assert said in str(response.context["form"].errors[field])
    assert not Certificate.objects.exists()


def test_a_number_of_one_examining_body_is_refused_a_second_time(client_of: SignIn) -> None:
    held = certificate(number="W-9", examining_body="North")
    response = client_of("coordinator").post(new(held.person), DATA | {"examining_body": "North"})
    assert "already issued a certificate of this number" in text(response)


def test_without_its_test_a_certificate_is_saved_and_covers_nothing(client_of: SignIn) -> None:
    client_of("coordinator").post(new(person()), DATA)
    page = text(client_of("auditor").get(Certificate.objects.get().get_absolute_url()))
    assert "states no test piece" in page


def test_another_edition_is_recorded_and_never_valid(client_of: SignIn) -> None:
    data = DATA | {"code": "EN 287-1:2004", "designation": "EN 287-1 135 P FW 1.2 S t10 PB ml"}
    assert client_of("coordinator").post(new(person()), data).status_code == 302
    made = Certificate.objects.get()
    assert (made.code, made.pieces) == ("EN 287-1:2004", [])
    assert not state(made, made.welded_on).valid


def test_the_form_of_an_edition_not_held_is_saved_as_it_was_shown(client_of: SignIn) -> None:
    """The form of such an edition has no test piece; what it sends besides the entries is taken too."""
    browser, code = client_of("coordinator"), "EN 287-1:2004"
    holder = person()
    shown = browser.get(new(holder), {"code": code}).content.decode()
    hidden = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', shown))
    assert hidden["code"] == code
    assert browser.post(new(holder), DATA | hidden).status_code == 302


def test_a_test_piece_of_tomorrow_is_refused(client_of: SignIn) -> None:
    tomorrow = (timezone.localdate() + timedelta(days=1)).isoformat()
    answer = client_of("coordinator").post(new(person()), DATA | {"welded_on": tomorrow})
    assert answer.status_code == 422
    assert "still to come" in text(answer)


def test_changing_keeps_what_has_no_field(client_of: SignIn) -> None:
    held = certificate(pieces=[FILLET | {"heat_input": "1.2"}], facts={"seen": "original"})
    data = DATA | {"number": "W-1", "examining_body": "Test House North"} | fields_of(FILLET | {"parent_t": "12"})
    data["seen_version"] = held.changed_at.isoformat()
    response = client_of("coordinator").post(reverse("qualifications:certificate_edit", args=[held.pk]), data)
    assert response.status_code == 302, response.context["form"].errors
    held.refresh_from_db()
    assert held.pieces == [FILLET | {"heat_input": "1.2", "parent_t": "12"}]
    assert held.facts == {"seen": "original"}


def test_the_form_shows_what_is_on_file(client_of: SignIn) -> None:
    piece = {"process": ["141", "111"], "steels": [{"group": "1.2", "grade": "S355J2"}, {"group": "8.1", "grade": ""}]}
    held = certificate(pieces=[piece], option="c", facts={"iso_3834": "3"})
    form = client_of("coordinator").get(reverse("qualifications:certificate_edit", args=[held.pk])).context["form"]
    assert form["piece1_process"].value() == "141/111"
    assert form["piece1_steels"].value() == "1.2 S355J2 + 8.1"
    assert form["fact_iso_3834"].value() == "3"


@pytest.mark.parametrize("pieces", ["0", "7", "x"])
def test_a_number_of_pieces_that_is_none_is_refused(client_of: SignIn, pieces: str) -> None:
    response = client_of("coordinator").get(new(person()), {"code": "ISO 9606-1:2012", "pieces": pieces})
    assert response.status_code == 400


def test_every_field_of_every_edition_is_on_the_form(client_of: SignIn) -> None:
    page = client_of("coordinator").get(new(person()), {"code": "ISO 9606-1:2012"})
    missing = [
        f.name for f in edition("ISO 9606-1:2012").fields if field_name(0, f.name) not in page.context["form"].fields
    ]
    assert missing == []


@pytest.mark.parametrize("typed", ["1.2", "1.2 S355J2", "1.2 S355J2 + 8.1", "S355J2"])
def test_steels_read_back_as_typed(typed: str) -> None:
    assert steels_text(read_steels("steels", typed)) == typed


def test_a_number_of_pieces_beyond_all_numbers_is_refused(client_of: SignIn) -> None:
    """More digits than Python turns into a number."""
    assert client_of("coordinator").get(f"{new(person())}?code=ISO 9606-1:2012&pieces={'9' * 5000}").status_code == 400
