"""EN 1090-2, 12.4.2: share of welds for supplementary NDT (Table 24) and hold times (Table 23), as tables to look at.

Every weld is examined by eye, 100 %. The cells of Table 24 are remembered from the edition of 2008; in 2018 the
utilisation went and 20 mm became 30 mm, and each cell is doubtful. Quality assurance may overrule any of them.
They never decide whether a procedure covers a joint.
"""

from dataclasses import dataclass
from decimal import Decimal

from codes.clauses import Clause, Mark
from codes.en_1090_2_2018.figures import ALL, FIGURES_2008, FIGURES_2018, Figures

D12, D20, D30 = Decimal(12), Decimal(20), Decimal(30)
REGISTER_SITE = "note on the specifier's duty for NDT (certification site): principle only"

TABLE_24 = "12.4.2.2, Table 24"
NDT_2008 = FIGURES_2008.clause(TABLE_24, Mark.MEMORY, "from memory of the edition of 2008")
NDT_2018 = FIGURES_2018.clause(TABLE_24, Mark.DOUBT, f"cells of 2008; {REGISTER_SITE}")


@dataclass(frozen=True, slots=True)
class NdtRow:
    """A kind of weld and its share [% of weld length per inspection lot] in EXC1 to EXC4. Empty editions: both."""

    key: str
    weld: str
    shares: tuple[int, int, int, int]
    editions: tuple[str, ...] = ()


def _thick(figures: Figures) -> Decimal:
    return D20 if figures is FIGURES_2008 else D30


_OLD, _NEW = (FIGURES_2008.standard,), (FIGURES_2018.standard,)

NDT_ROWS = (
    NdtRow(
        "butt_transverse", "butt weld across, butt joint in tension, utilisation 0.5 or more", (0, 10, 20, 100), _OLD
    ),
    NdtRow("butt_transverse", "butt weld across, butt joint in tension", (0, 10, 20, 100), _NEW),
    NdtRow("butt_low_use", "butt weld across, butt joint in tension, utilisation below 0.5", (0, 0, 10, 50), _OLD),
    NdtRow("butt_cruciform", "butt weld across in a cruciform joint", (0, 10, 20, 100)),
    NdtRow("butt_tee", "butt weld across in a T-joint", (0, 5, 10, 50)),
    NdtRow("fillet_large", "fillet weld across, in tension or shear, large", (0, 5, 10, 20)),
    NdtRow("fillet_small", "fillet weld across, small", (0, 0, 5, 10)),
    NdtRow("longitudinal", "weld along, stiffener weld, weld in compression", (0, 0, 5, 10)),
    NdtRow("crane_girder", "full-penetration weld of web to top flange, crane girder", (0, 10, 20, 100)),
)


@dataclass(frozen=True, slots=True)
class NdtShare:
    """Percentage of the lot, with the place and the mark."""

    percent: int
    weld: str
    clause: Clause


def ndt_share(key: str, execution_class: str, figures: Figures = FIGURES_2018) -> NdtShare:
    """The share of a kind of weld. Raises ValueError for an unknown kind or class, or one the edition does not have."""
    rows = [row for row in NDT_ROWS if row.key == key and (not row.editions or figures.standard in row.editions)]
    if not rows:
        known = dict.fromkeys(row.key for row in NDT_ROWS)
        raise ValueError(f"{key} is not a kind of weld of {figures.standard}; known: {', '.join(known)}")
    if execution_class not in ALL:
        raise ValueError(f"{execution_class} is not an execution class; use {', '.join(ALL)}")
    clause = NDT_2008 if figures is FIGURES_2008 else NDT_2018
    return NdtShare(rows[0].shares[ALL.index(execution_class)], rows[0].weld, clause)


def fillet_kind(throat: Decimal, t: Decimal, figures: Figures = FIGURES_2018) -> str:
    """Which fillet row of Table 24 counts for throat and thickness [mm].

    Example: 2018, throat 12 and 30 mm is small; throat 12.1, or 30.1 mm, is large (2008: above 20 mm).
    """
    return "fillet_large" if throat > D12 or t > _thick(figures) else "fillet_small"


FIRST_JOINTS = 5
FIRST_JOINTS_LENGTH_MM = 900
FIRST_JOINTS_CLAUSE = FIGURES_2018.clause("12.4.2.3", Mark.MEMORY)


def first_joints_share(percent: int) -> int:
    """Share for the first five joints made to a new WPS: twice the usual one, 5 % at least, 100 % at most."""
    return max(5, min(100, 2 * percent))


@dataclass(frozen=True, slots=True)
class HoldRow:
    """Hours to wait by throat or thickness and heat input; `hours` for S235 to S420, then from S460."""

    size_to: Decimal | None
    heat_to: Decimal | None
    hours: tuple[int, int]


HEAT = Decimal(3)
"""Heat input [kJ/mm] that parts the columns."""
HOLD_ROWS = (
    HoldRow(Decimal(6), None, (0, 24)),
    HoldRow(Decimal(12), HEAT, (8, 24)),
    HoldRow(Decimal(12), None, (16, 40)),
    HoldRow(None, HEAT, (16, 40)),
    HoldRow(None, None, (40, 48)),
)
HOLD_CLAUSE = FIGURES_2018.clause(
    "12.4.2.1, Table 23", Mark.PART, "welding specification pages (size classes); hours from memory"
)
BETWEEN = Decimal(420)


@dataclass(frozen=True, slots=True)
class Hold:
    """Hours to wait before supplementary NDT; 0 means until the weld has cooled."""

    hours: int
    clause: Clause


def hold_hours(size: Decimal, heat_input: Decimal, yield_mpa: Decimal) -> Hold:
    """Wait before supplementary NDT: throat or thickness [mm], heat input [kJ/mm], specified yield [MPa].

    A grade between S420 and S460 is taken with S460 (strict). Raises ValueError where a figure is not above nought.
    Example: 6 mm, S355: cooling only; 6.1 mm at 3 kJ/mm 8 h, at 3.1 kJ/mm 16 h.
    """
    if min(size, heat_input, yield_mpa) <= 0:
        raise ValueError("size, heat input and yield strength must all be more than 0")
    for row in HOLD_ROWS:
        if (row.size_to is None or size <= row.size_to) and (row.heat_to is None or heat_input <= row.heat_to):
            return Hold(row.hours[yield_mpa > BETWEEN], HOLD_CLAUSE)
    raise AssertionError("the last row serves every weld")
