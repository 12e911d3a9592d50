"""AWS D1.1, prequalified: tables as printed, cell by cell, typed from the published ones and not from codes/.

Sources: Table 5.1 [2015: 3.6] by a public page that prints it; details of Figs 5.1 and 5.2, Tables 5.4 and 5.7 and
the SI column of category C of Table 5.8 from memory of the 2015 and 2020 editions; Table 5.8 by state manuals of
welding; minimum PJP size by the structural steel designers' handbook. US figures in inches, SI in brackets as printed.
"""

import pytest

from codes.aws_d1_1_prequalified import detail_rows, filler, preheat_rows, table_5_1
from codes.aws_d1_1_prequalified.joint import SKEW
from codes.aws_d1_1_prequalified.tolerances import (
    ANGLES,
    CURRENT,
    FLOW,
    SAW_TRAVEL,
    SPACING,
    SPACING_PART,
    TRAVEL,
    VOLTS,
    WIRE_FEED,
)

# Position, weld, passes; then SMAW, SAW (all three), GMAW and FCAW. A dash: the process may not weld there.
TABLE_5_1_ELECTRODES = """
F  fillet fill/cap       5/16 [8.0]  1/4 [6.4]  1/8 [3.2]
F  groove fill/cap       1/4 [6.4]   1/4 [6.4]  1/8 [3.2]
F  any    root           3/16 [4.8]  1/4 [6.4]  1/8 [3.2]
H  fillet root/fill/cap  1/4 [6.4]   1/4 [6.4]  1/8 [3.2]
H  groove root/fill/cap  3/16 [4.8]  -          1/8 [3.2]
V  any    root/fill/cap  3/16 [4.8]  -          3/32 [2.4]
OH any    root/fill/cap  3/16 [4.8]  -          5/64 [2.0]
"""
# Weld, passes, root opening; then single, parallel and multiple electrodes [A].
TABLE_5_1_CURRENTS = """
fillet root/fill/cap either  1000      1200      unlimited
groove root          with    600       700       unlimited
groove root          without 600       900       unlimited
groove fill          either  1200      1200      unlimited
groove cap           either  unlimited unlimited unlimited
"""
# Position; then SMAW, SAW single, parallel, multiple, GMAW and FCAW.
TABLE_5_1_ROOT = """
F  3/8 [10]  unlimited unlimited unlimited 3/8 [10]
H  5/16 [8]  unlimited unlimited unlimited 5/16 [8]
V  1/2 [12]  -         -         -         1/2 [12]
OH 5/16 [8]  -         -         -         5/16 [8]
"""
TABLE_5_1_FILL = "all 3/16 [5] 1/4 [6] unlimited unlimited 1/4 [6]"
TABLE_5_1_FILLET = """
F  3/8 [10]  unlimited unlimited unlimited 1/2 [12]
H  5/16 [8]  5/16 [8]  5/16 [8]  1/2 [12]  3/8 [10]
V  1/2 [12]  -         -         -         1/2 [12]
OH 5/16 [8]  -         -         -         5/16 [8]
"""
# SMAW has no row; note g gives the last column by position.
TABLE_5_1_LAYER = """
F  - 5/8 [16] 5/8 [16] 1 [25] 5/8 [16]
H  - 5/8 [16] 5/8 [16] 1 [25] 5/8 [16]
V  - 5/8 [16] 5/8 [16] 1 [25] 1 [25]
OH - 5/8 [16] 5/8 [16] 1 [25] 5/8 [16]
"""
COLUMNS = ("SMAW", "SAW single", "SAW twin", "SAW tandem", "WIRE")


def lines(table: str) -> list[list[str]]:
    """The cells of each line; a figure keeps its bracket."""
    return [line.replace(" [", "[").split() for line in table.strip().splitlines()]


def shown(size: object) -> str:
    """A size as the tables above write it."""
    if size is None:
        return "unlimited"
    return f"{size.us}[{size.si}]"  # type: ignore[attr-defined]


def cells(found: dict[str, object]) -> list[str]:
    return [shown(found[name]) if name in found else "-" for name in COLUMNS]


def test_electrodes_of_table_5_1() -> None:
    found = []
    for row in table_5_1.ELECTRODES:
        stick, *saw, wire = cells(dict(row.sizes))
        assert len(set(saw)) == 1
        position = {"F": "F", "H": "H", "V": "V", "OH": "OH"}[row.position]
        found.append([position, row.weld, "/".join(row.passes), stick, saw[0], wire])
    assert found == lines(TABLE_5_1_ELECTRODES)


