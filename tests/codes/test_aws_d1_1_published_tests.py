"""AWS D1.1, tests of procedures and of people: tables as printed, typed from the published ones and not from codes/.

Sources: Table 6.2 by a forum's figures and from memory, the tubular tables by public copies, Table 6.5 [4.5] by a
public copy of its lines 1 to 17, the rest of its lines and Table 6.8 from memory of the 2015 and 2020 editions;
Table 6.11 by a mail-in laboratory and a forum; Table 7.7 by a state manual; minimum PJP size by the structural steel
designers' handbook; loss Z from memory.
"""

import pytest

from codes.aws_d1_1 import size_rows
from codes.aws_d1_1.base_metal_rows import ROWS
from codes.aws_d1_1.base_metals import CHANGES
from codes.aws_d1_1_2020 import consumable, electrical, groove, heat, impact, metals, thickness
from codes.aws_d1_1_people_2020 import figures, sizes, tubes
from codes.aws_d1_1_people_2020.position_rows import ROWS as POSITIONS


def both(size: object) -> str:
    """A size in both sets as printed; "-" where there is none."""
    if size is None:
        return "-"
    if hasattr(size, "us"):
        return f"{size.us}[{size.si}]"
    return f"{size.inches}[{size.metric}]"  # type: ignore[attr-defined]


def lines(table: str) -> list[list[str]]:
    return [line.split() for line in table.strip().splitlines()]


def ends(start: str, end: str, open_start: bool, open_end: bool) -> str:
    return f"{'>' if open_start else ''}{start}..{'<' if open_end else ''}{end}"


# Tested T; least and greatest thickness covered.
TABLE_6_2_PLATE = """
1/8[3]..3/8[10]  1/8[3]  2T
>3/8[10]..<1[25] 1/8[3]  2T
1[25]..-         1/8[3]  unlimited
"""
TUBULAR_CJP = """
1/8[3]..3/8[10]    1/8[3]  2T
>3/8[10]..<3/4[20] 0.5T    2T
3/4[20]..-         3/8[10] unlimited
"""
TABLE_6_3_PJP = """
1/8[3]..3/8[10] 1/8[3] 2T
>3/8[10]..-     1/8[3] unlimited
"""


@pytest.mark.parametrize(("rows", "printed"), [
    (thickness.CJP_PLATE, TABLE_6_2_PLATE), (thickness.CJP_PIPE, TUBULAR_CJP), (thickness.PJP_PLATE, TABLE_6_3_PJP),
])  # fmt: skip
def test_thickness_of_procedure_tests(rows: tuple[thickness.Row, ...], printed: str) -> None:
    found = [
        [
            ends(both(row.start), both(row.end), row.above, row.below),
            f"{row.least_times}T" if row.least_times is not None else both(row.least),
            f"{row.times}T" if row.times is not None else "unlimited",
        ]
        for row in rows
    ]
    assert found == lines(printed)


def test_standard_test_pipes() -> None:
    """NPS 2 Sch 80 and NPS 3 Sch 40, NPS 6 Sch 120 and NPS 8 Sch 80; outside diameters by ASME B36.10."""
    found = [
        [*map(both, pipe.diameters), *map(both, (pipe.diameter_from, pipe.diameter_to, pipe.wall_from, pipe.wall_to))]
        for pipe in thickness.STANDARD_PIPES
    ]
    assert found == [
        ["2-3/8[60.3]", "3-1/2[88.9]", "3/4[20]", "4[100]", "1/8[3]", "3/4[20]"],
        ["6-5/8[168.3]", "8-5/8[219.1]", "4[100]", "-", "3/16[5]", "-"],
    ]
    assert both(thickness.LARGE_PIPE) == both(figures.LARGE_PIPE) == "24[600]"


