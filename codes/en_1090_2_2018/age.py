"""EN 1090-2, 7.4.1.4: a record whose process has lain unused asks for a production test, or for a new one.

unused            grades up to S355            grades above S355
up to 1 year      nothing                      nothing
to 3 years        nothing                      production weld test
above 3 years     macro of a production test   new procedure test
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from codes.dates import add_years
from codes.editions import Tested
from codes.en_1090_2_2018.facts import day, decimal, term
from codes.en_1090_2_2018.figures import FIGURES_2008, FIGURES_2018, QUALIFIED, S355, Figures, in_classes
from codes.en_1090_2_2018.steel_sets import Above, UpTo, steels
from codes.limits import Limit, Nothing, Unrecorded, When
from codes.values import Atom

GATE = "age of the record: "
REASON = "wpqr_age"
REF = "7.4.1.4"
WELD_TEST = "a production weld test: VT, RT or UT (not for fillets), MT or PT, macro, hardness"
MACRO = "a macro from a production test, inspected"
ONLY_NEW = ": only a new procedure test will do"


AGE_2018 = FIGURES_2018.clause(REF, FIGURES_2018.age_mark, FIGURES_2018.age_source)
AGE_2008 = FIGURES_2008.clause(REF, FIGURES_2008.age_mark, FIGURES_2008.age_source)


@dataclass(frozen=True, slots=True)
class AgeRow:
    """Above so many years unused, these steels need the test; "" means that only a new procedure test will do.

    `until`: the years up to which it is enough; None where nothing more is asked later.
    """

    years: int
    until: int | None
    steels: When
    needs: str
    satisfied_by: tuple[str, ...]


ROWS = (
    AgeRow(1, 3, steels(Above(S355)), WELD_TEST, ("full",)),
    AgeRow(3, None, steels(UpTo(S355)), MACRO, ("full", "macro")),
    AgeRow(3, None, steels(Above(S355)), "", ()),
)


@dataclass(frozen=True, slots=True)
class NotAfter:
    """Days up to one, that day included."""

    day: date

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, str) and atom <= self.day.isoformat()

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return f"up to {self.day}"


def age_limits(piece: Tested, figures: Figures) -> Iterator[Limit]:
    """The limits of a record's age: on the day asked about, or on the steels where only the years are stated."""
    if term(piece, "qualification_route") == "none":
        return
    clause = figures.clause(REF, figures.age_mark, figures.age_source)
    last, years = day(piece, "last_used_on"), decimal(piece, "years_unused")
    classes = in_classes(*QUALIFIED)
    if last is None and years is None:
        field = "when its process was last used in production under it"
        yield Limit("execution_class", Unrecorded(field), clause, when=(classes,), reason=REASON)
        return
    for row in ROWS:
        if term(piece, "production_test") in row.satisfied_by:
            continue
        because = _because(row)
        when: tuple[When, ...] = (classes, row.steels)
        if last is not None:
            # Later another row asks for more, and what this one asks for is no longer enough.
            when += (When("on", NotAfter(add_years(last, row.until))),) if row.until else ()
            allowed = NotAfter(add_years(last, row.years))
            tested = f"last used on {last}"
            yield Limit("on", allowed, clause, because, when, reason=REASON, needs=row.needs, tested=tested)
        elif years is not None and row.years < years <= (row.until or years):
            tested = f"unused for {years} years"
            yield Limit("steels", Nothing(), clause, because, when, reason=REASON, needs=row.needs, tested=tested)


def _because(row: AgeRow) -> str:
    """How long it has lain unused, the steels, and what an alternative has come too late for."""
    years = f"{row.years} year{'s' if row.years > 1 else ''}"
    span = f"{row.years} and up to {row.until} years" if row.until else years
    return f"{GATE}unused for more than {span}, {row.steels.allowed}{'' if row.needs else ONLY_NEW}"
