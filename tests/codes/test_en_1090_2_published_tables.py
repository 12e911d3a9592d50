"""EN 1090-2: tables laid out as printed, typed from the published ones and not from codes/.

Sources: Table 12 by a German publisher's page (2018) and from memory of 2008; 7.4.1.4 by an extract of 2008; Table 14
by a forum thread, its EXC3 (high) and EXC4 rows from memory; Tables 23 and 24, 12.4.2.3, 7.5.7 and ISO 15610 from
memory of 2008 and 2018, size classes of Table 23 and four times the thicker part by public pages.
"""

from decimal import Decimal as D

from codes.en_1090_2_2018 import age, coordinator, inspection, methods, quality, steel_sets, tacks
from codes.en_1090_2_2018.figures import FIGURES_2008, FIGURES_2018, Figures

# Route; classes that accept it; classes that do with leave; yield cap [MPa]; hand only.
TABLE_12_2018 = """
procedure_test     EXC1/EXC2/EXC3/EXC4 -         -   -
pre_production     EXC1/EXC2/EXC3/EXC4 -         -   -
standard_procedure EXC1/EXC2           EXC3/EXC4 355 hand
experience         EXC1/EXC2           -         -   hand
consumables        EXC1/EXC2           -         -   hand
none               EXC1                -         -   -
"""
TABLE_12_2008 = """
procedure_test     EXC1/EXC2/EXC3/EXC4 - -   -
pre_production     EXC1/EXC2/EXC3/EXC4 - -   -
standard_procedure EXC1/EXC2           - 355 hand
experience         EXC1/EXC2           - 275 hand
consumables        EXC1/EXC2           - 275 hand
none               EXC1                - -   -
"""


def lines(table: str) -> list[list[str]]:
    return [line.split() for line in table.strip().splitlines()]


def routes(figures: Figures) -> list[list[str]]:
    return [
        [
            row.route,
            "/".join(row.accepted),
            "/".join(row.with_leave) or "-",
            "-" if row.yield_cap is None else str(row.yield_cap),
            "hand" if row.hand_only else "-",
        ]
        for row in figures.methods
    ]


def test_routes_of_qualification() -> None:
    assert routes(FIGURES_2018) == lines(TABLE_12_2018)
    assert routes(FIGURES_2008) == lines(TABLE_12_2008)


def test_what_the_editions_differ_in() -> None:
    """Hand-only routes stand in the table of 2008; cruciform tests: from S460 (2018), above S275 (2008); level 2."""
    found = [
        (one.hand_rule, int(one.cruciform.mpa), one.cruciform.included, one.level_2_only)
        for one in (FIGURES_2018, FIGURES_2008)
    ]
    assert found == [(False, 460, True, True), (True, 275, False, False)]


def test_scope_of_tested_consumables() -> None:
    """ISO 15610: groups 1.1 and 8.1, up to 40 mm, throats from 1 mm."""
    found = (methods.CONSUMABLE_GROUPS, int(methods.CONSUMABLE_T), int(methods.CONSUMABLE_THROAT))
    assert found == (("1.1", "8.1"), 40, 1)


def test_years_unused() -> None:
    """7.4.1.4: above S355 a production test after 1 year and a new test after 3; to S355 a macro after 3."""
    found = [(row.years, str(row.steels.allowed), bool(row.needs), row.satisfied_by) for row in age.ROWS]
    assert found == [
        (1, "a grade above 355 MPa", True, ("full",)),
        (3, "grades up to and including 355 MPa", True, ("full", "macro")),
        (3, "a grade above 355 MPa", False, ()),
    ]


# Class; S235 to S355 (low), S420 to S700 (high), every steel; level to 25 mm, to 50 mm, above.
TABLE_14 = """
EXC2 low   B S C
EXC2 high  S C C
EXC3 low   S C C
EXC3 high  C C C
EXC4 every C C C
"""


def test_knowledge_of_the_coordinator() -> None:
    named = {True: "low", False: "high", None: "every"}
    assert [[row.execution_class, named[row.low], *row.levels] for row in coordinator.ROWS] == lines(TABLE_14)
    assert [None if top is None else int(top) for top in coordinator.BANDS] == [25, 50, None]
    assert coordinator.LEVELS == ("B", "S", "C")
    assert (steel_sets.LOW_GROUPS, int(steel_sets.LOW_YIELD)) == (("1.1", "1.2", "1.4"), 360)


# Kind of weld; editions; share [%] in EXC1 to EXC4.
TABLE_24 = """
butt_transverse 2008 0 10 20 100
butt_transverse 2018 0 10 20 100
butt_low_use    2008 0 0  10 50
butt_cruciform  both 0 10 20 100
butt_tee        both 0 5  10 50
fillet_large    both 0 5  10 20
fillet_small    both 0 0  5  10
longitudinal    both 0 0  5  10
crane_girder    both 0 10 20 100
"""


def test_share_of_supplementary_examination() -> None:
    year = {(): "both", (FIGURES_2008.standard,): "2008", (FIGURES_2018.standard,): "2018"}
    found = [[row.key, year[row.editions], *map(str, row.shares)] for row in inspection.NDT_ROWS]
    assert found == lines(TABLE_24)
    assert [int(one) for one in (inspection.D12, inspection.D20, inspection.D30)] == [12, 20, 30]


def test_first_joints_to_a_new_procedure() -> None:
    """12.4.2.3: five joints, 900 mm at least; double the share, between 5 and 100 %."""
    assert (inspection.FIRST_JOINTS, inspection.FIRST_JOINTS_LENGTH_MM) == (5, 900)
    found = [inspection.first_joints_share(share) for share in (0, 2, 3, 10, 50, 51, 100)]
    assert found == [5, 5, 6, 20, 100, 100, 100]


# Size up to [mm]; heat input up to [kJ/mm]; hours for S235 to S420, and from S460.
TABLE_23 = """
6  -  0  24
12 3  8  24
12 -  16 40
-  3  16 40
-  -  40 48
"""


def test_hours_before_supplementary_examination() -> None:
    found = [
        ["-" if end is None else str(end) for end in (row.size_to, row.heat_to)] + [str(hours) for hours in row.hours]
        for row in inspection.HOLD_ROWS
    ]
    assert found == lines(TABLE_23)
    assert (int(inspection.HEAT), int(inspection.BETWEEN)) == (3, 420)


def test_other_figures() -> None:
    """7.5.7: four times the thicker part, 50 mm at most. EN 1993-1-1, Table C.1. ISO 3834 by class."""
    assert (D(4), D(50)) == (tacks.TIMES, tacks.ENOUGH)
    assert quality.CONSEQUENCE_ROWS == {"CC3": ("EXC3", "EXC3"), "CC2": ("EXC2", "EXC3"), "CC1": ("EXC1", "EXC2")}
    assert [part[-1] for part in quality.ISO_3834_PARTS.values()] == ["4", "3", "2", "2"]
