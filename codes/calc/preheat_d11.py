"""AWS D1.1 annex, hydrogen control: susceptibility index and group, and the least preheat and interpass temperature.

The code prints its own figures per unit system; a thickness in inches is answered in °F, one in mm in °C.
"""

from decimal import ROUND_HALF_UP, Decimal

from codes.calc.calculation import Calculation, Kind, asked, choice, optional, yes_no
from codes.calc.d11_tables import (
    BANDS,
    BY_INDEX,
    GROUPS,
    HYDROGEN,
    MINIMUM,
    PCM_BOUNDS,
    PREQUALIFIED,
    PREQUALIFIED_STEPS,
    RESTRAINTS,
    THICKNESS_STEPS,
    Steps,
)
from codes.calc.exact import exact
from codes.calc.result import Refused, Result, Working, one_of, positive
from codes.clauses import Clause, Mark
from codes.values import number

INDEX = Clause(
    "AWS D1.1:2020", "Annex B, susceptibility index", Mark.PART, "welding society's forum; levels H from memory"
)
GROUP = Clause("AWS D1.1:2020", "Annex B, susceptibility groups", Mark.PART, "one cell in the welding society's forum")
PREHEAT = Clause("AWS D1.1:2020", "Annex B, minimum preheat", Mark.PART, "one cell in the welding society's forum")
TABLE_5_8 = Clause(
    "AWS D1.1:2020",
    "Table 5.8 (Table 3.3 of 2015)",
    Mark.PART,
    "US Army TI 809-26; extract of D1.1:2015; machine manual",
)
CHECK = "table from memory: the coordinator verifies it against the shop's copy before use"


@exact
def susceptibility_index(pcm: Decimal, hydrogen: Decimal) -> Result:
    """12 Pcm + log10 H; the step `group` follows from its one-decimal value. Raises Refused above 7.0.

    Example: Pcm 0.2422 and 5 ml/100 g give 3.605..., group C.
    """
    working = Working()
    value = 12 * positive("pcm", pcm, "%") + positive("hydrogen", hydrogen, "ml/100 g").log10()
    rounded = working.step("index_to_one_decimal", value.quantize(Decimal("0.1"), ROUND_HALF_UP))
    working.word("group", _group_by_index(rounded))
    working.flag("limits of the groups from memory")
    return working.result(value, "", INDEX, "SI = 12·Pcm + log₁₀(H)", shown=number(rounded))


def _group_by_index(index: Decimal) -> str:
    """The group of a one-decimal index. Raises Refused above 7.0."""
    for group, highest in BY_INDEX:
        if index <= Decimal(highest):
            return group
    raise Refused("pcm", f"the susceptibility index {number(index)} is above 7.0, the end of the groups")


def _group_by_band(pcm: Decimal, level: str) -> str:
    """The group of the banded table. Raises Refused from Pcm 0.38 on."""
    column = next((i for i, bound in enumerate(PCM_BOUNDS) if pcm < Decimal(bound)), None)
    if column is None:
        raise Refused("pcm", f"{number(pcm)} % is not below 0.38 %, the end of the table")
    return BANDS[level][column]


def level_of(hydrogen: Decimal) -> str:
    """H1 below 5 ml/100 g, H2 below 10, else H3. Raises Refused at 0 or less."""
    positive("hydrogen", hydrogen, "ml/100 g")
    return "H1" if hydrogen < 5 else "H2" if hydrogen < 10 else "H3"


@exact
def susceptibility_group(
    pcm: Decimal, hydrogen_level: str | None = None, hydrogen: Decimal | None = None, finer_index: bool = False
) -> Result:
    """The banded group, unless the index gives a more severe one; a milder one only by `finer_index` with measured H.

    Example: Pcm 0.27 at H2 is group D; Pcm 0.329 at H1 is E, by the index.
    """
    working = Working()
    one_of("hydrogen_level", hydrogen_level, ("hydrogen", hydrogen))
    level = working.word("hydrogen_level", hydrogen_level or level_of(hydrogen or Decimal(0)))
    if finer_index and hydrogen is None:
        raise Refused("finer_index", "the milder index may be used with measured hydrogen only; state hydrogen")
    banded = working.word("group_by_table", _group_by_band(positive("pcm", pcm, "%"), level))
    index = susceptibility_index(pcm, hydrogen if hydrogen is not None else HYDROGEN[level])
    working.step("susceptibility_index", index.figure)
    by_index = working.word("group_by_index", str(index.step("group")))
    group = max(banded, by_index)
    if by_index < banded and finer_index:
        group = by_index
        working.flag("the milder group of the index is used: measured Pcm and hydrogen must be on file")
    working.flag("the index gives a more severe group than the table: it counts", when=by_index > banded)
    working.flag("table and index from memory, one cell confirmed")
    return working.result(group, "", GROUP, "table of Pcm and H; SI = 12·Pcm + log₁₀(H)")


@exact
def minimum_preheat(
    restraint: str,
    group: str | None = None,
    pcm: Decimal | None = None,
    hydrogen_level: str | None = None,
    hydrogen: Decimal | None = None,
    finer_index: bool = False,
    thickness_mm: Decimal | None = None,
    thickness_in: Decimal | None = None,
) -> Result:
    """Least preheat and interpass temperature by restraint, thickest part and susceptibility group.

    Example: high restraint, 2 in, group D are 300 °F; medium, 25 mm, group C are 75 °C.
    """
    working = Working()
    one_of("group", group, ("pcm", pcm))
    if pcm is not None:
        found = susceptibility_group(pcm, hydrogen_level, hydrogen, finer_index)
        working.steps += found.steps
        working.flags += found.flags
        group = str(found.value)
    group = working.word("group", (group or "").upper())
    if group not in GROUPS:
        raise Refused("group", f"must be one of {', '.join(GROUPS)}")
    row = row_of(thickness_mm, thickness_in, THICKNESS_STEPS)
    fahrenheit, celsius, below = MINIMUM[restraint][row][GROUPS.index(group)]
    working.flag("lower than this may also be safe", when=below)
    working.flag(CHECK)
    working.flag("a preheat below both this table and the prequalified table needs a test (from memory)")
    return _in_system(working, fahrenheit, celsius, thickness_in is not None, PREHEAT)


