"""Taking the codes into service: clauses with ticks, tables as data, readings with who set them and why."""

import re
from urllib.parse import urlencode

import pytest
from django.contrib.auth.models import User
from django.core.exceptions import PermissionDenied
from django.db import IntegrityError, connection, transaction
from django.urls import reverse

from codes.check import check
from codes.clauses import Mark
from codes.editions import all_editions, edition
from codes.parse import parse_values
from register.held.clause_views import clause_rows
from register.held.firm import check_clause, firm_settings, resting_on, set_reading, switches, ticked
from register.held.models import ClauseCheck, FirmReading
from register.held.standards import JUDGED, anchor_of, standards
from register.held.tables import data_tables, held_clauses
from register.held.views import package_of
from register.models import AuditEntry

KEY = "iso_9606_1_mode_136"
T6 = "ISO 9606-1:2012, 5.7, Table 6"
BUTT = {
    "process": "135", "transfer_mode": "dip", "product": "plate", "weld_type": "butt_cjp", "filler_group": "FM1",
    "filler_type": "S", "deposit_t": 10, "layers": 3, "position": "PF", "weld_detail": "ss_nb",
}  # fmt: skip


US_RECORD = {
    "unit_system": "us", "process": "135", "product": "plate", "weld_type": "butt_cjp", "aws_position": "3G",
    "progression": "uphill", "parent_t": 25, "deposit_t": 25, "filler_designation": "ER70S-6", "impact_tested": "yes",
    "heat_input": 1, "p_number": "P1", "f_number": "F6", "a_number": "A1", "preheat": 20, "interpass": 200,
    "pwht": "no", "mechanisation": "partly_mechanised", "position": "PF", "current_type": "DC+",
    "transfer_mode": "spray",
}  # fmt: skip


def test_every_edition_has_clauses_and_tables():
    held = {clause.standard for clause in held_clauses()}
    for known in all_editions():
        same_figures = package_of(known).endswith(("2008", "2015", "people_2023"))
        assert data_tables(package_of(known)) or same_figures, known.key
    assert {"ISO 9606-1:2012", "ISO 15614-1:2017", "ISO 14732:2013", "EN 1090-2:2018"} <= held


def test_a_clause_with_several_marks_is_listed_by_the_least_certain():
    found = {clause.key: clause for clause in held_clauses()}
    assert found[T6].mark is Mark.DOUBT  # one row is a strict reading, others are from memory


def test_every_clause_that_a_certificate_cites_is_listed():
    keys = {clause.key for clause in held_clauses()}
    (limits,) = edition("ISO 9606-1:2012").limit_sets([parse_values(BUTT)], {})
    assert {str(limit.clause) for limit in limits.limits} <= keys


@pytest.mark.parametrize("code", ["AWS D1.1:2020", "AWS D1.1:2015", "ASME IX:2017", "ASME IX:2023"])
def test_every_clause_that_a_us_record_cites_can_be_ticked(code: str):
    """Nonessential variables apart: their advice names a row of the list, and never decides."""
    keys = {clause.key for clause in held_clauses()}
    found = [limit for one in edition(code).limit_sets([parse_values(US_RECORD)], {}) for limit in one.limits]
    cited = {str(limit.clause) for limit in found if "nonessential" not in limit.because}
    assert len(cited) > 15 and not cited - keys


@pytest.mark.parametrize("code", ["ASME IX:2023 welder", "AWS D1.1:2015 welder"])
def test_a_certificate_to_a_sister_edition_cites_only_what_can_be_ticked(code: str):
    keys = {clause.key for clause in held_clauses()}
    cited = {
        str(limit.clause) for one in edition(code).limit_sets([parse_values(US_RECORD)], {}) for limit in one.limits
    }
    assert cited and not cited - keys


def test_a_paragraph_is_listed_under_the_editions_that_have_it():
    keys = {clause.key for clause in held_clauses()}
    assert "ASME IX:2017, QW-405.2" in keys and "ASME IX:2019, QW-405.2" not in keys
    assert "AWS D1.1:2015, 4.8, Table 4.5, line 27; Table 4.1" in keys


