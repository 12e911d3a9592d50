"""ASME IX: tables as printed, typed from the published ones and not from codes/.

Sources: QW-451.1 by a public upload of the 2017 edition, QW-451.2 from memory; QW-403.6, 403.9 and 406.1 by public
threads; QW/QB-422 by public copies of 2017 and public descriptions, the other rows from memory; QW-452 by public
slides; QW-461.9 by a public page and interpretations; the differences of the editions by public notes on 2019 and 2021.
"""

from codes.asme_ix_2021 import thresholds
from codes.asme_ix_2021.edition_table import TOPICS
from codes.asme_ix_2021.table_451 import LONGITUDINAL, TRANSVERSE, Row
from codes.asme_ix_people_2021 import positions, process, sizes
from codes.asme_ix_people_2021.position_rows import ROWS as POSITIONS
from codes.asme_ix_tables import P_ROWS
from codes.terms import term, tokens
from codes.unit_sets import Twin

# Coupon T in (mm); least base T; most base T; deposit of 3/4 in (19 mm) and more, where it differs from 2 t.
QW_451_1 = """
-..<0.0625(1.5)           T           2T     -
0.0625(1.5)..0.375(10)    0.0625(1.5) 2T     -
>0.375(10)..<0.75(19)     0.1875(5)   2T     -
0.75(19)..<1.5(38)        0.1875(5)   2T     2T
1.5(38)..6(150)           0.1875(5)   8(200) 8(200)
>6(150)..-                0.1875(5)   1.33T  1.33T
"""
QW_451_2 = """
-..<0.0625(1.5)           T           2T     -
0.0625(1.5)..0.375(10)    0.0625(1.5) 2T     -
>0.375(10)..-             0.1875(5)   2T     -
"""


def both(size: Twin | None) -> str:
    return "-" if size is None else f"{size.inches}({size.metric})"


def most(end: object) -> str:
    return both(end) if isinstance(end, Twin) or end is None else f"{end}T"


def row_words(row: Row) -> list[str]:
    start = "" if row.start is None or row.start_in else ">"
    end = "" if row.end is None or row.end_in else "<"
    span = f"{start}{both(row.start)}..{end}{both(row.end)}"
    return [span, "T" if row.least is None else both(row.least), most(row.most), most(row.thick_deposit)]


def test_thickness_of_procedure_coupons() -> None:
    assert [row_words(row) for row in TRANSVERSE] == [line.split() for line in QW_451_1.strip().splitlines()]
    assert [row_words(row) for row in LONGITUDINAL] == [line.split() for line in QW_451_2.strip().splitlines()]


def test_figures_that_stand_in_the_text() -> None:
    """QW-403.6: 1/4 in (6 mm), 5/8 in (16 mm). QW-403.9: 1/2 in (13 mm). QW-406.1, 406.3: 100 °F (55 °C)."""
    found = [both(one) for one in (thresholds.SIX, thresholds.TOUGH_LEAST, thresholds.THICK_PASS, thresholds.MID)]
    assert found == ["0.25(6)", "0.625(16)", "0.5(13)", "0.75(19)"]
    assert (int(thresholds.STEP_US), int(thresholds.STEP_SI)) == (100, 55)


def test_what_the_editions_differ_in() -> None:
    """405.2 stands to 2017; 403.10 and 404.32 of procedures to 2019."""
    assert {topic.paragraphs: topic.until for topic in TOPICS} == {
        ("405.2",): 2017, ("403.10",): 2019, ("404.32",): 2019,
    }  # fmt: skip


def test_sizes_of_welders_tests() -> None:
    """QW-452.1(b), 452.3, 452.5, QW-404.32, QW-461.9 and its note."""
    assert (both(sizes.THICK), int(sizes.LAYERS)) == ("0.5(13)", 3)
    assert [both(step) for step in sizes.DIAMETER_STEPS] == ["2.875(73)", "1(25)"]
    assert (both(sizes.THIN_FILLET), str(sizes.SHORT_ARC)) == ("0.1875(5)", "1.1")
    assert (both(positions.LARGE_PIPE), both(positions.NOTE_PIPE)) == ("24(610)", "2.875(73)")
    assert process.GTAW_FORMS == (("141", "145"), ("143",), ("142",))