@exact
def prequalified_preheat(
    categories: tuple[str, ...], thickness_mm: Decimal | None = None, thickness_in: Decimal | None = None
) -> Result:
    """Prequalified least preheat and interpass by category and thickest part; the highest of dissimilar steels.

    Raises Refused below 3 mm (1/8 in). Example: category B is 0 °C at 20 mm and 10 °C at 20.1 mm.
    """
    working = Working()
    row = row_of(thickness_mm, thickness_in, PREQUALIFIED_STEPS)
    least, unit = (thickness_mm, "3 mm") if thickness_mm is not None else (thickness_in, "1/8 in")
    if least is not None and least < (Decimal(3) if thickness_mm is not None else Decimal("0.125")):
        field = "thickness_mm" if thickness_mm is not None else "thickness_in"
        raise Refused(field, f"{number(least)} {unit.partition(' ')[2]} is below {unit}, where the table begins")
    pairs = []
    for category in (one.upper() for one in categories):
        if category not in PREQUALIFIED:
            raise Refused("categories", f"{category} is not a category; use {', '.join(PREQUALIFIED)}")
        pairs.append(PREQUALIFIED[category][row])
        working.flag("category D: consumables of at most 8 ml/100 g only", when=category == "D")
        working.flag("categories C and D from a public manual, A and B from two", when=category in "CD")
    if not pairs:
        raise Refused("categories", "state at least one category, A to D")
    fahrenheit, celsius = max(pairs)
    working.flag("steel below 0 °C (32 °F) is warmed to 20 °C (70 °F) at least (from memory)", when=fahrenheit == 32)
    return _in_system(working, fahrenheit, celsius, thickness_in is not None, TABLE_5_8)


def row_of(thickness_mm: Decimal | None, thickness_in: Decimal | None, steps: Steps) -> int:
    """The row of a table for the thickest part, within the unit system in which it is stated."""
    one_of("thickness_mm", thickness_mm, ("thickness_in", thickness_in))
    metric = thickness_mm is not None
    field, unit = ("thickness_mm", "mm") if metric else ("thickness_in", "in")
    thickness = positive(field, thickness_mm or thickness_in or Decimal(0), unit)
    for row, (mm, inch, end_belongs) in enumerate(steps):
        end = Decimal(mm if metric else inch)
        if thickness < end or (end_belongs and thickness == end):
            return row
    return len(steps)


def _in_system(working: Working, fahrenheit: int, celsius: int, us: bool, clause: Clause) -> Result:
    working.step("celsius", Decimal(celsius), "°C")
    working.step("fahrenheit", Decimal(fahrenheit), "°F")
    value, unit = (Decimal(fahrenheit), "°F") if us else (Decimal(celsius), "°C")
    return working.result(value, unit, clause, "look-up in the table named below", fixed_units=True)


_HYDROGEN = (
    choice(
        "hydrogen_level",
        "Hydrogen level",
        {"H1": "H1: below 5 ml/100 g", "H2": "H2: below 10 ml/100 g", "H3": "H3: not controlled"},
        "no hydrogen",
    ),
    optional("hydrogen", "Diffusible hydrogen, measured", "ml/100 g", needed="no hydrogen level"),
    yes_no("finer_index", "Use the milder index", "needs measured Pcm and hydrogen on file"),
)
_THICKNESS = (
    optional("thickness_mm", "Thickest part at the point of welding, SI column", "mm", needed="no inches"),
    optional("thickness_in", "Thickest part at the point of welding, US column", "in", needed="no millimetres"),
)
CALCULATIONS = (
    Calculation(
        "d11_susceptibility_index",
        "Susceptibility index, D1.1 annex",
        "preheat",
        "",
        susceptibility_index,
        (asked("pcm", "Pcm", "%"), asked("hydrogen", "Hydrogen H", "ml/100 g", "5, 10 or 30 by level, or measured")),
    ),
    Calculation(
        "d11_susceptibility_group",
        "Susceptibility group, D1.1 annex",
        "preheat",
        "",
        susceptibility_group,
        (asked("pcm", "Pcm", "%"), *_HYDROGEN),
    ),
    Calculation(
        "d11_minimum_preheat",
        "Minimum preheat and interpass by hydrogen control, D1.1 annex",
        "preheat",
        "°C",
        minimum_preheat,
        (
            choice("restraint", "Restraint", RESTRAINTS, "always"),
            choice("group", "Susceptibility group", {group: f"group {group}" for group in GROUPS}, "no Pcm"),
            optional("pcm", "Pcm", "%", needed="no group"),
            *_HYDROGEN,
            *_THICKNESS,
        ),
    ),
    Calculation(
        "d11_prequalified_preheat",
        "Prequalified minimum preheat and interpass, D1.1",
        "preheat",
        "°C",
        prequalified_preheat,
        (asked("categories", "Category of each steel", help="A to D", kind=Kind.TERMS), *_THICKNESS),
    ),
)
