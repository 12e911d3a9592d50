"""AWS D1.1: the conditions that decide which limit is drawn, each asked on both sides and at its edge."""

from decimal import Decimal as D

import pytest

from codes.aws_d1_1.base_metals import entry_of, same_steel
from codes.aws_d1_1.book import BOOK_2015, BOOK_2020
from codes.aws_d1_1.fillers import classify
from codes.aws_d1_1.gases import mixture
from codes.aws_d1_1.unit_sets import Units
from codes.aws_d1_1_2020.consumable import OfClass
from codes.aws_d1_1_2020.switches import PASS_VALUES
from codes.aws_d1_1_look_ups import minimum_pjp_size
from codes.aws_d1_1_prequalified import prequalified
from codes.check import best
from codes.editions import edition
from codes.values import Steel
from codes.verdict import Verdict
from tests.codes import aws_people_asks
from tests.codes.aws_cases import changes, demand_of, record_of, values
from tests.codes.aws_written import BASES

CODE = edition("AWS D1.1:2020")
TOUGH, NEEDED = "impact_tested=yes; heat_input=1.5", "impact_required=yes; heat_input=1.5; heat_measure=arc_energy"


def ask(base: str, record: str, demand: str = "") -> Verdict:
    return best(demand_of(base, record, demand), CODE.limit_sets(record_of(base, record), {}))


def answer(verdict: Verdict, variable: str) -> str:
    """The worst answer about one variable."""
    found = [f.outcome for f in verdict.findings if f.variable == variable]
    return min(found, key=lambda outcome: outcome.rank).value if found else "silent"


@pytest.mark.parametrize(
    ("place", "line", "in_2020", "in_2015"),
    [
        ("CJP", "", "Table 6.2", "Table 4.2"),
        ("variables", "17", "6.8, Table 6.5, 2015 line 17", "4.8, Table 4.5, line 17"),
    ],
)
def test_a_place_and_a_line_are_those_of_the_edition(place: str, line: str, in_2020: str, in_2015: str) -> None:
    """The numbers of the lines are those of 2015, and a verdict to 2020 says so."""
    for book, ref in ((BOOK_2020, in_2020), (BOOK_2015, in_2015)):
        assert (book.line(line) if line else book.clause(place)).ref == ref