def test_the_rows_of_a_table_are_shown_as_they_are():
    table = next(t for t in data_tables("iso_9606_1_2012") if t.name == "Filler groups")
    assert table.rows[0] == ("FM1", "FM1, FM2", "confirmed")


def test_a_reading_counts_from_when_it_is_set_and_says_who_and_why(coordinator):
    assert firm_settings() == {}
    set_reading(coordinator, KEY, "named", "clause 5.2 of our own copy names three processes")
    assert firm_settings() == {KEY: "named"}
    set_reading(coordinator, KEY, "strict", "the client asked for it")
    assert firm_settings() == {KEY: "strict"}
    assert [reading.by_name for reading in FirmReading.objects.all()] == ["coordinator", "coordinator"]
    entry = AuditEntry.objects.first()
    assert (entry.before, entry.after, entry.note) == (
        {"option": "named"},
        {"option": "strict", "at": entry.after["at"]},
        "the client asked for it",
    )


@pytest.mark.parametrize(
    ("key", "option", "why", "problem"),
    [
        ("none such", "strict", "x", "no doubtful rule"),
        (KEY, "loose", "x", "Choose one of"),
        (KEY, "named", " ", "why"),
    ],
)
def test_a_reading_needs_a_known_rule_a_known_option_and_a_reason(coordinator, key, option, why, problem):
    with pytest.raises(ValueError, match=problem):
        set_reading(coordinator, key, option, why)
    assert not FirmReading.objects.exists()


@pytest.mark.django_db
def test_a_reading_that_no_edition_knows_any_more_is_left_out():
    FirmReading.objects.create(by_name="x", switch="gone", option="strict", why="old")
    FirmReading.objects.create(by_name="x", switch=KEY, option="gone", why="old")
    assert firm_settings() == {}


def test_a_tick_takes_a_clause_off_what_a_verdict_rests_on_and_can_be_taken_back(coordinator):
    (limits,) = edition("ISO 9606-1:2012").limit_sets([parse_values(BUTT)], {})
    verdict = check(parse_values(BUTT), limits)
    assert T6 in resting_on([verdict])
    check_clause(coordinator, T6, True, "edition of 2017, page 21")
    assert T6 in ticked() and T6 not in resting_on([verdict])
    check_clause(coordinator, T6, False)
    assert T6 in resting_on([verdict])
    with pytest.raises(ValueError, match="no clause"):
        check_clause(coordinator, "ISO 1, 1", True)


@pytest.mark.parametrize("model", [ClauseCheck, FirmReading])
def test_what_was_stated_once_stays_in_the_model_and_in_the_database(coordinator, model):
    set_reading(coordinator, KEY, "named", "a reason")
    check_clause(coordinator, T6, True)
    row = model.objects.get()
    with pytest.raises(PermissionDenied):
        row.save()
    with pytest.raises(PermissionDenied):
        row.delete()
    for change in ("UPDATE {0} SET by_name = 'somebody'", "DELETE FROM {0}"):
        with pytest.raises(IntegrityError), transaction.atomic(), connection.cursor() as cursor:
            cursor.execute(change.format(model._meta.db_table))