def test_upright_low_hydrogen_electrodes_and_wide_roots() -> None:
    assert shown(table_5_1.LOW_HYDROGEN_UPRIGHT) == "5/32[4.0]"
    assert shown(table_5_1.WIDE_ROOT) == "1/2[12]"


def test_currents_of_table_5_1() -> None:
    opening = {None: "either", True: "with", False: "without"}
    found = [
        [row.weld, "/".join(row.passes), opening[row.root_open]]
        + ["unlimited" if row.amperes[name] is None else str(row.amperes[name]) for name in COLUMNS[1:4]]
        for row in table_5_1.CURRENTS
    ]
    assert found == lines(TABLE_5_1_CURRENTS)


@pytest.mark.parametrize(("name", "printed"), [
    ("ROOT_PASS", TABLE_5_1_ROOT), ("SINGLE_PASS_FILLET", TABLE_5_1_FILLET), ("LAYER_WIDTH", TABLE_5_1_LAYER),
])  # fmt: skip
def test_sizes_of_table_5_1_by_position(name: str, printed: str) -> None:
    found = [[position, *cells(row)] for position, row in getattr(table_5_1, name).items()]
    assert found == lines(printed)


def test_fill_passes_of_table_5_1() -> None:
    assert [["all", *cells(dict(table_5_1.FILL_PASS))]] == lines(TABLE_5_1_FILL)


# Figs 5.1 and 5.2: groove, processes, support, root openings with angle and positions, root face, thickness, E less.
DETAILS = """
B-L1a     square       SMAW/GMAW/FCAW steel_backing R=T:-                                -       <=1/4  -
B-L1b     square       SMAW/GMAW/FCAW backgouged    R=T/2:-                              -       <=1/4  -
B-L1-S    square       SAW            no_backing    0:-                                  -       <=3/8  -
B-U2a     single_v     SMAW/GMAW/FCAW steel_backing 1/4:45,3/8:30(F+V+OH),1/2:20(F+V+OH) 0-0     -      -
B-U2a-GF  single_v     GMAW/FCAW      steel_backing 3/16:30(F+V+OH),3/8:30(F+V+OH),1/4:45(F+V+OH) 0-0     -      -
B-U2      single_v     SMAW/GMAW/FCAW backgouged    0-1/8:60                             0-1/8   -      -
B-L2c-S   single_v     SAW            backgouged    0:60                                 -       -      -
B-U2-S    single_v     SAW            steel_backing 5/8:20                               -       -      -
B-U3b     double_v     SMAW/GMAW/FCAW backgouged    0-1/8:60                             0-1/8   -      -
B-U3-GF   double_v     GMAW/FCAW      backgouged    0-1/8:60                             0-1/8   -      -
B-U4a     single_bevel SMAW/GMAW/FCAW steel_backing 1/4:45,3/8:30                        0-0     -      -
B-U4a-GF  single_bevel GMAW/FCAW      steel_backing 3/16:30                              0-0     -      -
B-U4b     single_bevel SMAW/GMAW/FCAW backgouged    0-1/8:45                             0-1/8   -      -
B-U4b-GF  single_bevel GMAW/FCAW      backgouged    0-1/8:45                             0-1/8   -      -
TC-U4a    single_bevel SMAW/GMAW/FCAW steel_backing 1/4:45,3/8:30(F+V+OH)                0-0     -      -
TC-U4a-GF single_bevel GMAW/FCAW      steel_backing 3/16:30,3/8:30(F),1/4:45             0-0     -      -
TC-U4b    single_bevel SMAW/GMAW/FCAW backgouged    0-1/8:45                             0-1/8   -      -
TC-U4b-GF single_bevel GMAW/FCAW      backgouged    0-1/8:45                             0-1/8   -      -
B-U5b     double_bevel SMAW/GMAW/FCAW backgouged    0-1/8:45                             0-1/8   -      -
TC-U5b    double_bevel SMAW/GMAW/FCAW backgouged    0-1/8:45                             0-1/8   -      -
TC-U5-GF  double_bevel GMAW/FCAW      backgouged    0-1/8:45                             0-1/8   -      -
B-U6      single_u     SMAW/GMAW/FCAW backgouged    0-1/8:45,0-1/8:20                    1/8-1/8 -      -
C-U6      single_u     SMAW/GMAW/FCAW backgouged    0-1/8:45,0-1/8:20                    1/8-1/8 -      -
B-U7      double_u     SMAW/GMAW/FCAW backgouged    0-1/8:45,0-1/8:20                    1/8-1/8 -      -
TC-U8a    single_j     SMAW/GMAW/FCAW backgouged    0-1/8:45,0-1/8:30                    1/8-1/8 -      -
TC-U9a    double_j     SMAW/GMAW/FCAW backgouged    0-1/8:45,0-1/8:30                    1/8-1/8 -      -
B-P1a     square       SMAW/GMAW/FCAW no_backing    0-1/16:-                             -       <=1/8  -
B-P1b     square       SMAW/GMAW/FCAW no_backing    R=T/2:-                              -       <=1/4  -
BC-P2     single_v     SMAW/GMAW/FCAW no_backing    0:60                                 1/32-   >=1/4  0
BC-P2-GF  single_v     GMAW/FCAW      no_backing    0:60                                 1/32-   >=1/4  0
B-P3      double_v     SMAW/GMAW/FCAW no_backing    0:60                                 1/8-    >=1/2  0
BTC-P4    single_bevel SMAW/GMAW/FCAW no_backing    0:45                                 1/8-    -      1/8
BTC-P4-GF single_bevel GMAW/FCAW      no_backing    0:45                                 1/8-    -      1/8;F+H:0
BTC-P5    double_bevel SMAW/GMAW/FCAW no_backing    0:45                                 1/8-    >=5/16 1/8
BTC-P10   flare_bevel  SMAW/GMAW/FCAW no_backing    0:-                                  3/16-   >=3/16 -
B-P11     flare_v      SMAW/GMAW/FCAW no_backing    0:-                                  3/16-   -      -
"""
# The SI figure that the figures print beside each inch figure.
SI_OF = {"0": "0", "1/32": "1", "1/16": "2", "1/8": "3", "3/16": "5", "1/4": "6", "5/16": "8", "3/8": "10",
         "1/2": "12", "5/8": "16"}  # fmt: skip
