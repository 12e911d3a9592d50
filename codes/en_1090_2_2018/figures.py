"""What differs between the editions of EN 1090-2, as data; every gate takes it from here."""

from dataclasses import dataclass
from decimal import Decimal

from codes.clauses import Clause, Mark
from codes.en_1090_2_2018.steel_sets import Above
from codes.limits import When, when_is

QUALIFIED = ("EXC2", "EXC3", "EXC4")
"""The execution classes that ask for qualified procedures."""
ALL = ("EXC1", *QUALIFIED)

PUBLISHER = "German trade publisher, pages on the qualification of procedures and on cruciform tests (2018)"
MAGAZINE = "trade magazine's notes on the changes of 2018"
EXTRACT = "extract of EN 1090-2:2008, 7.4.1.4 to 7.4.3"
FORUM = "forum thread quoting Table 14"
MEMORY = "from memory of the standard"


@dataclass(frozen=True, slots=True)
class Method:
    """One route of qualification: classes that accept it, classes that do with leave of the specification, caps."""

    route: str
    accepted: tuple[str, ...]
    with_leave: tuple[str, ...] = ()
    yield_cap: Decimal | None = None
    hand_only: bool = False
    mark: Mark = Mark.CONFIRMED
    source: str = PUBLISHER


@dataclass(frozen=True, slots=True)
class Figures:
    """One edition. `hand_rule`: the hand-only remark stands in its table, it is not a doubt to be switched."""

    standard: str
    methods: tuple[Method, ...]
    hand_rule: bool
    cruciform: Above
    cruciform_mark: Mark
    cruciform_source: str
    age_mark: Mark
    age_source: str
    level_2_only: bool

    def clause(self, ref: str, mark: Mark, source: str = MEMORY) -> Clause:
        """A place in this edition."""
        return Clause(self.standard, ref, mark, source)


def in_classes(*classes: str) -> When:
    """The condition that the joint's execution class is one of these."""
    return when_is("execution_class", *classes)


S355 = Decimal(355)
S275 = Decimal(275)
S460 = Decimal(460)

FIGURES_2018 = Figures(
    standard="EN 1090-2:2018",
    methods=(
        Method("procedure_test", ALL),
        Method("pre_production", ALL),
        # The cap at S355 is a reading (see switches): the table of 2018 has none.
        Method("standard_procedure", ("EXC1", "EXC2"), ("EXC3", "EXC4"), yield_cap=S355, hand_only=True),
        Method("experience", ("EXC1", "EXC2"), hand_only=True),
        Method("consumables", ("EXC1", "EXC2"), hand_only=True),
        Method("none", ("EXC1",)),
    ),
    hand_rule=False,
    cruciform=Above(S460, included=True),
    cruciform_mark=Mark.CONFIRMED,
    cruciform_source=f"{PUBLISHER}: from S460",
    age_mark=Mark.DOUBT,
    age_source=f"{EXTRACT}; taken as unchanged in 2018",
    level_2_only=True,
)

FIGURES_2008 = Figures(
    standard="EN 1090-2:2008+A1:2011",
    methods=(
        Method("procedure_test", ALL, mark=Mark.PART, source=MEMORY),
        Method("pre_production", ALL, mark=Mark.PART, source=MEMORY),
        Method("standard_procedure", ("EXC1", "EXC2"), (), S355, True, Mark.MEMORY, MEMORY),
        Method("experience", ("EXC1", "EXC2"), (), S275, True, Mark.MEMORY, MEMORY),
        Method("consumables", ("EXC1", "EXC2"), (), S275, True, Mark.PART, f"{MAGAZINE}; {MEMORY}"),
        Method("none", ("EXC1",), (), None, False, Mark.MEMORY, MEMORY),
    ),
    hand_rule=True,
    cruciform=Above(S275),
    cruciform_mark=Mark.MEMORY,
    cruciform_source=MEMORY,
    age_mark=Mark.CONFIRMED,
    age_source=EXTRACT,
    # ISO 15614-1 had no levels when this edition appeared.
    level_2_only=False,
)