def test_the_pages_show_and_change_what_they_say(client_of):
    client = client_of("coordinator")
    for name in ("held:codes", "held:clauses", "held:readings"):
        assert client.get(reverse(name)).status_code == 200
    page = reverse("held:reading", kwargs={"key": KEY})
    assert client.post(page, {"option": "named", "why": ""}).status_code == 422
    done = client.post(page, {"option": "named", "why": "our copy says so"})
    assert (done.status_code, done["Location"]) == (302, reverse("held:readings") + "#" + anchor_of(switches()[KEY]))
    shown = client.get(reverse("held:readings")).content.decode()
    assert "our copy says so" in shown and "(in force)" in shown
    assert client.get(reverse("held:check")).headers["Location"] == reverse("held:clauses")
    assert client.post(reverse("held:check"), {"clause": T6, "agrees": "yes"}).status_code == 302
    assert "coordinator," in client.get(reverse("held:clauses"), {"standard": "ISO 9606-1:2012"}).content.decode()
    refused = client.post(reverse("held:check"), {"clause": "nonsense", "agrees": "yes"}, follow=True)
    assert "holds no clause" in refused.content.decode()
    for package in dict.fromkeys(map(package_of, all_editions())):
        tables = client.get(reverse("held:tables", kwargs={"package": package})).content.decode()
        assert "<table" in tables or "The figures are those of" in tables, package
    assert client.get(reverse("held:tables", kwargs={"package": "door"})).status_code == 404
    assert client.get("/codes/readings/none/").status_code == 404


def test_each_doubtful_rule_stands_once_under_its_standard_in_the_order_of_the_clauses(coordinator, client_of):
    set_reading(coordinator, KEY, "named", "our copy says so")
    found = standards()
    names = [one.name for one in found]
    assert names == sorted(names) == ["ASME IX", "AWS D1.1", "EN 1090-2", "ISO 14732", "ISO 15614-1", "ISO 9606-1"]
    keys = [rule.switch.key for one in found for rule in one.rules]
    assert sorted(keys) == sorted(switches())
    by_name = {one.name: one for one in found}
    # ISO 14732 asks by the same switch; the rule is that of ISO 9606-1, Table 10.
    assert "iso_9606_1_fillet_ph_pc" in [rule.switch.key for rule in by_name["ISO 9606-1"].rules]
    borrowed = next(rule for rule in by_name["ISO 9606-1"].rules if rule.switch.key == "iso_9606_1_fillet_ph_pc")
    assert borrowed.judges == "welders, operators"
    assert [one.set for one in found if one.set] == [1] and by_name["ISO 9606-1"].set == 1
    procedure = [rule.switch.clause for rule in by_name["ISO 15614-1"].rules]
    assert procedure.index("ISO 15614-1:2017, 8.4.3") < procedure.index("ISO 15614-1:2017, 8.5.1")
    page = client_of("auditor").get(reverse("held:readings")).content.decode()
    for one in found:
        assert f'href="#{one.anchor}"' in page and f'id="{one.anchor}"' in page
    for key, switch in switches().items():
        assert page.count(f'id="{anchor_of(switch)}"') == 1, key
    assert "tack_welder" not in client_of("auditor").get(reverse("held:codes")).content.decode()


def test_every_kind_of_edition_is_named_in_words():
    assert {kind for edition in all_editions() for kind in edition.kinds} == set(JUDGED)


def test_what_is_still_to_check_and_where_a_tick_leads_back(client_of):
    """A page of some hundred clauses: by standard, those not checked alone, and back to the next one."""
    client = client_of("coordinator")
    page = reverse("held:clauses")
    rows = clause_rows()
    mine = next(row for row in rows if row.clause.key == T6)
    following = next(row.at for row in rows[mine.at + 1 :] if row.is_open)
    of = {"standard": "ISO 9606-1:2012"}
    assert mine.is_open and f'id="c{mine.at}"' in client.get(page, of | {"show": "open"}).content.decode()
    ticked_ = {"clause": T6, "agrees": "yes"}
    place = urlencode(of)
    assert client.post(reverse("held:check"), ticked_).url == f"{page}?{place}#c{mine.at}"
    left = client.post(reverse("held:check"), ticked_ | {"show": "open"}).url
    assert left == f"{page}?show=open&{place}#c{following}"
    shown = client.get(page, of | {"show": "open"}).content.decode()
    assert f'id="c{mine.at}"' not in shown and f'id="c{mine.at}"' in client.get(page, of).content.decode()
    sure = next(row for row in rows if row.clause.mark is Mark.CONFIRMED)
    assert f'id="c{sure.at}"' not in shown
    overview = client.get(page).content.decode()
    assert "standard=ISO%209606-1%3A2012" in overview and 'id="c' not in overview
    assert client.get(page, {"standard": "ISO 1"}).status_code == 400
    assert client.post(reverse("held:check"), {"clause": "nonsense", "show": "open"}).url == f"{page}?show=open"


