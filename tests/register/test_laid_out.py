"""The tables of the codes as a reader sees them: none left out, none raw, the figures as the standards state them."""

import re
from collections.abc import Iterator
from dataclasses import is_dataclass
from importlib import import_module
from pkgutil import walk_packages
from types import ModuleType
from typing import Any

import pytest

import codes
from codes.asme_ix_2021 import thickness as ix_thickness
from codes.aws_d1_1_prequalified.preheat import THIN_A710
from codes.aws_d1_1_prequalified.table_5_1 import LOW_HYDROGEN_UPRIGHT, WIDE_ROOT
from codes.clauses import Clause, Mark
from codes.editions import Edition, Field
from codes.iso_15614_1_2017 import deposit, steels, thickness
from codes.limits import When
from codes.readings import Switch
from codes.values import Interval
from codes.variables import Variable
from register.held.laid_out import FIGURES_OF, LAYOUTS, NOT_FIGURES
from register.held.laid_out.cells import length
from register.held.laid_out.layout import Part, Stands
from register.held.standards import standards
from register.held.tables import data_tables

EDITIONS = ("asme_ix", "aws_d1_1_20", "aws_d1_1_people", "aws_d1_1_prequalified", "en_", "iso_1", "iso_9")
NO_ROWS = (type, Clause, Interval, When, Field, Switch, Edition, Variable)


def own_tables(module: ModuleType) -> Iterator[str]:
    """Names of what the module defines itself that looks like a table: rows of data, or a mapping of figures."""
    source = module.__loader__.get_source(module.__name__)  # type: ignore[union-attr]
    for name, value in vars(module).items():
        if not name.isupper() or name.startswith("_") or not (f"\n{name} " in source or f"\n{name}:" in source):
            continue
        rows = isinstance(value, tuple) and value and all(is_dataclass(x) and not isinstance(x, NO_ROWS) for x in value)
        if rows or (isinstance(value, dict) and value and not callable(next(iter(value.values())))):
            yield f"{module.__name__.removeprefix('codes.')}.{name}"


def test_every_table_of_an_edition_is_laid_out_or_said_to_be_none():
    modules = [one.name for one in walk_packages(codes.__path__, "codes.") if one.name[6:].startswith(EDITIONS)]
    found = {name for one in modules for name in own_tables(import_module(one)) if one.count(".") > 1}
    laid_out = {layout.key for layouts in LAYOUTS.values() for layout in layouts}
    assert found - laid_out == NOT_FIGURES
    assert not laid_out & NOT_FIGURES and not set(FIGURES_OF) & set(LAYOUTS)


@pytest.mark.parametrize("package", LAYOUTS)
def test_no_table_shows_a_raw_word_or_hides_where_it_stands(package: str):
    for table in data_tables(package):
        assert table.rows and all(len(row) == len(table.heads) for row in table.rows), table.name
        assert table.places or "how sure" in table.heads, table.name
        words = [cell for row in table.rows for cell in row] + [*table.heads, table.name, table.note]
        raw = [word for word in words if not word and word != table.note]
        raw += [word for word in words if "_" in word or "inches" in word or "he content" in word]
        assert not raw, (table.name, raw)


def test_titles_of_a_page_are_told_apart():
    for package in LAYOUTS:
        names = [table.name for table in data_tables(package)]
        assert len(set(names)) == len(names), package


