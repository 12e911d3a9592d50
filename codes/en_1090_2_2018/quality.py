"""EN 1090-2: what an execution class asks of the shop and of the welds. Shown as tables; no gate rests on them.

Execution class from consequence class (EN 1993-1-1, Table C.1), ISO 3834 part, weld quality level (ISO 5817).
"""

from dataclasses import dataclass

from codes.clauses import Clause, Mark
from codes.en_1090_2_2018.figures import ALL, FIGURES_2018, MEMORY

PAGES = "welding specification pages of an engineering site"
PART_SOURCE = f"{PAGES}; a German consultant's page (EXC to ISO 3834 part)"


@dataclass(frozen=True, slots=True)
class QualityLevel:
    """Weld quality by ISO 5817. `milder`: imperfections judged by level D; `stricter`: what comes on top."""

    execution_class: str
    level: str
    clause: Clause
    milder: tuple[str, ...] = ()
    milder_clause: Clause | None = None
    stricter: str = ""


@dataclass(frozen=True, slots=True)
class Answer:
    """One cell of a table with the place it comes from."""

    value: str
    clause: Clause


def _level(mark: Mark, source: str) -> Clause:
    return FIGURES_2018.clause("7.6", mark, source)


MILDER = _level(Mark.MEMORY, MEMORY)
# The specification may name other levels in the edition of 2018.
QUALITY_LEVELS = (
    QualityLevel("EXC1", "D", _level(Mark.CONFIRMED, PAGES)),
    QualityLevel(
        "EXC2",
        "C",
        _level(Mark.CONFIRMED, PAGES),
        (
            "continuous undercut (5011)",
            "intermittent undercut (5012)",
            "overlap (506)",
            "stray arc (601)",
            "end crater pipe (2025)",
        ),
        MILDER,
    ),
    QualityLevel("EXC3", "B", _level(Mark.CONFIRMED, PAGES)),
    QualityLevel(
        "EXC4", "B", _level(Mark.CONFIRMED, PAGES), stricter="the extra limits of EN 1090-2, Table 17 (called B+)"
    ),
)

ISO_3834_PARTS = {"EXC1": "ISO 3834-4", "EXC2": "ISO 3834-3", "EXC3": "ISO 3834-2", "EXC4": "ISO 3834-2"}
ISO_3834_CLAUSE = FIGURES_2018.clause("7.1", Mark.CONFIRMED, PART_SOURCE)

# Consequence class -> execution class for static and for fatigue or medium to high seismic loading.
CONSEQUENCE_ROWS = {"CC3": ("EXC3", "EXC3"), "CC2": ("EXC2", "EXC3"), "CC1": ("EXC1", "EXC2")}
CONSEQUENCE_CLAUSE = Clause(
    "EN 1993-1-1:2005+A1:2014", "C.2.2, Table C.1", Mark.MEMORY, "from memory; national annexes may differ"
)


def quality_level(execution_class: str) -> QualityLevel:
    """The weld quality level of a class. Raises ValueError for an unknown class. Example: EXC3 gives B, EXC4 B+."""
    _known(execution_class)
    return next(row for row in QUALITY_LEVELS if row.execution_class == execution_class)


def iso_3834_part(execution_class: str) -> Answer:
    """The part of ISO 3834 a class asks for. Raises ValueError for an unknown class. Example: EXC2, ISO 3834-3."""
    _known(execution_class)
    return Answer(ISO_3834_PARTS[execution_class], ISO_3834_CLAUSE)


def execution_class_for(consequence_class: str, fatigue: bool) -> Answer:
    """The usual execution class; the designer names it, and EXC4 is by specification only.

    `fatigue`: fatigue, or medium to high seismic action. Raises ValueError for an unknown consequence class.
    """
    if consequence_class not in CONSEQUENCE_ROWS:
        raise ValueError(f"{consequence_class} is not a consequence class; use {', '.join(CONSEQUENCE_ROWS)}")
    return Answer(CONSEQUENCE_ROWS[consequence_class][fatigue], CONSEQUENCE_CLAUSE)


def revalidation_options(execution_class: str, iso_3834: str) -> tuple[str, ...]:
    """The options of ISO 9606-1, 9.3 that count. In EXC1 in a shop to ISO 3834-4 these are a and b only (7.4.2)."""
    _known(execution_class)
    return ("a", "b") if execution_class == "EXC1" and iso_3834.strip()[-1:] == "4" else ("a", "b", "c")


def _known(execution_class: str) -> None:
    if execution_class not in ALL:
        raise ValueError(f"{execution_class} is not an execution class; use {', '.join(ALL)}")