# Tested; grooves in plate and pipe above 24 in (610 mm), grooves in smaller pipe, fillets.
QW_461_9 = """
plate 1G       F      F      F
plate 2G       FH     FH     FH
plate 3G       FV     F      FHV
plate 4G       FO     F      FHO
plate 3G+4G    FVO    F      FHVO
plate 2G+3G+4G FHVO   FH     FHVO
plate 1F       -      -      F
plate 2F       -      -      FH
plate 3F       -      -      FHV
plate 4F       -      -      FHO
plate 3F+4F    -      -      FHVO
pipe  1G       F      F      F
pipe  2G       FH     FH     FH
pipe  5G       FVO    FVO    FHVO
pipe  6G       FHVO   FHVO   FHVO
pipe  2G+5G    FHVO   FHVO   FHVO
pipe  1F       -      -      F
pipe  2F       -      -      FH
pipe  4F       -      -      FHO
pipe  5F       -      -      FHVO
"""


def test_positions_of_welders() -> None:
    def letters(covered: frozenset[str]) -> str:
        return "".join(name[0] for name in ("F", "H", "V", "OH") if name in covered) or "-"

    found = [
        [row.product, "+".join(row.tested), letters(row.groove), letters(row.small_pipe), letters(row.fillet)]
        for row in POSITIONS
    ]
    assert found == [line.split() for line in QW_461_9.strip().splitlines()]


# QW/QB-422: P-number, group (0: none given); specification: grades.
QW_422 = """
P1 1   A36: A53:A/B A106:A/B A135:A/B A139:A/B/C/D/E bar:1015/1018/1020
P1 1   A283:A/B/C/D A285:A/B/C A516:55/60/65 A515:60/65 A500:B/C A501: A572:42/50 A709:36/50
P1 1   A234:WPB A333:1/6 A350:LF1 API5L:B/X42/X46 API5L:X52
P1 2   A105: A106:C A516:70 A515:70 A537:CL1 A350:LF2 A216:WCB/WCC A234:WPC API5L:X56/X60/X65
P1 3   A537:CL2 API5L:X70
P3 3   bar:8620 A302:B/C/D
P3 0   A204:A/B/C A335:P1/P2 A387:2
P4 1   A335:P11/P12 A387:11/12 A182:F11/F12
P5A 1  A335:P21/P22 A387:21/22 A182:F21/F22
P5B 1  A335:P5/P9 A387:5/9
P6 1   stainless:410/415/429
P7 1   stainless:405/409/410S
P7 2   stainless:430
P8 1   stainless:304/304L/304H/316/316L/316H/317/317L/321/321H/347/347H
P8 2   stainless:309/310
P8 3   stainless:201/XM-19
P8 4   stainless:S31254
P10C 0 A612:
P10H 1 stainless:S31803/S32205/S32750
P11A 1 A353: A333:8
P11B 0 A514: A517:
P15E 1 A335:P91/P92 A387:91
"""


def test_p_numbers_of_metals() -> None:
    printed = [
        [number, group, *part.split(":")]
        for number, group, *parts in (line.split() for line in QW_422.strip().splitlines())
        for part in parts
    ]
    found = [[row.p_number, str(row.group), row.specification.replace(" ", ""), "/".join(row.grades)] for row in P_ROWS]
    assert found == printed


def test_groups_of_p_and_f_numbers() -> None:
    """QW/QB-422 and QW-432: P-21 to 26 aluminium, 31 to 35 copper, 41 to 49 nickel, 51 to 53 titanium, 61 and 62
    zirconium; F-21 to 26, 31 to 37, 41 to 46, 51 to 56 and 61 likewise, 71 and 72 hard facing."""
    for vocabulary, letter, ranges in (
        ("p_number", "P", ((21, 26), (31, 35), (41, 49), (51, 53), (61, 62))),
        ("f_number", "F", ((21, 26), (31, 37), (41, 46), (51, 56), (61, 61), (71, 72))),
    ):
        high = {int(one[1:]) for one in tokens(vocabulary) if one[1:].isdecimal() and int(one[1:]) > 20}
        assert high == {n for lo, hi in ranges for n in range(lo, hi + 1)}
        words = {term(vocabulary, f"{letter}{lo}").words for lo, _ in ranges}
        assert len(words) == len(ranges)
        for lo, hi in ranges:
            assert {term(vocabulary, f"{letter}{n}").words for n in range(lo, hi + 1)} <= words | {
                term(vocabulary, f"{letter}{hi}").words
            }
