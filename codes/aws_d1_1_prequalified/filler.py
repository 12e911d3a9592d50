"""AWS D1.1, Tables 5.3, 5.4 and 5.7 [3.1, 3.2]: listed steels, matching filler, its exclusions and its gas."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from codes.aws_d1_1.base_metal_rows import BY_TEST
from codes.aws_d1_1.base_metals import UNLISTED
from codes.aws_d1_1.book import TABLE_3_1, rule
from codes.aws_d1_1.fillers import Filler, FillerTest
from codes.aws_d1_1.gases import Mixture, mixture
from codes.aws_d1_1.piece import Piece, unrecorded
from codes.aws_d1_1.unit_sets import Size, Units
from codes.aws_d1_1_2020.consumable import OfClass
from codes.aws_d1_1_2020.metals import bands, group_of, inside
from codes.aws_d1_1_prequalified.switches import GAS, lenient
from codes.clauses import Clause, Mark
from codes.limits import Limit, Nothing, OneOf, When, Within, unless, when_is
from codes.values import Atom, Interval, SteelPair

METALS = rule("prequalified metals", Mark.PART, TABLE_3_1)
MATCH = rule("matching filler")
WRITTEN = rule("written variables")
GASES = rule("gas of prequalified", Mark.DOUBT)

# Group -> strength classes [ksi] that match; SMAW and others differ in Group I (E60XX, F6XX, E6XT-X; ER70S-X).
MATCHING: dict[str, dict[str, tuple[int, ...]]] = {
    "I": {"SMAW": (60, 70), "SAW": (60, 70), "WIRE": (70,), "FCAW": (60, 70)},
    "II": {"SMAW": (70,), "SAW": (70,), "WIRE": (70,), "FCAW": (70,)},
    "III": {"SMAW": (80,), "SAW": (80,), "WIRE": (80,), "FCAW": (80,)},
    "IV": {"SMAW": (90,), "SAW": (90,), "WIRE": (90,), "FCAW": (90,)},
}
LOW_HYDROGEN_GROUPS = ("II", "III", "IV")
ONE_CLASS = 10
"""A filler one class [ksi] above matching is allowed."""
FAMILY = {"SMAW": "SMAW", "SAW": "SAW", "GMAW": "WIRE", "FCAW": "FCAW"}
THIN_ONLY, THIN = ("11",), Size("1/2", "12")
"""Flux-cored types for parent metal up to a thickness."""

CO2_ONLY = {"CO2": (100, 100)}
Gas = dict[str, tuple[int, int]]
CLASSIFICATION: dict[tuple[str, str], Gas] = {
    ("WIRE", "C"): CO2_ONLY,
    ("FCAW", "C"): CO2_ONLY,
    ("FCAW", "M"): {"AR": (75, 80), "CO2": (20, 25)},
    ("METAL", "C"): CO2_ONLY,
    ("METAL", "M"): {"AR": (75, 80), "CO2": (20, 25)},
}
# Table 5.7 as remembered: kind of filler -> mixtures in per cent.
REMEMBERED: dict[str, tuple[Gas, ...]] = {
    "WIRE": ({"AR": (75, 90), "CO2": (10, 25)}, {"AR": (95, 98), "O2": (2, 5)}, CO2_ONLY),
    "METAL": ({"AR": (75, 95), "CO2": (5, 25)},),
    "FCAW": ({"AR": (75, 80), "CO2": (20, 25)}, CO2_ONLY),
}


@dataclass(frozen=True, slots=True)
class Steels:
    """Pairs of steels, at a thickness [mm] that stands for a band, that a test of their groups accepts."""

    thickness: Decimal
    units: Units

    def admits(self, atom: Atom) -> bool:
        if not isinstance(atom, SteelPair):
            return False
        return self.fits(tuple(group_of(steel, self.thickness, self.units) for steel in atom))

    def fits(self, groups: tuple[str, ...]) -> bool:
        """True where the groups of both sides are accepted."""
        raise NotImplementedError

    def unstated(self, atom: Atom) -> str:
        bare = isinstance(atom, SteelPair) and not all(steel.grade for steel in atom)
        return f"the grade of {atom} is not stated, AWS groups go by grade" if bare else ""

    def margin(self, atom: Atom) -> Decimal | None:
        return None


@dataclass(frozen=True, slots=True)
class Listed(Steels):
    """Both steels in Groups I to IV."""

    def fits(self, groups: tuple[str, ...]) -> bool:
        return not {UNLISTED, BY_TEST} & set(groups)

    def __str__(self) -> str:
        return "steels of Groups I to IV"


@dataclass(frozen=True, slots=True)
class Suited(Steels):
    """Groups that the filler may be used on at all: low-hydrogen where one asks for it, not too strong for both."""

    filler: Filler

    def fits(self, groups: tuple[str, ...]) -> bool:
        known = [MATCHING[group][self.filler.family] for group in groups if group in MATCHING]
        too_strong = bool(known) and all(self.filler.strength_ksi > max(row) + ONE_CLASS for row in known)
        careful = self.filler.low_hydrogen or not set(groups) & set(LOW_HYDROGEN_GROUPS)
        return careful and not too_strong

    def __str__(self) -> str:
        return f"steels on which {self.filler.name} may be used"


@dataclass(frozen=True, slots=True)
class Matched(Steels):
    """Groups of which at least one is matched by the filler (Table 5.4 note: either steel may be matched)."""

    filler: Filler

    def fits(self, groups: tuple[str, ...]) -> bool:
        known = [MATCHING[group][self.filler.family] for group in groups if group in MATCHING]
        return not known or any(self.filler.strength_ksi >= min(row) for row in known)

    def __str__(self) -> str:
        return f"steels that {self.filler.name} matches"


@dataclass(frozen=True, slots=True)
class OfFamily(FillerTest):
    """Fillers made for a process."""

    family: str

    def fits(self, filler: Filler) -> bool:
        return filler.family == self.family

    def __str__(self) -> str:
        return f"fillers for {self.family}"


@dataclass(frozen=True, slots=True)
class Mixtures:
    """Gas mixtures by ranges of their components."""

    rows: tuple[Gas, ...]

    def admits(self, atom: Atom) -> bool:
        found = mixture(atom) if isinstance(atom, str) else None
        return bool(found) and any(_inside(found or (), row) for row in self.rows)

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return " or ".join(_gas_words(row) for row in self.rows) or "no mixture known"


def _inside(found: Mixture, row: Gas) -> bool:
    shares = dict(found)
    return set(shares) == set(row) and all(lo <= shares[name] <= hi for name, (lo, hi) in row.items())


def _gas_words(row: Gas) -> str:
    return "/".join(f"{lo if lo == hi else f'{lo}-{hi}'} {name.replace('AR', 'Ar')}" for name, (lo, hi) in row.items())


def steel_limits(piece: Piece) -> Iterator[Limit]:
    """Listed steels and a filler that matches them, in each band of thickness (A36 changes its group)."""
    metals = METALS.of(piece.book)
    match = MATCH.of(piece.book)
    filler = piece.filler
    if filler is None or filler.family != FAMILY.get(piece.family):
        yield _filler_missing(piece, match)
        filler = None
    for band in bands(piece.units):
        at = (When("parent_t", Within(band)),)
        because = "a steel that the table does not list needs a test"
        yield Limit("steels", Listed(inside(band), piece.units), metals, because, at, reason="base_metal")
        if filler is not None:
            yield from _match(piece, filler, inside(band), at, match)


def _match(piece: Piece, filler: Filler, t: Decimal, at: tuple[When, ...], clause: Clause) -> Iterator[Limit]:
    named = f"{filler.name}, {filler.strength_ksi} ksi" + (", low-hydrogen" if filler.low_hydrogen else "")
    yield Limit("steels", Suited(t, piece.units, filler), clause, named, at, reason="filler")
    matched = Matched(t, piece.units, filler)
    cjp = (*at, when_is("weld_type", "butt_cjp"))
    yield Limit("steels", matched, clause, f"{named}: matching filler for CJP welds", cjp, reason="filler")
    needs = "a design with the lower strength of the filler (fillet and PJP welds)"
    others = (*at, unless("weld_type", "butt_cjp"))
    yield Limit("steels", matched, clause, named, others, reason="filler", needs=needs)


def _filler_missing(piece: Piece, clause: Clause) -> Limit:
    written = piece.word("filler_designation")
    if piece.filler is not None:
        because = f"{written} is no filler for {piece.family}"
        return Limit("filler_designation", Nothing(), clause, because, reason="filler")
    field = f"an AWS class known here, not {written}" if written else "the AWS class of the filler"
    return unrecorded("filler_designation", clause, field, reason="filler")


def filler_limits(piece: Piece) -> Iterator[Limit]:
    """The class written, and the types that the table excludes."""
    filler = piece.filler
    if filler is None:
        return
    written = WRITTEN.of(piece.book)
    yield Limit("filler_designation", OfClass(filler), written, f"written {filler.name}", reason="filler")
    clause = MATCH.of(piece.book)
    if filler.single_pass_only:
        because = f"{filler.name} is made for one pass"
        yield Limit("run_type", OneOf(("single_run",)), clause, because, reason="filler")
    if filler.family == "FCAW" and filler.usability in THIN_ONLY:
        span = Within(Interval(None, piece.mm(THIN), "mm"))
        yield Limit("parent_t", span, clause, f"{filler.name}: parent metal to {THIN}", reason="filler")
    if filler.general:
        needs = "the agreement of user and maker on a class with suffix G"
        yield Limit("filler_designation", Nothing(), clause, filler.name, reason="filler", needs=needs)


def gas_limits(piece: Piece) -> Iterator[Limit]:
    """The gas of the filler's classification or on its maker's certificate; the remembered table where so read."""
    if piece.family not in ("GMAW", "FCAW") or piece.process == "114":
        return
    clause = GASES.of(piece.book)
    filler = piece.filler
    rows: list[Gas] = []
    if filler is not None:
        metal = filler.family == "WIRE" and not filler.name.startswith("ER")
        kind = "METAL" if metal else filler.family
        own = CLASSIFICATION.get((kind, filler.gas))
        rows = ([own] if own else []) + (list(REMEMBERED.get(kind, ())) if lenient(GAS, piece.settings) else [])
    needs = "the filler maker's certificate for the mixture"
    because = f"gas for {filler.name}" if filler else "the filler is not known"
    when = (unless("gas_certificate", "yes"),)
    readings = (GAS.used(piece.settings),)
    yield Limit("gas_mixture", Mixtures(tuple(rows)), clause, because, when, readings, "gas", needs)
