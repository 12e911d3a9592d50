"""`python -m codes`: what several records of ASME IX earn together and none of them alone."""

import json

import pytest

from codes.__main__ import main
from tests.codes.asme_ix_cases import ASKED, BASES, COMMON, TESTED

STICK = COMMON | BASES["SMAW"]
TIG = COMMON | BASES["GTAW"]


def plain(stated):
    """As one writes it: metals by P-number, blanks left out."""
    grade = [{"grade": stated["steels"]}]
    return {name: value for name, value in (stated | {"steels": grade}).items() if value != ""}


def record(base, label, code="ASME IX:2021", **changed):
    return {"kind": "pqr", "code": code, "label": label, "tested": plain(base | TESTED | changed)}


def ask(records, demand, **more):
    code, printed = main([], json.dumps({"records": records, "demand": demand} | more).encode())
    return code, json.loads(printed)


def joint(base, **changed):
    return plain(base | ASKED | changed)


ROOT = record(TIG, "PQR-1", parent_t="13", deposit_t="5")
FILL = record(STICK, "PQR-2", parent_t="40", deposit_t="40")


@pytest.mark.parametrize(
    ("records", "t", "deposit", "code"),
    [
        ((ROOT, FILL), "100", "10", 0),
        ((ROOT, FILL), "100", "10.1", 1),
        ((ROOT, FILL), "200.1", "10", 1),
        ((ROOT,), "100", "10", 1),
        # Root relief starts at a coupon of 13 mm.
        ((record(TIG, "PQR-1", parent_t="12.9", deposit_t="5"), FILL), "100", "10", 1),
    ],
)
def test_a_root_by_one_record_on_the_base_thickness_of_another(records, t, deposit, code):
    """QW-200.4(b), from memory: root layers to 2 t by their own record of 13 mm or more."""
    got, answer = ask(list(records), joint(TIG, place="root", parent_t=t, deposit_t=deposit))
    assert got == code, answer["sentence"]
    if code == 0:
        assert answer["verdict"]["record"].startswith("PQR-1, process 141, root with the base thickness of PQR-2")


@pytest.mark.parametrize(
    ("year", "deposit", "code"),
    [("2019", "5.5", 0), ("2019", "5.6", 1), ("2019", "10", 1), ("2021", "10", 0), ("2021", "10.1", 1)],
)
def test_a_short_circuiting_root_keeps_its_own_deposit_limit(year, deposit, code):
    """QW-200.4(b) sends short-circuiting transfer to QW-404.32: 1.1 t under 13 mm, in procedures to 2019."""
    gmaw = COMMON | BASES["GMAW"] | {"transfer_mode": "dip"}
    root = record(gmaw, "PQR-1", f"ASME IX:{year}", parent_t="14", deposit_t="5")
    fill = record(STICK, "PQR-2", f"ASME IX:{year}", parent_t="40", deposit_t="35")
    got, answer = ask([root, fill], joint(gmaw, place="root", parent_t="100", deposit_t=deposit))
    assert got == code, answer["sentence"]


def test_reasons_name_records_as_the_question_does():
    """Not "record 1": whoever asked named them."""
    _, answer = ask([ROOT, FILL], joint(TIG, place="root", parent_t="100", deposit_t="10.1"))
    assert "root layers by PQR-1, process 141" in answer["sentence"], answer["sentence"]


def test_records_of_two_editions_are_never_put_together():
    """Each edition by itself: the fill's record of 2019 lends nothing to a root of 2021."""
    older = record(STICK, "PQR-2", "ASME IX:2019", parent_t="40", deposit_t="40")
    got, answer = ask([ROOT, older], joint(TIG, place="root", parent_t="100", deposit_t="10"))
    assert (got, answer["reasons"]) == (1, ["base_thickness"])


@pytest.mark.parametrize(("second", "t", "code"), [("6", "6", 0), ("6", "5.9", 1), ("5.9", "5", 0), ("5.9", "4.9", 1)])
def test_a_second_coupon_for_toughness_extends_the_low_end(second, t, code):
    """QW-403.6 with IX-07-09: T from 6 mm on, T / 2 below it, and never below the 5 mm of the full coupon of 25 mm."""
    full = record(STICK, "PQR-3", impact_tested="yes", parent_t="25", deposit_t="25")
    extra = record(STICK, "PQR-4", impact_tested="yes", toughness_only="yes", parent_t=second, deposit_t=second)
    asked = joint(STICK, impact_required="yes", parent_t=t, deposit_t=t)
    assert ask([full, extra], asked)[0] == code
    assert ask([full], asked)[0] == 1


@pytest.mark.parametrize(("group", "code"), [("P-1 Gr 2", 0), ("P-1 Gr 3", 1)])
def test_two_groups_of_one_p_number_cover_their_mixed_pair(group, code):
    """QW-403.5, uploads of QW-253 of 2011a."""
    both = [record(STICK, f"PQR-{n}", impact_tested="yes", deposit_t="12", steels=f"P-1 Gr {n}") for n in (1, 2)]
    asked = joint(STICK, impact_required="yes", deposit_t="12") | {"steels": [{"grade": "P-1 Gr 1"}, {"grade": group}]}
    got, answer = ask(both, asked)
    assert got == code, answer["sentence"]
    assert ask(both[:1], asked)[0] == 1


@pytest.mark.parametrize(("reading", "code"), [("strict", 1), ("lenient", 0)])
def test_the_firm_chooses_whether_records_of_two_groups_must_be_alike(reading, code):
    """QW-403.5: the second record was welded a little colder."""
    both = [
        record(STICK, f"PQR-{n}", impact_tested="yes", deposit_t="12", steels=f"P-1 Gr {n}", interpass=t)
        for n, t in ((1, "150"), (2, "149"))
    ]
    metals = [{"grade": "P-1 Gr 1"}, {"grade": "P-1 Gr 2"}]
    asked = joint(STICK, impact_required="yes", deposit_t="12") | {"steels": metals}
    got, answer = ask(both, asked, settings={"asme ix two groups of one P-number": reading})
    assert got == code, answer["sentence"]
    assert code or any("two groups of one P-number" in one for one in answer["verdict"]["readings"]), answer["verdict"]


def test_what_is_not_asked_is_not_judged_of_records_together_either():
    asked = {"process": "141", "place": "root", "parent_t": 100, "deposit_t": 10}
    assert ask([ROOT, FILL], asked, unstated="not asked")[0] == 0
    assert ask([ROOT, FILL], asked | {"deposit_t": "10.1"}, unstated="not asked")[0] == 1


def test_a_fillet_coupon_is_supposed_to_serve_fillets_without_pressure():
    """QW-202.2(c): it serves them only; a what-if supposes so where nothing is said, and not where it is."""
    coupon = record(STICK, "PQR-5", weld_type="fillet", joint_type="tee", deposit_t="")
    asked = {"process": "111", "weld_type": "fillet", "leg_z": 8}
    assert ask([coupon], asked, unstated="as tested")[0] == 0
    assert ask([coupon], asked | {"pressure_retaining": "yes"}, unstated="as tested")[0] == 1


def test_what_no_coupon_can_have_is_named_with_its_record():
    got, answer = ask([FILL, record(STICK, "PQR-6", parent_t="0")], joint(STICK))
    assert (got, answer["error"]["field"]) == (3, "records[1].tested.parent_t")


def test_a_range_with_one_end_reads_as_a_sentence():
    got, answer = ask([record(STICK, "PQR-7", preheat="120")], joint(STICK, preheat="60"))
    assert got == 1
    assert "60 °C is outside the range from 65 °C, by 5 °C" in answer["sentence"]