# Designation -> name, family, specification, ksi, low-hydrogen, usability, gas, ml, general. A5.1, A5.5, A5.18, A5.28,
# A5.20, A5.29, A5.17 and A5.23 name their classes so (common practice).
CLASSES = {
    "E6010": ("E6010", "SMAW", "A5.1", 60, False, "10", "", None, False),
    "E7014": ("E7014", "SMAW", "A5.1", 70, False, "14", "", None, False),
    "E7018": ("E7018", "SMAW", "A5.1", 70, True, "18", "", None, False),
    "E7018-1 H4R": ("E7018", "SMAW", "A5.1", 70, True, "18", "", 4, False),
    "E7018M": ("E7018M", "SMAW", "A5.1", 70, True, "18", "", None, False),
    "E8018": ("E8018", "SMAW", "A5.5", 80, True, "18", "", None, False),
    "E8018-C3 H8": ("E8018-C3", "SMAW", "A5.5", 80, True, "18", "", 8, False),
    "E8018-G": ("E8018-G", "SMAW", "A5.5", 80, True, "18", "", None, True),
    "E7018-G": ("E7018-G", "SMAW", "A5.5", 70, True, "18", "", None, True),
    "ER70S-6": ("ER70S-6", "WIRE", "A5.18", 70, True, "6", "C", None, False),
    "ER70S-2": ("ER70S-2", "WIRE", "A5.18", 70, True, "2", "C", None, False),
    "ER70S-G": ("ER70S-G", "WIRE", "A5.18", 70, True, "G", "", None, True),
    "ER80S-D2": ("ER80S-D2", "WIRE", "A5.28", 80, True, "D2", "", None, False),
    "ER80S-G": ("ER80S-G", "WIRE", "A5.28", 80, True, "G", "", None, True),
    "ER70S-A1": ("ER70S-A1", "WIRE", "A5.28", 70, True, "A1", "", None, False),
    "E70C-6M H4": ("E70C-6M", "WIRE", "A5.18", 70, True, "6M", "M", 4, False),
    "E70C-3C": ("E70C-3C", "WIRE", "A5.18", 70, True, "3C", "C", None, False),
    "E80C-Ni1": ("E80C-NI1", "WIRE", "A5.28", 80, True, "NI1", "", None, False),
    "E71T-1C": ("E71T-1C", "FCAW", "A5.20", 70, True, "1", "C", None, False),
    "E71T-9M H8": ("E71T-9M", "FCAW", "A5.20", 70, True, "9", "M", 8, False),
    "E71T-8": ("E71T-8", "FCAW", "A5.20", 70, True, "8", "", None, False),
    "E71T-GS": ("E71T-GS", "FCAW", "A5.20", 70, True, "GS", "", None, False),
    "E71T-G": ("E71T-G", "FCAW", "A5.20", 70, True, "G", "", None, True),
    "E81T1-Ni1M": ("E81T1-NI1M", "FCAW", "A5.29", 80, True, "1", "M", None, False),
    "E81T1-GC": ("E81T1-GC", "FCAW", "A5.29", 80, True, "1", "C", None, True),
    "F7A2-EM12K": ("F7A2-EM12K", "SAW", "A5.17", 70, True, "EM12K", "", None, False),
    "F6A0-EL12": ("F6A0-EL12", "SAW", "A5.17", 60, True, "EL12", "", None, False),
    "F7A2-EH14": ("F7A2-EH14", "SAW", "A5.17", 70, True, "EH14", "", None, False),
    "F7A2-ENi1": ("F7A2-ENI1", "SAW", "A5.23", 70, True, "ENI1", "", None, False),
    "F8A4-EM12K": ("F8A4-EM12K", "SAW", "A5.23", 80, True, "EM12K", "", None, False),
    "F9A2-EG": ("F9A2-EG", "SAW", "A5.23", 90, True, "EG", "", None, True),
}


@pytest.mark.parametrize("written", CLASSES)
def test_a_class_as_written_on_the_packet(written: str) -> None:
    found = classify(written)
    assert found is not None
    assert (
        found.name,
        found.family,
        found.specification,
        found.strength_ksi,
        found.low_hydrogen,
        found.usability,
        found.gas,
        found.hydrogen_ml,
        found.general,
    ) == CLASSES[written]


@pytest.mark.parametrize(
    "written", ["E5018", "E13018", "E7018-", "ER70-6", "E71-1C", "F7-EM12K", "G 42 4 M21", "", "ER50S-6"]
)
def test_what_is_no_class_of_the_specifications(written: str) -> None:
    assert classify(written) is None


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("90Ar/10CO2", (("AR", 90), ("CO2", 10))),
        ("Ar + 25% CO2", (("AR", 75), ("CO2", 25))),
        ("CO2", (("CO2", 100),)),
        ("Ar", (("AR", 100),)),
        ("none", ()),
        ("No gas", ()),
        ("90Ar/8CO2/2O2", (("AR", 90), ("CO2", 8), ("O2", 2))),
        ("100Ar/CO2", None),
        ("101Ar/CO2", None),
        ("99.9Ar/CO2", (("AR", D("99.9")), ("CO2", D("0.1")))),
        ("90Ar/5CO2", None),
        ("90Ar/11CO2", None),
        ("Ar/CO2", None),
        ("50Ar/50Ar", None),
        ("", None),
        ("Xe", None),
    ],
)
def test_a_mixture_adds_up_or_is_not_read(written: str, read: object) -> None:
    """One component may leave out its share, which is then the rest and more than nothing; none stands twice."""
    assert mixture(written) == read


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("10ХСНД", "10хснд", True),
        ("10ХСНД", "10ХНДП", False),
        ("-", "?", False),
        ("", "", False),
        ("A36", "ASTM A36", True),
    ],
)
def test_a_steel_that_is_not_listed_is_told_by_its_whole_name(one: str, other: str, same: bool) -> None:
    """GOST 19281 (from memory): two steels of one number. A dash is no grade."""
    assert same_steel(Steel(grade=one), Steel(grade=other)) is same


