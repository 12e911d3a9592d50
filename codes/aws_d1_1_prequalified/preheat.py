"""AWS D1.1, 5.7 and Table 5.8 [3.5, Table 3.3]: the least preheat and interpass temperature.

The thickest part at the point of welding decides the band; of two steels the higher minimum counts (5.7.1 [3.5.1]).
The table value is a floor: a higher value on the procedure governs. Categories of 2025 (E, F, G): ask the Engineer.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from codes.aws_d1_1.base_metals import Entry, entry_of
from codes.aws_d1_1.book import BOOK_2020, PREHEAT_MANUAL, TABLE_3_3, Book, rule
from codes.aws_d1_1.piece import Piece, family_of
from codes.aws_d1_1.unit_sets import Heat, Size, Units
from codes.aws_d1_1_2020.metals import inside
from codes.aws_d1_1_prequalified.preheat_rows import (
    BANDS,
    BY_THICKNESS,
    COLD,
    D_HYDROGEN_ML,
    MINIMA,
    WHEN_COLD,
    A,
    B,
    C,
    D,
)
from codes.aws_d1_1_prequalified.switches import A913, lenient
from codes.clauses import Clause, Mark
from codes.limits import Limit, Nothing, When, Within
from codes.readings import DEFAULTS, Settings
from codes.values import Atom, Interval, Steel, SteelPair

THIN_A710 = Size("2", "50")
NO_CATEGORY = ""
CATEGORIES = rule("preheat", Mark.PART, f"{TABLE_3_3}; {PREHEAT_MANUAL}")
MINIMA_A_B = rule("preheat", Mark.CONFIRMED, f"{TABLE_3_3}; {PREHEAT_MANUAL}")
MINIMA_C = rule("preheat", Mark.PART, f"{PREHEAT_MANUAL}; °C from memory")
# The manual has the temperature of category D; its steels and its condition on hydrogen are from memory.
MINIMA_D = rule("preheat")
WHEN_COLD_RULE = rule("preheat", Mark.CONFIRMED, f"{TABLE_3_3}, note a")
SURE = {"A": MINIMA_A_B, "B": MINIMA_A_B, "C": MINIMA_C, "D": MINIMA_D}


@dataclass(frozen=True, slots=True)
class Preheat:
    """The least temperature [°C] and what it rests on; `least` is None where no category is listed."""

    least: Decimal | None
    category: str
    clause: Clause
    because: str
    figure: Heat | None = None
    readings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Welding:
    """What decides the category beside the steel."""

    low_hydrogen: bool
    hydrogen_ml: Decimal | None
    units: Units
    settings: Settings

    def category(self, steel: Steel, thickness: Decimal) -> str:
        """The category of a steel, "" where the lists name none. Example: A36 with E6010 is A, with E7018 B."""
        entry = entry_of(steel)
        if entry is None:
            return NO_CATEGORY
        if not self.low_hydrogen:
            return "A" if _listed(entry, A) else NO_CATEGORY
        if _listed(entry, D) and self.hydrogen_ml is not None and self.hydrogen_ml <= D_HYDROGEN_ML:
            return "D"
        if entry.name.startswith(BY_THICKNESS):
            return "C" if thickness <= THIN_A710.mm(self.units) else "B"
        if _listed(entry, C):
            return "B" if entry.name.startswith("A913") and lenient(A913, self.settings) else "C"
        return "B" if _listed(entry, A) or _listed(entry, B) else NO_CATEGORY


def _listed(entry: Entry, lists: dict[str, tuple[str, ...]]) -> bool:
    for specification, grades in lists.items():
        if entry.rows[0].specification == specification:
            grade = entry.name.removeprefix(specification).strip()
            if not grades or grade in grades:
                return True
    return False


def minimum_preheat(
    steels: SteelPair,
    thickness: Decimal,
    process: str,
    low_hydrogen: bool,
    unit_system: str,
    *,
    hydrogen_ml: Decimal | None = None,
    parent_temperature: Decimal | None = None,
    book: Book = BOOK_2020,
    settings: Settings = DEFAULTS,
) -> Preheat:
    """The least preheat for the thickest part [mm] and a process (ISO 4063 number). Raises ValueError.

    `low_hydrogen` says it of covered electrodes; all wires count as low-hydrogen. `parent_temperature` [°C] is that
    of the metal before heating. Example: A572-65 of 25.4 mm to A36, E8018, "us": category C, 150 °F.
    """
    units = Units(unit_system)
    if thickness <= 0:
        raise ValueError(f"thickness must be more than 0 mm, not {thickness}")
    welding = Welding(low_hydrogen or family_of(process) != "SMAW", hydrogen_ml, units, settings)
    categories = [welding.category(steel, thickness) for steel in steels]
    clause = CATEGORIES.of(book)
    if NO_CATEGORY in categories:
        unlisted = " and ".join(str(s) for s, c in zip(steels, categories, strict=True) if c == NO_CATEGORY)
        return Preheat(None, NO_CATEGORY, clause, f"no category lists {unlisted} for this welding; ask the Engineer")
    band = _band(thickness, units)
    category = max(categories, key=lambda one: MINIMA[one][band].f)
    figure = MINIMA[category][band]
    if parent_temperature is not None and parent_temperature < COLD.c:
        figure = max(figure, WHEN_COLD, key=lambda heat: heat.f)
    cold = f"; parent metal below {COLD}" if figure is WHEN_COLD else ""
    because = f"category {category}, {_band_words(band)}{cold}"
    clause = SURE[category].of(book)
    return Preheat(figure.at_least(units), category, clause, because, figure, _readings(steels, settings))


def _band(thickness: Decimal, units: Units) -> int:
    return next((i for i, size in enumerate(BANDS) if thickness <= size.mm(units)), len(BANDS))


def _band_words(band: int) -> str:
    if band == len(BANDS):
        return f"over {BANDS[-1]}"
    return f"up to {BANDS[0]}" if band == 0 else f"over {BANDS[band - 1]} to {BANDS[band]}"


def _readings(steels: SteelPair, settings: Settings) -> tuple[str, ...]:
    named = [entry.name for steel in steels if (entry := entry_of(steel)) is not None]
    return (A913.used(settings),) if {"A913 60", "A913 65"} & set(named) else ()


@dataclass(frozen=True, slots=True)
class InCategory:
    """Pairs with a steel of a category, at a thickness [mm] that stands for its band."""

    category: str
    welding: Welding
    thickness: Decimal

    def admits(self, atom: Atom) -> bool:
        if not isinstance(atom, SteelPair):
            return False
        return self.category in [self.welding.category(steel, self.thickness) for steel in atom]

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return f"of category {self.category}" if self.category else "without a category"


def welding_of(piece: Piece) -> Welding:
    """What the procedure says of hydrogen; an electrode that is not known counts as other than low-hydrogen."""
    filler = piece.filler
    low = piece.family != "SMAW" or (filler is not None and filler.low_hydrogen)
    stated = piece.word("hydrogen_class")
    ml = Decimal(stated[1:]) if stated else (Decimal(filler.hydrogen_ml) if filler and filler.hydrogen_ml else None)
    return Welding(low, ml, piece.units, piece.settings)


def limits(piece: Piece) -> Iterator[Limit]:
    """A limit for each category and band; the highest that counts governs."""
    welding = welding_of(piece)
    readings = (A913.used(piece.settings),)
    for span in _spans(piece.units):
        within = inside(span)
        band = _band(within, piece.units)
        at = When("parent_t", Within(span))
        for category, row in MINIMA.items():
            when = (at, When("steels", InCategory(category, welding, within)))
            because = f"category {category}, {_band_words(band)}: {row[band]}"
            clause = SURE[category].of(piece.book)
            least = Within(Interval(row[band].at_least(piece.units), None, "°C"))
            yield Limit("preheat", least, clause, because, when, readings if category == "C" else ())
        lost = (at, When("steels", InCategory(NO_CATEGORY, welding, within)))
        clause = CATEGORIES.of(piece.book)
        needs = "the Engineer's word on preheat: no category lists this steel for this welding"
        yield Limit("preheat", Nothing(), clause, needs, lost, needs=needs)
    yield from _when_cold(piece)


def _spans(units: Units) -> Iterator[Interval]:
    """The bands of the table, cut once more where A710 changes its category."""
    lower: Decimal | None = None
    for end in sorted(size.mm(units) for size in (*BANDS, THIN_A710)):
        yield Interval(lower, end, "mm", lo_open=lower is not None)
        lower = end
    yield Interval(lower, None, "mm", lo_open=True)


def _when_cold(piece: Piece) -> Iterator[Limit]:
    metal = piece.least("base_metal_temperature")
    if metal is not None and metal < COLD.c:
        clause = WHEN_COLD_RULE.of(piece.book)
        because = f"parent metal below {COLD}: heated to {WHEN_COLD} and held"
        yield Limit("preheat", Within(Interval(WHEN_COLD.at_least(piece.units), None, "°C")), clause, because)