def test_tolerances_of_table_6_5() -> None:
    """Lines 10, 12, 16 to 18, 20 and 22 to 26; per cent down and up."""

    def percent(rows: dict[str, object]) -> dict[str, tuple[int, int]]:
        return {name: (int(one.down), int(one.up)) for name, one in rows.items()}  # type: ignore[attr-defined]

    assert percent(dict(electrical.CURRENT)) == {
        "SAW": (10, 10), "GMAW": (10, 10), "FCAW": (10, 10), "GTAW": (25, 25),
    }  # fmt: skip
    assert percent(dict(electrical.VOLTAGE)) == {"SAW": (7, 7), "GMAW": (7, 7), "FCAW": (7, 7)}
    assert percent(dict(electrical.WIRE_FEED)) == {"SAW": (10, 10), "GMAW": (10, 10), "FCAW": (10, 10)}
    assert percent(dict(electrical.TRAVEL)) == {
        "SAW": (15, 15), "GMAW": (25, 25), "FCAW": (25, 25), "GTAW": (50, 50),
    }  # fmt: skip
    assert percent({"SAW": electrical.SAW_TRAVEL_WIDE, "gas": consumable.GAS_FLOW}) == {
        "SAW": (25, 25),
        "gas": (20, 50),
    }
    assert (both(electrical.SPACING), int(electrical.SPACING_PERCENT)) == ("1/8[3]", 10)
    assert {name: (rule.line, int(most)) for name, (rule, most) in electrical.ANGLES.items()} == {
        "electrode_angle_between": ("24", 10), "electrode_angle_along": ("25", 3), "electrode_angle_across": ("26", 5),
    }  # fmt: skip
    assert [both(consumable.LARGER_ROD), both(consumable.OTHER_ROD)] == ["1/32[0.8]", "1/16[1.6]"]


def test_fit_up_and_temperatures_of_table_6_5() -> None:
    """Lines 33, 35 and 36: the fit-up tolerances of 7.21.4.1, and preheat lower by 25 °F [15 °C], GTAW 100 [55]."""
    assert int(groove.SMALLER_ANGLE) == 5
    found = [groove.SMALLER_ROOT, groove.SMALLER_ROOT_GOUGED, groove.LARGER_FACE]
    assert [both(size) for size in found] == ["1/16[2]", "1/8[3]", "1/16[2]"]
    assert (heat.LOWER_ELSE.f, heat.LOWER_ELSE.c) == (25, 15)
    assert {name: (one.f, one.c) for name, one in heat.LOWER.items()} == {"GTAW": (100, 55)}


def test_figures_where_charpy_values_are_required() -> None:
    """Table 4.6 of 2015: 5/8 in [16 mm], below 1/4 in [6 mm] 1/8 in [3 mm]; 100 °F [55 °C]; 80 % of time; 20 %."""
    assert [both(size) for size in (impact.THIN, impact.THIN_LEAST, impact.LEAST)] == ["1/4[6]", "1/8[3]", "5/8[16]"]
    assert (impact.HOTTER.f, impact.HOTTER.c) == (100, 55)
    assert str(impact.TIME) == "0.8"
    assert (int(impact.WEAVE.down or 0), int(impact.WEAVE.up or 0)) == (20, 20)


def test_base_metals_of_table_6_8() -> None:
    assert metals.GROUP_ROWS == {
        ("I", "I"): (("I", "I"),),
        ("II", "II"): (("I", "I"), ("I", "II"), ("II", "II")),
        ("I", "II"): (("I", "I"),),
    }
    assert metals.PARTNER_ROWS == {"I": ("I",), "II": ("I", "II")}
    assert {name: both(size) for name, size in CHANGES.items()} == {
        "<= 3/4": "3/4[20]", "> 3/4": "3/4[20]", "<= 2": "2[50]", "> 2": "2[50]",
    }  # fmt: skip


# Table 5.3 [3.1] and 6.9 [4.9]: group, then each specification with its grades.
GROUPS = {
    "I": "A36: A53:B A106:B A131:A/B/CS/D/DS/E A139:B A381:Y35 A500:A/B/C A501:A A516:55/60 A524:I/II A573:65/58 "
    "A709:36 A1008_SS:30/33-1/40-1 A1011_SS:30/33/36-1/40/45 A1018_SS:30/33/36/40 API_5L:B/X42 ABS:A/B/D/CS/DS/E",
    "II": "A36: A131:AH32/DH32/EH32/AH36/DH36/EH36 A501:B A516:65/70 A529:50/55 A537:Cl_1 A572:42/50/55 A588: "
    "A595:A/B/C A606: A618:Ib/II/III A633:A/C/D A709:36/50/50W/HPS_50W/50S A710:A_Cl_2 A808: A913:50 A992: "
    "A1008_HSLAS:45/50/55 A1011_HSLAS:45/50/55 A1018_HSLAS:45/50/55 A1066:50 A1085: API_2H:42/50 API_2W:42/50/50T "
    "API_2Y:42/50/50T API_2MT1: API_5L:X52 ABS:AH32/DH32/EH32/AH36/DH36/EH36",
    "III": "A572:60/65 A537:Cl_2 A633:E A710:A_Cl_2/A_Cl_3 A913:60/65 A1018_HSLAS:60/70 A1066:60/65 API_2W:60 "
    "API_2Y:60",
    "IV": "A709:HPS_70W A852: A913:70 A1066:70",
    "by test": "A514: A517: A709:HPS_100W A871:60/65 A1043:36/50",
}
BY_THICKNESS = {("I", "A36"): "<= 3/4", ("I", "A709"): "<= 3/4", ("II", "A36"): "> 3/4", ("II", "A709"): "> 3/4",
                ("II", "A710"): "> 2", ("III", "A710"): "<= 2"}  # fmt: skip