def test_a_steel_of_another_yield_is_another_steel() -> None:
    one = Steel("", D(345), "A572 Gr. 50")
    assert same_steel(one, Steel("", D(345), "a572-50")) and same_steel(one, Steel("", None, "A572-50"))
    assert not same_steel(one, Steel("", D(290), "A572-50")) and not same_steel(one, Steel("", D(345), "A36"))
    assert not same_steel(Steel("", D(345), ""), Steel("", D(345), ""))


@pytest.mark.parametrize(
    ("grade", "thickness", "thin"),
    [("A36", "19.05", True), ("A36", "19.051", False), ("A710 A Cl 2", "50.8", True), ("A710 A Cl 2", "50.801", False)],
)
def test_a_grade_changes_its_group_above_its_figure(grade: str, thickness: str, thin: bool) -> None:
    """Table 5.3 and Table 6.8: A36 at 3/4 in, A710 at 2 in, the figure itself being of the thinner row."""
    entry = entry_of(Steel(grade=grade))
    assert entry is not None
    groups = [entry.group(D(t), Units.US) for t in ("1", "200")]
    assert groups[0] != groups[1]
    assert entry.group(D(thickness), Units.US) == groups[0 if thin else 1]


def test_a_weaker_class_is_one_of_the_same_kind() -> None:
    """Table 6.5, line 3: a lower strength is allowed, of the same kind of filler."""
    tested = classify("E8018-C3")
    assert tested is not None
    weaker = OfClass(tested, or_weaker=True)
    found = {name: weaker.admits(name) for name in ("E7018", "E8018-C3", "E8018-G", "E9018-B3", "ER70S-6", "E71T-1C")}
    assert found == dict.fromkeys(found, False) | {"E7018": True, "E8018-C3": True}
    assert not OfClass(tested).admits("E7018") and not weaker.admits(D(70))