def test_what_is_still_to_check_leaves_out_standards_of_which_nothing_is(client_of):
    client, page = client_of("auditor"), reverse("held:clauses")
    every = {row.clause.standard for row in clause_rows()}
    left = {row.clause.standard for row in clause_rows() if row.is_open}
    gone = every - left
    assert left and gone
    whole, shown = client.get(page), client.get(page, {"show": "open"})
    assert {one["name"] for one in whole.context["standards"]} == every
    assert {one["name"] for one in shown.context["standards"]} == left
    assert all(one["open"] for one in shown.context["standards"])
    assert f"Of {len(gone)} more standard" in shown.content.decode() and "more standard" not in whole.content.decode()


def test_where_nothing_is_left_to_check_it_says_so(client_of, monkeypatch):
    monkeypatch.setattr("register.held.clause_views.Row.is_open", False)
    said = client_of("auditor").get(reverse("held:clauses"), {"show": "open"}).content.decode()
    assert "Nothing is left to check" in said and "<table" not in said


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_the_clauses_are_taken_away_with_their_ticks(client_of, kind):
    client = client_of("auditor")
    check_clause(User.objects.get(username="coordinator"), T6, True, "edition of our own")
    answer = client.get(reverse("held:clauses"), {"export": kind})
    assert answer.status_code == 200 and f"clauses.{kind}" in answer["Content-Disposition"]
    if kind == "csv":
        text = b"".join(answer.streaming_content).decode("utf-8-sig")
        assert len(text.splitlines()) == 1 + len(held_clauses())
        line = next(line for line in text.splitlines() if line.startswith("ISO 9606-1:2012") and "Table 6" in line)
        assert "coordinator" in line and "edition of our own" in line
    assert client.get(reverse("held:clauses"), {"export": "pdf"}).status_code == 400


def test_the_number_of_queries_does_not_grow_with_the_clauses(client_of, django_assert_max_num_queries):
    client = client_of("auditor")
    with django_assert_max_num_queries(6):
        client.get(reverse("held:clauses"))


def test_every_switch_has_its_default_among_its_options():
    for key, switch in switches().items():
        assert switch.default in switch.options, key
        assert len(switch.options) > 1 and switch.question and switch.clause, key


@pytest.mark.django_db
def test_the_form_of_a_reading_names_the_standard_and_begins_its_readings_with_a_capital(client_of):
    page = client_of("coordinator").get(reverse("held:reading", args=["iso_9606_1_mig_mag"])).content.decode()
    assert "(ISO 9606-1, 5.2)" in page
    assert "Strict: 131 covers 131 only" in page and "Lenient: 131 and 135 cover each other" in page
    page = client_of("coordinator").get(reverse("held:reading", args=["asme_ix_f5_covers_f1"])).content.decode()
    assert "(ASME IX, " in page and "With backing only" in page
    page = client_of("coordinator").get(reverse("held:reading", args=["15614-1 CO2 content"])).content.decode()
    assert page.count("ISO 15614-1") == 1


def test_the_list_of_clauses_names_no_source_where_there_is_none():
    assert not [one.key for one in held_clauses() if "from memory" in one.cited.split("; ")]


@pytest.mark.django_db
def test_a_reading_that_is_set_is_told_by_what_it_says_with_the_day_as_everywhere(client_of):
    page = reverse("held:reading", args=["iso_9606_1_mig_mag"])
    answer = client_of("coordinator").post(page, {"option": "wide", "why": "our own copy"}, follow=True)
    text = answer.content.decode()
    assert "In force from now on: Lenient: 131 and 135 cover each other." in text
    assert re.search(r"Set by coordinator on \d{4}-\d\d-\d\d: our own copy", text)