IX_451 = "ASME IX of 2017, Table QW-451.1, public upload"
D_51 = "AWS D1.1:2020, Table 5.1, public copy"
D_58 = "AWS D1.1:2015, Table 3.3, public extract; US Army TI 809-26, Table 3-1"
I_7 = "from memory: ISO 15614-1:2017, Table 7"
I_8 = "from memory: ISO 15614-1:2017, Table 8"
W_6 = "from memory: ISO 9606-1:2012, Table 6"
CASES: tuple[tuple[str, str, str, str, str], ...] = (
    # package, table, first cell of the row, the other cells as they are read, source
    ("asme_ix_2021", "Base thickness and deposit, tension and transverse bends", "T < 1/16 in [1.5 mm]",
     "T | 2 T | 2 t | 2 t", IX_451),
    ("asme_ix_2021", "Base thickness and deposit, tension and transverse bends",
     "1/16 in [1.5 mm] ≤ T ≤ 3/8 in [10 mm]", "1/16 in [1.5 mm] | 2 T | 2 t | 2 t", IX_451),
    ("asme_ix_2021", "Base thickness and deposit, tension and transverse bends",
     "3/4 in [19 mm] ≤ T < 1-1/2 in [38 mm]", "3/16 in [5 mm] | 2 T | 2 t | 2 T", IX_451),
    ("asme_ix_2021", "Base thickness and deposit, tension and transverse bends",
     "1-1/2 in [38 mm] ≤ T ≤ 6 in [150 mm]", "3/16 in [5 mm] | 8 in [200 mm] | 2 t | 8 in [200 mm]", IX_451),
    ("asme_ix_2021", "Base thickness and deposit, tension and transverse bends", "T > 6 in [150 mm]",
     "3/16 in [5 mm] | 1.33 T | 2 t | 1.33 T", IX_451),
    ("asme_ix_people_2021", "Outside diameter of grooves in pipe", "2-7/8 in [73 mm]", "2-7/8 in [73 mm]",
     "ASME IX, QW-452.3, public sheet"),
    ("asme_ix_people_2021", "Positions", "3G, 4G", "plate | F, V, OH | F | F, H, V, OH | partly confirmed",
     "ASME IX, interpretations IX-77-02 and IX-77-04"),
    ("asme_ix_people_2021", "Positions", "3G", "plate | F, V | F | F, H, V | confirmed",
     "public slides on ASME IX, QW-461.9"),
    ("aws_d1_1_prequalified", "Least preheat and interpass temperature", "A",
     "32 °F [0 °C] | 150 °F [65 °C] | 225 °F [110 °C] | 300 °F [150 °C]", D_58),
    ("aws_d1_1_prequalified", "Least preheat and interpass temperature", "B",
     "32 °F [0 °C] | 50 °F [10 °C] | 150 °F [65 °C] | 225 °F [110 °C]", D_58),
    ("aws_d1_1_prequalified", "Thickest root pass", "V",
     "1/2 in [12 mm] | – | – | – | 1/2 in [12 mm]", D_51),
    ("aws_d1_1_prequalified", "Largest fillet in one pass", "H",
     "5/16 in [8 mm] | 5/16 in [8 mm] | 5/16 in [8 mm] | 1/2 in [12 mm] | 3/8 in [10 mm]", D_51),
    ("aws_d1_1_prequalified", "Widest layer that need not be split", "V", "– | – | – | – | 1 in [25 mm]", D_51),
    ("aws_d1_1_2020", "Current", "GTAW", "±25 %", "AWS D1.1:2015, Table 4.5, public copy"),
    ("aws_d1_1_2020", "Arc voltage", "SAW", "±7 %", "AWS D1.1:2015, Table 4.5, public copy"),
    ("aws_d1_1_2020", "Least fillet, single pass", "≤ 3/4 in [20 mm]", "1/4 in [6 mm]", "AWS D1.1:2025, Table 7.7"),
    ("aws_d1_1_people_2020", "Thickness, plate tests", "T = 3/8 in [10 mm]", "1/8 in [3 mm] | 3/4 in [20 mm]",
     "AWS D1.1:2020, Table 6.11, public copy"),
    ("aws_d1_1_people_2020", "Thickness, plate tests", "T ≥ 1 in [25 mm]", "1/8 in [3 mm] | no limit",
     "AWS D1.1:2020, Table 6.11, public copy"),
    ("iso_15614_1_2017", "Parent thickness t of butt welds, level 2, multi run", "3 < t ≤ 12 mm", "3 mm | 2 t", I_7),
    ("iso_15614_1_2017", "Parent thickness t of butt welds, level 2, multi run", "100 < t ≤ 150 mm", "50 mm | 2 t",
     I_7),
    ("iso_15614_1_2017", "Parent thickness t of butt welds, level 2, single run", "3 < t ≤ 12 mm",
     "0.5 t, at least 3 mm | 1.3 t", I_7),
    ("iso_15614_1_2017", "Parent thickness t of butt welds, level 2, single run", "40 < t ≤ 100 mm", "nothing | –",
     I_7),
    ("iso_15614_1_2017", "Parent thickness t, level 1", "t > 150 mm", "5 mm | 1.33 t", I_7),
    ("iso_15614_1_2017", "Parent thickness t of fillet welds, level 2", "3 < t < 30 mm", "3 mm | 2 t", I_8),
    ("iso_15614_1_2017", "Throat a of fillet welds, level 2, single run", "any a", "0.75 a | 1.5 a", I_8),
    ("iso_15614_1_2017", "Outside diameter D of pipes and branches, level 2", "D > 25 mm",
     "0.5 D, at least 25 mm | no limit", "from memory: ISO 15614-1:2017, Table 9"),
    ("iso_15614_1_2017", "Highest hardness, HV10", "1, 2", "380 | 320 | confirmed",
     "training slides on the edition of 2004"),
    ("iso_9606_1_2012", "Deposited thickness s of butt welds", "s < 3 mm",
     "s | 2 s, at least 3 mm | – | from memory", W_6),
    ("iso_9606_1_2012", "Deposited thickness s of butt welds", "3 ≤ s < 12 mm",
     "3 mm | 2 s | – | from memory", W_6),
    ("iso_9606_1_2012", "Deposited thickness s of butt welds", "s ≥ 12 mm",
     "3 mm | no limit | 3 | partly confirmed", W_6),
    ("iso_9606_1_2012", "Outside diameter D of pipes", "D > 25 mm", "0.5 D, at least 25 mm | no limit",
     "from memory: ISO 9606-1:2012, Table 7"),
    ("iso_9606_1_2012", "Sides and backing", "ss mb (with backing)",
     "ss mb (with backing), bs (both sides) | from memory",
     "from memory: ISO 9606-1:2012, Table 11"),
    ("en_1090_2_2018", "Knowledge of the welding coordinator, structural carbon steels", "EXC2",
     "up to S355 | B | S | C | confirmed", "public thread quoting EN 1090-2, Table 14"),
    ("iso_14732_2013", "Single and multi run", "single run (single layer)", "single run (single layer)",
     "from memory: ISO 14732:2013, 4.2"),
)  # fmt: skip


