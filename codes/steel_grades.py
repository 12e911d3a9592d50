"""Steel grades as data: specified minimum yield by thickness band, and steel group to ISO/TR 15608:2017.

One row serves every grade named in it. Bands are written "up to: yield", thickness in mm and yield in MPa, smallest
first; "<11" means below 11 mm, "-" any greater thickness. Where the rule gives a figure for thin material only, no
other band is entered: the grade is then not stated in thicker material. `tested` is the group that a test made on
the grade counts as, where the strict reading differs from the group a joint in it asks for. Not entered: stainless
grades, castings, forgings, and the through-thickness classes, which change neither yield nor group.
"""

from dataclasses import dataclass

from codes.clauses import Mark

C, M, P, D = Mark.CONFIRMED, Mark.MEMORY, Mark.PART, Mark.DOUBT


@dataclass(frozen=True, slots=True)
class Row:
    """Grades that share bands and group. `yield_mark` and `group_mark` say how sure each of the two is."""

    standard: str
    grades: tuple[str, ...]
    bands: str
    group: str
    yield_mark: Mark = M
    group_mark: Mark = M
    source: str = "from memory of the product standard"
    note: str = ""
    tested: str = ""
    tested_yield: str = ""


def _row(
    standard: str,
    grades: str,
    bands: str,
    group: str,
    yield_mark: Mark = M,
    group_mark: Mark = M,
    source: str = "from memory of the product standard",
    note: str = "",
    tested: str = "",
    tested_yield: str = "",
) -> Row:
    return Row(
        standard, tuple(grades.split(", ")), bands, group, yield_mark, group_mark, source, note, tested, tested_yield
    )


_2, _3, _4, _5, _6 = "EN 10025-2", "EN 10025-3", "EN 10025-4", "EN 10025-5", "EN 10025-6"
_MC, _HOT, _COLD = "EN 10149-2", "EN 10210-1", "EN 10219-1"
_A36_NOTE = "carbon to 0.25-0.29 % is allowed: group 1.1 only where the certificate shows C <= 0.25 %"
_ASK = "the coordinator names the group from the certificate"

_235 = "16:235 40:225 100:215 150:195 200:185 250:175"
_275 = "16:275 40:265 63:255 80:245 100:235 150:225 200:215 250:205"
_355 = "16:355 40:345 63:335 80:325 100:315 150:295 200:285 250:275"
_235_TO_100 = "16:235 40:225 100:215"
_275_TO_150 = "16:275 40:265 63:255 80:245 100:235 150:225"
_355_TO_150 = "16:355 40:345 63:335 80:325 100:315 150:295"
_TABLES = "public strength table of EN 10025-2 and a testing body's grouping list"
_GROUPS = "a testing body's grouping list for the group; yield from memory"
_MILL = "mill table of American grades"
_JIS = "mill product table and an extract of JIS G3106"