@pytest.mark.parametrize(
    ("base", "record", "demand", "variable", "expected"),
    [
        ("GMAW", "", "filler_designation=E71T-1C", "filler_designation", "outside"),
        ("GMAW", "", "filler_designation=ER70S-6", "filler_designation", "covered"),
        # Lines 7 to 9: what is added to a submerged arc is kept, its share not raised.
        ("SAW", "extra_filler=powder; extra_filler_ratio=10", "extra_filler_ratio=10", "extra_filler_ratio", "covered"),
        (
            "SAW",
            "extra_filler=powder; extra_filler_ratio=10",
            "extra_filler_ratio=10.1",
            "extra_filler_ratio",
            "outside",
        ),
        ("SAW", "extra_filler=powder; extra_filler_ratio=", "extra_filler_ratio=5", "extra_filler_ratio", "not stated"),
        ("SAW", "extra_filler=none", "extra_filler_ratio=5", "extra_filler_ratio", "silent"),
        # A self-shielded wire has no gas, whether or not the record says so; others have to say which.
        ("FCAW", "process=114; filler_designation=E71T-8; gas_mixture=", "gas_mixture=", "gas_mixture", "covered"),
        ("FCAW", "process=114; filler_designation=E71T-8; gas_mixture=", "gas_mixture=CO2", "gas_mixture", "outside"),
        ("FCAW", "gas_mixture=", "gas_mixture=CO2", "gas_mixture", "not stated"),
        # CVN, line 5: virgin flux stays virgin; crushed slag in the test binds nothing.
        ("SAW", f"{TOUGH}; flux_recrushed=no", f"{NEEDED}; flux_recrushed=yes", "flux_recrushed", "outside"),
        ("SAW", f"{TOUGH}; flux_recrushed=no", f"{NEEDED}; flux_recrushed=no", "flux_recrushed", "covered"),
        ("SAW", f"{TOUGH}; flux_recrushed=yes", f"{NEEDED}; flux_recrushed=yes", "flux_recrushed", "silent"),
        ("SAW", f"{TOUGH}; flux_recrushed=", f"{NEEDED}; flux_recrushed=no", "flux_recrushed", "not stated"),
        ("GMAW", TOUGH, f"{NEEDED}; flux_recrushed=yes", "flux_recrushed", "silent"),
        # CVN, line 9: a waveform-controlled source is compared on instantaneous energy, where the process has one.
        ("GMAW", TOUGH, f"{NEEDED}; waveform_controlled=yes; heat_method=conventional", "heat_method", "not stated"),
        (
            "GMAW",
            f"{TOUGH}; heat_method=instantaneous",
            f"{NEEDED}; waveform_controlled=yes; heat_method=instantaneous",
            "heat_method",
            "covered",
        ),
        (
            "SAW",
            f"{TOUGH}; flux_recrushed=no",
            f"{NEEDED}; waveform_controlled=yes; heat_method=conventional",
            "heat_method",
            "silent",
        ),
        # CVN, lines 11 and 12: stringer to weave in vertical, several passes to one.
        (
            "GMAW",
            f"{TOUGH}; aws_position=3G; progression=uphill; weave=stringer",
            f"{NEEDED}; weave=weave",
            "weave",
            "outside",
        ),
        (
            "GMAW",
            f"{TOUGH}; aws_position=3G; progression=uphill; weave=weave",
            f"{NEEDED}; weave=stringer",
            "weave",
            "silent",
        ),
        ("GMAW", f"{TOUGH}; run_type=multi_run", f"{NEEDED}; run_type=single_run", "run_type", "outside"),
        ("GMAW", f"{TOUGH}; run_type=single_run", f"{NEEDED}; run_type=multi_run", "run_type", "silent"),
        # CVN, line 14: one electrode against several.
        ("SAW", f"{TOUGH}; electrodes=2; flux_recrushed=no", f"{NEEDED}; electrodes=2", "electrodes", "covered"),
        ("SAW", f"{TOUGH}; electrodes=2; flux_recrushed=no", f"{NEEDED}; electrodes=1", "electrodes", "outside"),
        # CVN, line 6: a plate in 3G uphill shows vertical up.
        (
            "GMAW",
            f"{TOUGH}; aws_position=3G; progression=uphill",
            f"{NEEDED}; progression=uphill",
            "progression",
            "covered",
        ),
        (
            "GMAW",
            f"{TOUGH}; aws_position=3G; progression=downhill",
            f"{NEEDED}; progression=downhill",
            "progression",
            "covered",
        ),
        # Line 30: no line of submerged arc.
        ("GMAW", "aws_position=3G; progression=uphill", "progression=downhill", "progression", "outside"),
        ("SAW", "aws_position=3G; progression=uphill", "progression=downhill", "progression", "silent"),
        # Square grooves: up to T where the root is not gouged.
        (
            "GMAW",
            "groove_type=square; weld_detail=bs; gouging=thermal; parent_t=1/2in",
            "parent_t=1in",
            "parent_t",
            "covered",
        ),
        (
            "GMAW",
            "groove_type=square; weld_detail=bs; gouging=mechanical; parent_t=1/2in",
            "parent_t=1in",
            "parent_t",
            "covered",
        ),
        ("GMAW", "groove_type=square; parent_t=1/2in", "parent_t=1/2in", "parent_t", "covered"),
        ("GMAW", "groove_type=square; parent_t=1/2in", "parent_t=0.501in", "parent_t", "outside"),
        # Table 6.4: one entry for single and one for multiple passes.
        (
            "GMAW",
            "weld_type=fillet; aws_position=1F; leg_z=5/16in; run_type=single_run|multi_run",
            "",
            "leg_z",
            "not stated",
        ),
        ("GMAW", "weld_type=fillet; aws_position=1F; leg_z=5/16in; run_type=single_run", "", "leg_z", "covered"),
    ],
)
def test_a_condition_on_both_sides(base: str, record: str, demand: str, variable: str, expected: str) -> None:
    verdict = ask(base, record, demand)
    assert answer(verdict, variable) == expected, [f.sentence for f in verdict.findings if f.variable == variable]