def test_groups_of_steels() -> None:
    found: dict[str, dict[str, list[str]]] = {}
    for row in ROWS:
        grades = found.setdefault(row.group, {}).setdefault(row.specification.replace(" ", "_"), [])
        grades.extend(grade.replace(" ", "_") for grade in row.grades)
    printed = {
        group: {name: grades.split("/") for name, _, grades in (part.partition(":") for part in text.split())}
        for group, text in GROUPS.items()
    }
    assert found == printed


def test_steels_whose_group_depends_on_their_thickness() -> None:
    found = {(row.group, row.specification): row.changes for row in ROWS if row.changes}
    assert found == BY_THICKNESS


# Table 6.11: tested T; greatest thickness covered; the least is 1/8 in [3 mm] throughout.
TABLE_6_11 = """
0.375[10]..0.375[10] 0.75[20]
>0.375[10]..<1[25]   2T
1[25]..-             unlimited
"""
ELECTROSLAG = """
-..<1.5[38] 1T
1.5[38]..-  unlimited
"""


@pytest.mark.parametrize(("rows", "printed"), [
    (sizes.PLATE_ROWS, TABLE_6_11), (sizes.ELECTROSLAG_ROWS, ELECTROSLAG),
])  # fmt: skip
def test_thickness_of_plate_tests_of_people(rows: tuple[sizes.ThicknessRow, ...], printed: str) -> None:
    assert {both(row.lo) for row in rows} == {"0.125[3]"}
    found = [
        [
            ends(both(row.least), both(row.most), row.least_open, row.most_open),
            f"{row.times}T" if row.times is not None else both(row.top).replace("-", "unlimited"),
        ]
        for row in rows
    ]
    assert found == lines(printed)


# Table 10.13: outside diameter, wall; diameters covered (half: half the tested one, if that is more); walls covered.
TABLE_10_13 = """
-..4[100]   -..-          0.75[20]..4[100] -    0.125[3]..0.75[20]
>4[100]..-  -..0.375[10]  4[100]..-        half 0.125[3]..0.75[20]
>4[100]..-  >0.375[10]..- 4[100]..-        half 0.1875[5]..-
"""
TABLE_10_13_TYK = """
6[150]..-   0.5[12]..-    4[100]..-         -    0.1875[5]..-
-..<4[100]  0.20[5]..-    0.75[20]..<4[100] -    0.125[3]..-
"""


def spanned(span: tubes.Span) -> str:
    return ends(both(span.least or span.over), both(span.most or span.under), bool(span.over), bool(span.under))


@pytest.mark.parametrize(("rows", "printed"), [(tubes.PIPE_ROWS, TABLE_10_13), (tubes.TYK_ROWS, TABLE_10_13_TYK)])
def test_tubular_tests_of_people(rows: tuple[tubes.TubeRow, ...], printed: str) -> None:
    found = [
        [
            spanned(row.od),
            spanned(row.wall),
            spanned(row.covers_od),
            "half" if row.half else "-",
            spanned(row.covers_wall),
        ]
        for row in rows
    ]
    assert found == lines(printed)
    assert both(tubes.BOX_TYK_LEAST) == "0.5[12]"


