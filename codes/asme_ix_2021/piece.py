"""One process (or one filler F-number of it) of one test coupon, as the paragraphs of Part QW read it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from codes.asme_ix_2021.sources import Rule
from codes.asme_ix_metals import BaseMetal, base_metal
from codes.clauses import Clause, Mark
from codes.editions import Tested
from codes.limits import Limit, Unrecorded, When, unless, when_is
from codes.pieces import terms
from codes.readings import Settings
from codes.unit_sets import System, Twin, size_said, system_of
from codes.units import CONVERSIONS
from codes.values import Interval, SteelPair, atoms, number
from codes.variables import label_of
from codes.words import lower_first

SMAW, SAW, GMAW, FCAW, GTAW = "SMAW", "SAW", "GMAW", "FCAW", "GTAW"
AWS_NAMES = Clause("ISO 4063", "numbers of the processes; names of AWS A3.0", Mark.MEMORY, "from memory")
FAMILIES: dict[str, tuple[str, ...]] = {
    SMAW: ("111",),
    SAW: ("121", "124", "125"),
    GMAW: ("131", "133", "135", "138"),
    FCAW: ("114", "132", "136", "137"),
    GTAW: ("141", "142", "143", "145"),
}
"""AWS process -> ISO 4063 numbers. Strip (122, 126) is for overlay, whose rules are not entered."""

TOUGH = when_is("impact_required", "yes")
NOT_TOUGH = when_is("impact_required", "no")
NOT_FILLET = unless("weld_type", "fillet")
FILLET = when_is("weld_type", "fillet")

# What the processes of one coupon have in common; a mapping that leaves one out takes it from its fellows.
SHARED = (
    "unit_system", "steels", "parent_t", "weld_type", "joint_type", "product", "weld_detail", "position", "preheat",
    "interpass", "pwht", "pwht_condition", "pwht_temperature", "pwht_minutes", "impact_tested", "impact_temperature",
    "bend_direction", "toughness_only",
)  # fmt: skip


@dataclass(frozen=True)
class Piece:
    """The tested values, the year of the edition, the readings, and the coupon that the values belong to."""

    values: Tested
    year: int
    settings: Settings
    coupon: int
    label: str

    def words(self, name: str) -> tuple[str, ...]:
        """The terms or texts stated of a variable."""
        return terms(self.values, name)

    def word(self, name: str) -> str | None:
        """The first term stated of a variable."""
        return next(iter(self.words(name)), None)

    def numbers(self, name: str) -> tuple[Decimal, ...]:
        """All numbers stated of a variable; a range gives its two ends."""
        return tuple(one for atom in atoms(self.values.get(name, ())) for one in _ends(atom))

    def least(self, name: str) -> Decimal | None:
        """The smallest number stated of a variable."""
        return min(self.numbers(name), default=None)

    def stated(self, name: str) -> Decimal:
        """The smallest number stated of a variable. Raises ValueError where there is none."""
        return min(self.numbers(name))

    def most(self, name: str) -> Decimal | None:
        """The largest number stated of a variable."""
        return max(self.numbers(name), default=None)

    @cached_property
    def steels(self) -> tuple[SteelPair, ...]:
        """The pairs of parent metals of the coupon."""
        return tuple(atom for atom in atoms(self.values.get("steels", ())) if isinstance(atom, SteelPair))

    @cached_property
    def metals(self) -> tuple[BaseMetal | None, ...]:
        """P-number and group of both sides; None for a metal without a known P-number."""
        return tuple(base_metal(steel) for pair in self.steels for steel in pair)

    @property
    def p_numbers(self) -> frozenset[str]:
        """The P-numbers of the coupon, unknown ones left out."""
        return frozenset(metal.p_number for metal in self.metals if metal)

    @property
    def process(self) -> str:
        """The process number, or nothing."""
        return self.word("process") or ""

    @property
    def family(self) -> str:
        """The AWS process. Example: 138 is GMAW; a process whose rules are not entered is ""."""
        return next((name for name, numbers in FAMILIES.items() if self.process in numbers), "")

    @property
    def wire_fed(self) -> bool:
        """True for GMAW and FCAW, which share one list of variables (QW-255)."""
        return self.family in (GMAW, FCAW)

    @property
    def is_fillet(self) -> bool:
        """True for a fillet coupon."""
        return self.word("weld_type") == "fillet"

    @property
    def austenitised(self) -> bool:
        """Heat treated above the upper transformation, or austenitic (P-8) or P-10H and solution annealed.

        QW-403.6, 406.3, 409.1 and 410.9 do not bind such a coupon.
        """
        condition = self.word("pwht_condition")
        annealed = condition == "solution" and bool(self.p_numbers) and self.p_numbers <= {"P8", "P10H"}
        return self.word("pwht") == "yes" and (condition in ("above", "above_then_below") or annealed)

    @property
    def system(self) -> System:
        """The unit system of the record; SI figures are shown where it is not stated, and nothing is covered then."""
        return system_of(self.values) or "si"

    def mm(self, figure: Twin) -> Decimal:
        """A figure of the code in the record's own system, in mm."""
        return figure.mm(self.system)

    def size(self, length: Decimal) -> str:
        """A length in words, in inches too for a record in US units. Example: "12.7 mm (0.5 in)"."""
        return size_said(length, self.system)

    def degrees(self, celsius: Decimal) -> str:
        """A temperature in words. Example: "204.4 °C (400 °F)" for a record in US units."""
        if self.system == "si":
            return f"{number(celsius)} °C"
        shown = CONVERSIONS["°C"].to_us(celsius).quantize(Decimal("0.1"))
        return f"{number(celsius.quantize(Decimal('0.1')))} °C ({number(shown)} °F)"

    def at(self, rule: Rule) -> Clause:
        """The clause of a rule in this record's edition."""
        return rule.at(self.year)

    def unrecorded(
        self, name: str, rule: Rule, reason: str = "", when: tuple[When, ...] = (), field: str = ""
    ) -> Limit:
        """The limit of a variable whose tested value the record leaves out."""
        allowed = Unrecorded(field or lower_first(label_of(name)))
        return Limit(name, allowed, self.at(rule), "", when, reason=reason)


def _ends(atom: object) -> tuple[Decimal, ...]:
    if isinstance(atom, Interval):
        return tuple(end for end in (atom.lo, atom.hi) if end is not None)
    return (atom,) if isinstance(atom, Decimal) else ()


def pieces_of(tested: Sequence[Tested], year: int, settings: Settings) -> tuple[Piece, ...]:
    """The processes of a record, each with what its coupon shares.

    Mappings with the same `piece` belong to one coupon; a mapping without it is a coupon of its own.
    """
    return tuple(_pieces(tested, year, settings))


def _pieces(tested: Sequence[Tested], year: int, settings: Settings) -> Iterator[Piece]:
    coupons: dict[object, int] = {}
    for index, own in enumerate(tested):
        name = own.get("piece", index)
        fellows = [other for other in tested if "piece" in own and other.get("piece") == own["piece"]]
        shared = {key: one[key] for one in fellows for key in SHARED if key in one}
        coupon = coupons.setdefault(name if "piece" in own else (index,), len(coupons))
        yield Piece(shared | dict(own), year, settings, coupon, _label(own, shared))


def _label(own: Tested, shared: Tested) -> str:
    piece = f"coupon {own['piece']}, " if "piece" in own else ""
    place = own.get("place")
    where = f" ({place})" if isinstance(place, str) and shared else ""
    return f"{piece}process {own.get('process', 'not recorded')}{where}"