@pytest.mark.parametrize(("package", "name", "first", "others", "source"), CASES)
def test_a_row_reads_as_the_standard_does(package: str, name: str, first: str, others: str, source: str):
    table: Any = next(one for one in data_tables(package) if one.name == name)
    row = next(row for row in table.rows if row[0] == first)
    assert " | ".join(row[1:]) == others, source


NOTES = (
    # What a table says in a note decides verdicts too: its figures stand on the page.
    ("aws_d1_1_prequalified", "Largest electrode", LOW_HYDROGEN_UPRIGHT, D_51),
    ("aws_d1_1_prequalified", "Widest layer that need not be split", WIDE_ROOT, D_51),
    ("aws_d1_1_prequalified", "Steels of preheat category B", THIN_A710, D_58),
    ("aws_d1_1_prequalified", "Steels of preheat category C", THIN_A710, D_58),
)


@pytest.mark.parametrize(("package", "name", "size", "source"), NOTES)
def test_a_figure_of_a_note_stands_on_the_page(package: str, name: str, size: Any, source: str):
    note = next(one.note for one in data_tables(package) if one.name == name)
    assert length(size) in note or f"{size.us} in [{size.si} mm]" in note, source


def test_steels_of_category_d_are_from_memory():
    table = next(one for one in data_tables("aws_d1_1_prequalified") if one.name == "Steels of preheat category D")
    assert [place.mark for place in table.places] == [Mark.MEMORY]


def test_symbols_of_gases_keep_their_capitals():
    table = next(one for one in data_tables("iso_15614_1_2017") if one.name.startswith("Shielding gases"))
    row = next(row for row in table.rows if row[0] == "Z")
    assert row[1] == "CO2 content, O2 content, He content, H2 content, N2 content"


def test_no_layout_states_by_hand_how_sure_the_register_is():
    for layouts in LAYOUTS.values():
        for layout in layouts:
            assert all(isinstance(place, str | Part | Stands) for place in layout.places), layout.key


def test_a_table_whose_rows_are_marked_states_no_second_mark_above_them():
    for package in LAYOUTS:
        for table in data_tables(package):
            if "how sure" in table.heads:
                assert not [place for place in table.places if place.mark], table.name
                assert len({place.clause for place in table.places}) == len(table.places), table.name


PAGES = (
    # package, table, what stands above it
    ("aws_d1_1_2020", "Wall, CJP grooves in pipe",
     "AWS D1.1:2020, clause 10, CJP on tubulars; AWS D1.1:2015, Table 9.10: confirmed"),
    ("aws_d1_1_2020", "Deduction Z of skewed fillets, acute side",
     "AWS D1.1:2020, 4.4; AWS D1.1:2015, 2.4: from memory"),
    ("aws_d1_1_2020", "Travel speed",
     "AWS D1.1:2020, 6.8, Table 6.5, 2015 line 18; "
     "AWS D1.1:2015, 4.8, Table 4.5, line 18 (SAW): doubtful"),
    ("aws_d1_1_prequalified", "Setting of SAW electrodes",
     "AWS D1.1:2020, Table 5.2; AWS D1.1:2015, Table 3.7: from memory"),
    ("en_1090_2_2018", "Procedures that lay unused", "EN 1090-2:2018, 7.4.1.4: doubtful"),
    ("en_1090_2_2018", "Procedures that lay unused", "EN 1090-2:2008+A1:2011, 7.4.1.4: confirmed"),
    ("en_1090_2_2018", "Weld quality to ISO 5817", "EN 1090-2:2018, 7.6 (judged by level D): from memory"),
    ("iso_9606_1_2012", "Letters of the transfer modes", "ISO 9606-1:2012, 4.3: confirmed"),
    ("asme_ix_2021", "Variables by process", "ASME IX, QW-253 to QW-256: from memory"),
)  # fmt: skip