ROWS: tuple[Row, ...] = (
    _row(_2, "S235JR, S235J0", _235, "1.1", C, C, _TABLES),
    _row(_2, "S235J2", f"{_235} 400:165", "1.1", C, C, _TABLES),
    _row(_2, "S275JR, S275J0, S275J2", _275, "1.1", C, C, _TABLES),
    _row(_2, "S355JR, S355J0, S355J2, S355K2", _355, "1.2", C, C, _TABLES),
    _row(
        _2,
        "S450J0",
        "16:450 40:430 63:410 80:390 150:380",
        "1.3",
        C,
        D,
        "public strength table of EN 10025-2",
        "group by yield alone: it is not a normalised fine-grain steel, ask the coordinator",
    ),
    _row(_2, "E295", "16:295", "11", C, C, "a testing body's grouping list", "weldability is not promised"),
    _row(_2, "E335", "16:335", "11", C, C, "a testing body's grouping list", "weldability is not promised"),
    _row(_2, "E360", "16:360", "11", C, C, "a testing body's grouping list", "weldability is not promised"),
    _row(_3, "S275N, S275NL", _275_TO_150, "1.1", M, C, _GROUPS),
    _row(_3, "S355N, S355NL", _355_TO_150, "1.2", P, C, "construction information page, to 100 mm"),
    _row(_3, "S420N, S420NL", "16:420 40:400 63:390 80:370 100:360 150:340", "1.3", M, C, _GROUPS),
    _row(_3, "S460N, S460NL", "16:460 40:440 63:430 80:410 100:400 150:380", "1.3", M, C, _GROUPS),
    _row(_4, "S275M, S275ML", "16:275 40:265 63:255 80:245 100:245 120:240", "1.1", M, C, _GROUPS),
    _row(_4, "S355M, S355ML", "16:355 40:345 63:335 80:325 100:325 120:320", "1.2", M, C, _GROUPS),
    _row(_4, "S420M, S420ML", "16:420 40:400 63:390 80:380 100:370 120:365", "2.1", M, C, _GROUPS),
    _row(_4, "S460M, S460ML", "16:460 40:440 63:430 80:410 100:400 120:385", "2.1", M, C, _GROUPS),
    _row(_4, "S500M, S500ML", "16:500 40:480 63:460 120:450", "2.2", note="edition 2019"),
    _row(_5, "S235J0W, S235J2W", _235_TO_100, "1.4", note="group by its definition: weather-resisting"),
    _row(_5, "S355J0W, S355J2W, S355K2W", _355_TO_150, "1.4", M, C, _GROUPS),
    _row(_5, "S355J0WP, S355J2WP", "16:355 40:345", "1.4"),
    _row(_6, "S460Q, S460QL, S460QL1", "50:460 100:440 150:400", "3.1", M, C, _GROUPS),
    _row(_6, "S500Q, S500QL", "50:500 100:480 150:440", "3.1"),
    _row(_6, "S550Q, S550QL", "50:550 100:530 150:490", "3.1"),
    _row(_6, "S620Q, S620QL", "50:620 100:580 150:560", "3.1"),
    _row(_6, "S690Q, S690QL, S690QL1", "50:690 100:650 150:630", "3.1", M, C, _GROUPS),
    _row(_6, "S890Q, S890QL", "50:890 100:830", "3.2", M, C, _GROUPS),
    _row(_6, "S960Q, S960QL", "50:960", "3.2", M, C, _GROUPS),
    _row(_MC, "S315MC", "-:315", "1.2", C, M, "mill table of MC grades; group from memory"),
    _row(
        _MC,
        "S355MC",
        "-:355",
        "2.1",
        C,
        D,
        "mill table of MC grades; two grouping lists disagree",
        "1.2 by yield, listed with 2.1 by one testing body: a joint asks for 2.1, a test counts as 1.2",
        tested="1.2",
    ),
    _row(_MC, "S420MC", "-:420", "2.1", C, C, "mill table of MC grades and a testing body's grouping list"),
    _row(_MC, "S460MC", "-:460", "2.1", C, C, "mill table of MC grades and a testing body's grouping list"),
    _row(_MC, "S500MC", "-:500", "2.2", C, C, "mill table of MC grades and a testing body's grouping list"),
    _row(_MC, "S550MC", "-:550", "2.2", M, C, _GROUPS),
    _row(_MC, "S600MC", "8:600 -:580", "2.2", M, C, _GROUPS),
    _row(_MC, "S650MC", "8:650 -:630", "2.2", M, C, _GROUPS),
    _row(_MC, "S700MC", "8:700 -:680", "2.2", M, C, _GROUPS),
    _row(_MC, "S900MC", "-:900", "2.2"),
    _row(_MC, "S960MC", "-:960", "2.2"),
    _row(_HOT, "S235JRH", _235_TO_100, "1.1"),
    _row(_HOT, "S275J0H, S275J2H", _275_TO_150, "1.1"),
    _row(_HOT, "S355J0H, S355J2H, S355K2H", _355_TO_150, "1.2"),
    _row(_HOT, "S275NH", "16:275", "1.1"),
    _row(_HOT, "S355NH", "16:355", "1.2"),
    _row(_HOT, "S420NH", "16:420", "1.3"),
    _row(_HOT, "S460NH", "16:460", "1.3"),
    _row(_COLD, "S235JRH", "16:235 40:225", "1.1"),
    _row(_COLD, "S275J0H, S275J2H", "16:275 40:265", "1.1"),
    _row(_COLD, "S355J0H, S355J2H, S355K2H", "16:355 40:345", "1.2"),
    _row(_COLD, "S355MH", "16:355", "1.2"),
    _row(_COLD, "S420MH", "16:420", "2.1"),
    _row(_COLD, "S460MH", "16:460", "2.1"),
    _row("ASTM A36", "A36", "200:250 -:220", "11.1", C, D, _MILL, _A36_NOTE),
    _row("ASTM A572", "A572 Gr 42", "-:290", "1.2", C, M, _MILL),
    _row("ASTM A572", "A572 Gr 50", "-:345", "1.2", C, M, _MILL),
    _row("ASTM A572", "A572 Gr 60", "-:415", "1.3", C, D, _MILL, "not always normalised: see the certificate"),
    _row("ASTM A572", "A572 Gr 65", "-:450", "1.3", C, D, _MILL, "not always normalised: see the certificate"),
    _row("ASTM A992", "A992", "-:345", "1.2", C, M, _MILL, "yield at most 450 MPa"),
    _row("ASTM A588", "A588 Gr B, A588 Gr C", "100:345", "1.4", C, D, _MILL, "weather-resisting: group by definition"),
    _row("ASTM A709", "A709 Gr 36", "-:250", "11.1", C, D, _MILL, _A36_NOTE),
    _row("ASTM A709", "A709 Gr 50", "-:345", "1.2", C, M, _MILL),
    _row("ASTM A709", "A709 Gr 50S", "-:345", "1.2", C, M, _MILL, "yield at most 450 MPa"),
    _row("ASTM A913", "A913 Gr 50", "-:345", "1.2", C, M, _MILL),
    _row(
        "ASTM A913",
        "A913 Gr 65",
        "-:450",
        "3.1",
        C,
        D,
        _MILL,
        "quenched and self-tempered: 2.1 or 3.1; a joint asks for 3.1, a test counts as 2.1",
        tested="2.1",
    ),
    _row(
        "ASTM A913",
        "A913 Gr 70",
        "-:485",
        "3.1",
        C,
        D,
        _MILL,
        "quenched and self-tempered: 2.2 or 3.1; a joint asks for 3.1, a test counts as 2.2",
        tested="2.2",
    ),
    _row(
        "ASTM A500",
        "A500 Gr B",
        "-:315",
        "11.1",
        C,
        D,
        "engineering handbook extract, in ksi",
        "shape not named: a joint asks for shaped (315), a test counts as round (290); 1.2 where C <= 0.25 %",
        tested_yield="290",
    ),
    _row("ASTM A500", "A500 Gr B round", "-:290", "11.1", C, D, "handbook extract, in ksi", "1.2 where C <= 0.25 %"),
    _row("ASTM A500", "A500 Gr B shaped", "-:315", "11.1", C, D, "handbook extract, in ksi", "1.2 where C <= 0.25 %"),
    _row(
        "ASTM A500",
        "A500 Gr C",
        "-:345",
        "1.2",
        C,
        D,
        "engineering handbook extract, in ksi",
        "shape not named: a joint asks for shaped (345), a test counts as round (315)",
        tested_yield="315",
    ),
    _row("ASTM A500", "A500 Gr C round", "-:315", "1.2", C, D, "engineering handbook extract, in ksi"),
    _row("ASTM A500", "A500 Gr C shaped", "-:345", "1.2", C, D, "engineering handbook extract, in ksi"),
    _row("ASTM A514", "A514", "65:690 150:620", "3.1"),
    _row(
        "JIS G3101",
        "SS400",
        "16:245 40:235 -:215",
        "",
        C,
        D,
        _JIS,
        "the standard limits P and S only: 1.1 where the analysis on the certificate proves it",
    ),
    _row("JIS G3106", "SM400A, SM400B, SM400C", "16:245 40:235 100:215 160:205", "1.1", C, C, _JIS),
    _row("JIS G3106", "SM490A, SM490B, SM490C", "16:325 40:315 100:295 160:285", "1.2", C, C, _JIS),
    _row(
        "JIS G3106",
        "SM490YA, SM490YB",
        "16:365 40:355 75:335 100:325",
        "",
        C,
        D,
        _JIS,
        f"above 360 MPa to 16 mm and not normalised: {_ASK}",
    ),
    _row(
        "JIS G3106",
        "SM520B, SM520C",
        "16:365 40:355 75:335 100:325",
        "",
        C,
        D,
        _JIS,
        f"above 360 MPa to 16 mm and not normalised: {_ASK}",
    ),
    _row(
        "JIS G3106",
        "SM570",
        "16:460 40:450 75:430 100:420",
        "3.1",
        C,
        D,
        _JIS,
        "3.1 quenched and tempered, 2.1 thermomechanical, by certificate; a joint asks for 3.1, a test counts as 2.1",
        tested="2.1",
    ),
    _row("JIS G3136", "SN400A", "-:235", "1.1", C, C, _JIS),
    _row("JIS G3136", "SN400B, SN400C", "-:235", "1.1", C, C, _JIS, "yield at most 355 MPa"),
    _row("JIS G3136", "SN490B, SN490C", "-:325", "1.2", C, C, _JIS, "yield at most 445 MPa"),
    _row(
        "AS/NZS 3678",
        "AS 3678-250",
        "8:280 12:260 50:250 80:240 150:230",
        "1.2",
        M,
        D,
        note="1.1 by name; plate to 8 mm is specified at 280 MPa, above the 275 MPa of group 1.1",
        tested="1.1",
        tested_yield="250",
    ),
    _row("AS/NZS 3678", "AS 3678-300", "8:320 12:310 20:300 50:280 80:270 150:260", "1.2"),
    _row("AS/NZS 3678", "AS 3678-350", "12:360 20:350 80:340 150:330", "1.2"),
    _row(
        "AS/NZS 3678",
        "AS 3678-400",
        "12:400 20:380 50:360",
        "2.1",
        M,
        D,
        note="1.3 or 2.1 by delivery condition; a joint asks for 2.1, a test counts as 1.3",
        tested="1.3",
    ),
    _row(
        "AS/NZS 3678",
        "AS 3678-450",
        "20:450 32:420 50:400",
        "2.1",
        M,
        D,
        note="1.3 or 2.1 by delivery condition; a joint asks for 2.1, a test counts as 1.3",
        tested="1.3",
    ),
    _row("AS/NZS 3679.1", "AS 3679.1-300", "<11:320 17:300 -:280", "1.2"),
    _row("AS/NZS 1163", "C250", "-:250", "1.1"),
    _row("AS/NZS 1163", "C350", "-:350", "1.2"),
    _row("AS/NZS 1163", "C450", "-:450", "", M, D, note=_ASK),
)