JOINTS = {"B": ("butt",), "C": ("corner",), "BC": ("butt", "corner"), "TC": ("tee", "corner"),
          "BTC": ("butt", "tee", "corner")}  # fmt: skip


def inches(size: object) -> str:
    """The inch figure of a size, its SI figure checked on the way."""
    if size is None:
        return ""
    assert SI_OF[size.us] == size.si  # type: ignore[attr-defined]
    return str(size.us)  # type: ignore[attr-defined]


def opening_words(opening: detail_rows.Opening) -> str:
    ends = list(dict.fromkeys((inches(opening.lo), inches(opening.hi))))
    root = f"R={opening.of_thickness}" if opening.of_thickness else "-".join(ends)
    where = f"({'+'.join(opening.positions)})" if opening.positions else ""
    return f"{root}:{'-' if opening.angle is None else opening.angle}{where}"


def detail_words(detail: detail_rows.Detail) -> list[str]:
    face = "-".join(map(inches, detail.face))
    ends = [f"{sign}{inches(size)}" for sign, size in (("<=", detail.thickest), (">=", detail.thinnest)) if size]
    less = inches(detail.size_less) + (f";F+H:{inches(detail.level_less)}" if detail.level_less else "")
    return [
        detail.name,
        "/".join(detail.groove),
        "/".join(detail.processes),
        detail.support.replace(" ", "_"),
        ",".join(map(opening_words, detail.openings)),
        face,
        "".join(ends) or "-",
        less or "-",
    ]


def test_details_of_the_figures() -> None:
    found = [detail_words(detail) for detail in (*detail_rows.CJP_DETAILS, *detail_rows.PJP_DETAILS)]
    assert found == [line.split() for line in DETAILS.strip().splitlines()]


def test_joints_and_penetration_stand_in_the_designation() -> None:
    """5.4.1 and 5.4.2: letters before the dash are the joints, P behind it is partial penetration."""
    for detail in (*detail_rows.CJP_DETAILS, *detail_rows.PJP_DETAILS):
        letters, rest = detail.name.split("-", 1)
        assert detail.joints == JOINTS[letters], detail.name
        assert detail.cjp is not rest.startswith("P"), detail.name