# Tables 6.10 and 10.12: positions tested; grooves, fillets, T-Y-K covered.
POSITIONS_PRINTED = """
plate 1G    F      F/H    -
plate 2G    F/H    F/H    -
plate 3G    F/H/V  F/H/V  -
plate 4G    F/OH   F/H/OH -
plate 3G+4G all    all    -
plate 1F    -      F      -
plate 2F    -      F/H    -
plate 3F    -      F/H/V  -
plate 4F    -      F/H/OH -
plate 3F+4F -      all    -
pipe  1G    F      F/H    -
pipe  2G    F/H    F/H    -
pipe  5G    F/V/OH F/V/OH -
pipe  6G    all    all    -
pipe  2G+5G all    all    -
pipe  6GR   all    all    all
pipe  1F    -      F      -
pipe  2F    -      F/H    -
pipe  4F    -      F/H/OH -
pipe  5F    -      all    -
"""


def test_positions_of_people() -> None:
    def letters(covered: frozenset[str]) -> str:
        order = [name for name in ("F", "H", "V", "OH") if name in covered]
        return "all" if len(order) == 4 else "/".join(order) or "-"

    found = [
        [row.product, "+".join(row.tested), letters(row.groove), letters(row.fillet), letters(row.branch)]
        for row in POSITIONS
    ]
    assert found == lines(POSITIONS_PRINTED)


# Table 7.7 [5.7] and Table 3.5 of 2015: thickness up to and including; smallest size.
MINIMUM_FILLET = """
1/4[6]  1/8[3]
1/2[12] 3/16[5]
3/4[20] 1/4[6]
-       5/16[8]
"""
MINIMUM_PJP = """
3/16[5]   1/16[2]
1/4[6]    1/8[3]
1/2[12]   3/16[5]
3/4[20]   1/4[6]
1-1/2[38] 5/16[8]
2-1/4[57] 3/8[10]
6[150]    1/2[12]
-         5/8[16]
"""


@pytest.mark.parametrize(("rows", "printed"), [(size_rows.FILLET, MINIMUM_FILLET), (size_rows.PJP, MINIMUM_PJP)])
def test_minimum_sizes(rows: tuple[tuple[object, object], ...], printed: str) -> None:
    assert [[both(end), both(size)] for end, size in rows] == lines(printed)


def test_other_sizes_of_fillets() -> None:
    """7.13 (cyclic), 1.2 (scope), 4.4.2.9 (edge of a lap joint), 4.4.2 (intermittent), 7.21.1 (gap)."""
    found = {name: both(getattr(size_rows, name)) for name in (
        "CYCLIC_FILLET", "THINNEST", "EDGE_THIN", "EDGE_LESS", "INTERMITTENT", "FREE_GAP", "LARGEST_GAP", "THICK_PART",
        "THICK_PART_GAP")}  # fmt: skip
    assert found == {
        "CYCLIC_FILLET": "3/16[5]", "THINNEST": "1/8[3]", "EDGE_THIN": "1/4[6]", "EDGE_LESS": "1/16[2]",
        "INTERMITTENT": "1-1/2[38]", "FREE_GAP": "1/16[2]", "LARGEST_GAP": "3/16[5]", "THICK_PART": "3[75]",
        "THICK_PART_GAP": "5/16[8]",
    }  # fmt: skip


# 4.2: dihedral angle from, to below; SMAW anywhere; FCAW-S, FCAW-G in V and OH / in F and H; GMAW in F and H.
LOSS_Z = """
45 60 1/8[3] 1/8[3] 0[0]   1/8[3]  0[0]   0[0]
30 45 1/4[6] 1/4[6] 1/8[3] 3/8[10] 1/4[6] 1/4[6]
"""
COLUMNS_OF_Z = (("111", "V"), ("114", "V"), ("114", "F"), ("136", "V"), ("136", "F"), ("135", "F"))


def test_loss_on_the_acute_side() -> None:
    found: dict[tuple[int, int], dict[tuple[str, str], str]] = {}
    for row in size_rows.LOSSES:
        cells = found.setdefault((row.lo, row.hi), {})
        assert set(row.positions) in ({"V", "OH"}, {"F", "H"}, {"F", "H", "V", "OH"})
        for process, position in COLUMNS_OF_Z:
            if process in row.processes and position in row.positions:
                cells[process, position] = both(row.z)
    assert [[str(lo), str(hi), *(cells[at] for at in COLUMNS_OF_Z)] for (lo, hi), cells in found.items()] == lines(
        LOSS_Z
    )
    assert not any("135" in row.processes and "V" in row.positions for row in size_rows.LOSSES)