def test_a_test_from_both_sides_says_that_the_root_was_gouged() -> None:
    """Table 6.5, line 34, in words."""
    for record, said in (
        ("weld_detail=bs; gouging=thermal", "tested with backgouging:"),
        ("weld_detail=ss_mb", "tested with backing:"),
    ):
        found = ask("GMAW", record, "weld_detail=ss_nb").findings
        assert any(f.because.startswith(said) for f in found if f.variable == "weld_detail"), said


@pytest.mark.parametrize(
    ("part", "size"),
    [
        ("3.174", None),
        ("3.175", "1.5875"),
        ("4.7625", "1.5875"),
        ("4.763", "3.175"),
        ("6.35", "3.175"),
        ("6.351", "4.7625"),
    ],
)
def test_the_least_partial_penetration_at_the_edges(part: str, size: str | None) -> None:
    """2020 clause 5: 1/8 to 3/16 in have 1/16 in, up to 1/4 in 1/8 in, then 3/16 in (handbook, Table 5.4)."""
    found = minimum_pjp_size((D(part), D(part)), "us", low_hydrogen=False).value
    assert found == (None if size is None else D(size))


def test_an_entry_without_readings_is_one_entry() -> None:
    """Readings of each pass are an entry each where the firm reads it so; without readings there is one."""
    for settings in ({}, {PASS_VALUES.key: "lenient"}):
        record = record_of("SMAW", "gas_flow=")
        assert len(CODE.limit_sets(record, settings)) == 1, settings


@pytest.mark.parametrize(
    ("tested", "asked", "outcome"),
    [
        ("114", "114", "covered"),
        ("114", "136", "outside"),
        ("136", "114", "outside"),
        ("136", "132", "covered"),
    ],
)
def test_flux_cored_wires_kept_apart_by_a_firm(tested: str, asked: str, outcome: str) -> None:
    """Table 6.12, line 1: one process, unless the firm keeps self-shielded wires apart."""
    plain = "process={}; f_number="
    apart = {"aws_d1_1_fcaw": "separate"}
    for settings, expected in ((apart, outcome), ({}, "covered")):
        verdict = aws_people_asks.ask(plain.format(tested), plain.format(asked), settings=settings)
        assert answer(verdict, "process") == expected, verdict.sentence


def test_a_consumable_insert_is_no_backing_of_the_structural_code() -> None:
    """Table 6.12, line 6 speaks of backing and of both sides."""
    for tested in ("ci", ""):
        found = aws_people_asks.ask(f"weld_detail={tested}", "weld_detail=ss_mb")
        assert answer(found, "weld_detail") == "not stated"


@pytest.mark.parametrize(
    ("base", "text", "variable", "expected"),
    [
        ("SAW groove", "wire_system=", "wire_system", "not stated"),
        ("SAW groove", "wire_system=single", "wire_system", "covered"),
        ("GMAW groove", "wire_system=", "wire_system", "silent"),
    ],
)
def test_the_column_of_a_submerged_arc(base: str, text: str, variable: str, expected: str) -> None:
    """Table 5.1 has columns for single, parallel and multiple electrodes."""
    stated = values(BASES[base] | changes(text))
    assert answer(prequalified(stated, settings={}), variable) == expected


@pytest.mark.parametrize(
    ("filler", "size", "outcome"),
    [
        ("E7018", "5/32in", "covered"),
        ("E7018", "3/16in", "outside"),
        ("E7014", "5/32in", "covered"),
        ("E7014", "3/16in", "outside"),
        ("E6010", "3/16in", "covered"),
        ("E6010", "7/32in", "outside"),
    ],
)
def test_the_largest_electrode_upright(filler: str, size: str, outcome: str) -> None:
    """Table 5.1: 3/16 in, and 5/32 in for EXX14 and low-hydrogen electrodes in vertical and overhead."""
    stated = values(
        BASES["SMAW groove"]
        | changes(f"filler_designation={filler}; filler_diameter={size}; aws_position=3G; progression=uphill")
    )
    assert answer(prequalified(stated, settings={}), "filler_diameter") == outcome