@pytest.mark.parametrize(("package", "name", "said"), PAGES)
def test_the_page_is_as_sure_as_the_rules(package: str, name: str, said: str):
    table = next(one for one in data_tables(package) if one.name == name)
    assert said in [f"{place.clause}: {place.mark.value if place.mark else ''}" for place in table.places]


def test_marks_come_from_the_clauses_that_the_rules_cite():
    """What the page says of the figures is what a verdict says of them."""
    cited = {
        ("iso_15614_1_2017", "Parent thickness t, level 1"): [thickness.TABLE_7],
        ("iso_15614_1_2017", "Parent thickness t of butt welds, level 2, single run"): [
            thickness.TABLE_7, thickness.TABLE_7_DASH,
        ],
        ("iso_15614_1_2017", "Parent thickness t of fillet welds, level 2"): [deposit.TABLE_8, deposit.TABLE_8_MIDDLE],
        ("iso_15614_1_2017", "Groups of steels, pair by pair"): [steels.GROUPS],
        ("asme_ix_2021", "Base thickness and deposit, tension and transverse bends"): [ix_thickness.TABLE],
        ("asme_ix_2021", "Base thickness and deposit, longitudinal bends"): [ix_thickness.TABLE_LONG],
    }  # fmt: skip
    for (package, name), clauses in cited.items():
        table = next(one for one in data_tables(package) if one.name == name)
        assert [(one.mark, one.source) for one in table.places] == [(one.mark, one.source) for one in clauses], name


@pytest.mark.django_db
def test_heads_begin_with_a_capital_unless_with_a_symbol(client_of: Any):
    page = client_of("auditor").get("/codes/tables/iso_15614_1_2017/").content.decode()
    heads = re.findall(r'<th scope="col"[^>]*>([^<]+)</th>', page)
    assert "Covered from" in heads and "How sure" in heads
    assert not [head for head in heads if head[0].islower()]
    page = client_of("auditor").get("/codes/tables/en_1090_2_2018/").content.decode()
    assert "t ≤ 25 mm" in re.findall(r'<th scope="col"[^>]*>([^<]+)</th>', page)


@pytest.mark.django_db
def test_a_reading_is_not_called_by_its_token():
    """ "no: diameter is not in their list" was the key of the option before what it says."""
    said = [option for one in standards() for rule in one.rules for option in rule.options]
    assert {degree for degree, _, _ in said} == {"", "strict", "lenient"}  # one word for one thing


def test_every_strength_of_a_listed_steel_stands_in_both_units():
    """1 ksi is 6.894757 MPa: 64 to 85 ksi, which the source gives alone, are 441 to 586 MPa."""
    table = next(one for one in data_tables("aws_d1_1_2020") if one.name == "Steels by group")
    cells = [cell for row in table.rows for cell in row[4:6] if cell != "–"]
    assert "64–85 (441–586)" in cells and "36 [250]" in cells
    assert all("[" in cell or "(" in cell for cell in cells)
    where = [row[3] for row in table.rows if " in" in row[3]]
    assert "to 2-1/2 in (63.5 mm)" in where and "to 4 in [100 mm]" in where
    assert all(" mm" in cell for cell in where)


@pytest.mark.parametrize("standard", ["EN 1090-2:2018", "EN 1090-2:2008"])
def test_a_record_that_lay_unused_says_up_to_when_a_production_test_is_enough(standard: str):
    """EN 1090-2, 7.4.1.4: above S355 from 1 to 3 years a production weld test, after 3 years a new procedure test."""
    (table,) = [one for one in data_tables("en_1090_2_2018") if one.name == "Procedures that lay unused"]
    assert any(standard in str(place) for place in table.places)
    rows = [(row[0], row[1], row[2], row[3].partition(":")[0]) for row in table.rows]
    assert rows == [
        ("1 year", "3 years", "a grade above 355 MPa", "a production weld test"),
        ("3 years", "–", "grades up to and including 355 MPa", "a macro from a production test, inspected"),
        ("3 years", "–", "a grade above 355 MPa", "a new procedure test"),
    ]


@pytest.mark.parametrize(
    ("package", "name"),
    [
        ("iso_9606_1_2012", "Positions of fillet welds"),  # ISO 9606-1:2012, 5.8, Table 10: PC in the row of PH
        ("iso_15614_1_2017", "Parent thickness t of fillet welds, level 2, read as in 2004"),  # 8.3.2, Table 8
        ("iso_15614_1_2017", "Parent thickness t of fillet welds, level 2"),
        ("aws_d1_1_prequalified", "Gases of prequalified procedures"),  # AWS D1.1:2020, Table 5.7
    ],
)
def test_a_table_that_only_one_reading_counts_by_says_so(package: str, name: str) -> None:
    """The page says "the figures as the register uses them": of two readings it uses one."""
    note = next(table.note for table in data_tables(package) if table.name == name)
    assert "where the firm sets th" in note or "unless the firm reads" in note