def test_tolerances_of_details_and_fit_up() -> None:
    """Figs 5.1 and 5.2: as detailed root +1/16 -0, angle +10 -0; at fit-up by support, angle +10 -5, face 1/16."""
    assert (inches(detail_rows.DETAILED_OPENING), detail_rows.DETAILED_ANGLE) == ("1/16", 10)
    less_and_more = {name: tuple(map(inches, pair)) for name, pair in detail_rows.FIT_UP_OPENING.items()}
    assert less_and_more == {
        "steel backing": ("1/16", "1/4"), "backgouged": ("1/8", "1/16"), "no backing": ("1/16", "1/16"),
    }  # fmt: skip
    assert (inches(detail_rows.FIT_UP_FACE), detail_rows.FIT_UP_ANGLE) == ("1/16", (5, 10))
    assert tuple(map(int, SKEW)) == (60, 135)


# Table 5.8 [3.3]: up to 3/4 in [20 mm], to 1-1/2 [38], to 2-1/2 [65], above; °F [°C].
PREHEAT = """
A 32[0]  150[65] 225[110] 300[150]
B 32[0]  50[10]  150[65]  225[110]
C 50[10] 150[65] 225[110] 300[150]
D 32[0]  32[0]   32[0]    32[0]
"""


def test_minimum_preheat() -> None:
    found = [[name, *(f"{one.f}[{one.c}]" for one in row)] for name, row in preheat_rows.MINIMA.items()]
    assert found == lines(PREHEAT)
    assert [shown(size) for size in preheat_rows.BANDS] == ["3/4[20]", "1-1/2[38]", "2-1/2[65]"]
    cold = [(one.f, one.c) for one in (preheat_rows.COLD, preheat_rows.WHEN_COLD)]
    assert cold == [(32, 0), (70, 20)]
    assert preheat_rows.D_HYDROGEN_ML == 8


# Table 5.4 [3.2]: strength classes [ksi] of SMAW, SAW, GMAW, FCAW.
MATCHING = """
I   60/70 60/70 70 60/70
II  70    70    70 70
III 80    80    80 80
IV  90    90    90 90
"""


def test_matching_filler() -> None:
    columns = ("SMAW", "SAW", "WIRE", "FCAW")
    found = [[group, *("/".join(map(str, row[name])) for name in columns)] for group, row in filler.MATCHING.items()]
    assert found == lines(MATCHING)
    assert set(filler.LOW_HYDROGEN_GROUPS) == {"II", "III", "IV"}
    assert filler.ONE_CLASS == 10
    assert (filler.THIN_ONLY, shown(filler.THIN)) == (("11",), "1/2[12]")


def test_gases_by_class_and_as_remembered() -> None:
    """A5.18 and A5.20: C is CO2, M is argon with 20 to 25 % CO2. Table 5.7 of 2020 from memory."""
    co2, mixed = {"CO2": (100, 100)}, {"AR": (75, 80), "CO2": (20, 25)}
    by_class = {
        ("WIRE", "C"): co2, ("FCAW", "C"): co2, ("FCAW", "M"): mixed, ("METAL", "C"): co2, ("METAL", "M"): mixed,
    }  # fmt: skip
    assert by_class == filler.CLASSIFICATION
    remembered = {
        "WIRE": ({"AR": (75, 90), "CO2": (10, 25)}, {"AR": (95, 98), "O2": (2, 5)}, co2),
        "METAL": ({"AR": (75, 95), "CO2": (5, 25)},),
        "FCAW": (mixed, co2),
    }
    assert remembered == filler.REMEMBERED


def test_spacing_of_arcs() -> None:
    """Table 5.2: 10 % or 1/8 in [3 mm], the greater."""
    assert (shown(SPACING), str(SPACING_PART)) == ("1/8[3]", "0.1")


def test_tolerances_of_written_values() -> None:
    """Table 5.2, from memory; the doubtful ones by their strict and their lenient reading. Per cent down and up."""
    found = [(int(one.down or 0), int(one.up or 0)) for one in (CURRENT, WIRE_FEED, TRAVEL)]
    assert found == [(10, 10), (10, 10), (25, 25)]
    doubtful = [[(int(one.down or 0), int(one.up or 0)) for one in row[1:]] for row in (VOLTS, SAW_TRAVEL, FLOW)]
    assert doubtful == [[(7, 7), (15, 15)], [(15, 15), (25, 25)], [(20, 25), (25, 25)]]
    assert ANGLES == {"electrode_angle_between": 10, "electrode_angle_along": 3, "electrode_angle_across": 5}
