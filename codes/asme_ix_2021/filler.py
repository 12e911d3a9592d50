"""QW-404: F-number (.4), A-number (.5), thick electrodes (.7), classification (.12), supplements (.24, .27).

Electrode size and classification bind where toughness is required.
"""

from dataclasses import dataclass
from decimal import Decimal

from codes.asme_ix_2021.classification import SameClass, unclassified
from codes.asme_ix_2021.piece import GTAW, SAW, SMAW, TOUGH, Piece
from codes.asme_ix_2021.process import NO_FILLER
from codes.asme_ix_2021.sources import VARIABLE_NOTES, Rule
from codes.asme_ix_2021.thresholds import SIX
from codes.asme_ix_tables import f_number
from codes.clauses import Mark
from codes.limits import Free, Limit, OneOf, When, span, unless
from codes.pieces import IfStated
from codes.values import Atom, Value, bare, number
from codes.variables import label_of
from codes.words import lower_first

F_NUMBER = Rule("QW-404.4", Mark.CONFIRMED, VARIABLE_NOTES)
A_NUMBER = Rule("QW-404.5", Mark.CONFIRMED, VARIABLE_NOTES)
THICK_ELECTRODE = Rule("QW-404.7", Mark.MEMORY)
CLASSIFICATION = Rule("QW-404.12", Mark.MEMORY)
SUPPLEMENT = Rule("QW-404.24, QW-404.27", Mark.MEMORY)

RATIO_BAND = Decimal("0.1")


@dataclass(frozen=True, slots=True)
class NotStated(When):
    """The condition that the demand leaves the variable out."""

    def met_by(self, value: Value | None) -> bool | None:
        return value is None

    def __str__(self) -> str:
        return f"{lower_first(label_of(self.variable))} is not stated"


@dataclass(frozen=True, slots=True)
class SameText:
    """The same words; case, blanks and dashes do not matter."""

    tested: tuple[str, ...]

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, str) and bare(atom.casefold()) in {bare(one.casefold()) for one in self.tested}

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return " or ".join(self.tested)


@dataclass(frozen=True, slots=True)
class OfFNumber:
    """Filler designations of the named F-numbers, looked up."""

    f_numbers: tuple[str, ...]

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, str) and f_number(atom) in self.f_numbers

    def unstated(self, atom: Atom) -> str:
        """A designation that is not in the table leaves the question open."""
        known = isinstance(atom, str) and bool(f_number(atom))
        return "" if known else f"the F-number of {atom} is not known here, state it"

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return "fillers of " + ", ".join(f"F-{one[1:]}" for one in self.f_numbers)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """F-number, A-number, and with toughness classification and electrode size; supplemental filler."""
    if piece.process in NO_FILLER:
        return ()
    found = [*_f_number(piece), *_a_number(piece)]
    if piece.family != SAW:
        found += _classification(piece)
    if piece.family == SMAW:
        found += _electrode(piece)
    if piece.family not in (SMAW, GTAW):
        found += _supplement(piece)
    return tuple(found)


def _f_number(piece: Piece) -> list[Limit]:
    """The same F-number; a filler outside the table only by its own designation and trade name."""
    tested = piece.words("f_number") or tuple(filter(None, map(f_number, piece.words("filler_designation"))))
    if not tested:
        return _unlisted(piece)
    words = ", ".join(f"F-{one[1:]}" for one in tested)
    because = f"tested {words}: the same F-number, a lower one gives nothing"
    stated, silent = (IfStated("f_number", Free()),), (NotStated("f_number", Free()),)
    where = piece.at(F_NUMBER)
    return [
        Limit("f_number", OneOf(tested), where, because, stated, tested=words),
        Limit("filler_designation", OfFNumber(tested), where, because, silent, (), "f_number", tested=words),
    ]


def _unlisted(piece: Piece) -> list[Limit]:
    names = piece.words("filler_make")
    if not (names and piece.words("filler_designation")):
        return [piece.unrecorded("f_number", F_NUMBER)]
    because = "filler outside the table of F-numbers: the same trade name"
    return [Limit("filler_make", SameText(names), piece.at(F_NUMBER), because, reason="f_number")]


def _ferrous(piece: Piece) -> bool:
    return not any(p in piece.p_numbers for p in (f"P{n}" for n in range(21, 63)))


def _a_number(piece: Piece) -> list[Limit]:
    if not _ferrous(piece):
        return []
    tested = piece.words("a_number")
    if not tested:
        return [piece.unrecorded("a_number", A_NUMBER)]
    if "none" in tested:
        return _by_name(piece)
    covered = tuple(dict.fromkeys([*tested, *(("A1", "A2") if {"A1", "A2"} & set(tested) else ())]))
    words = ", ".join(f"A-{one[1:]}" for one in tested)
    because = f"tested {words}: the same A-number; A-1 and A-2 cover each other"
    return [Limit("a_number", OneOf(covered), piece.at(A_NUMBER), because, tested=words)]


def _by_name(piece: Piece) -> list[Limit]:
    names = piece.words("filler_make")
    if not names:
        return [piece.unrecorded("filler_make", A_NUMBER, "a_number", field="the trade name of the filler")]
    because = "no A-number fits the deposit: the same trade name"
    where = piece.at(A_NUMBER)
    kept = Limit("a_number", OneOf(("none",)), where, because)
    return [kept, Limit("filler_make", SameText(names), where, because, reason="a_number")]


def _classification(piece: Piece) -> list[Limit]:
    """With toughness the same classification; a class G or none at all also the same trade name."""
    tested = piece.words("filler_designation")
    if not tested:
        return [piece.unrecorded("filler_designation", CLASSIFICATION, "filler_class", (TOUGH,))]
    words = ", ".join(tested)
    because = f"tested {words}: the same classification where toughness is required"
    where = piece.at(CLASSIFICATION)
    found = [Limit("filler_designation", SameClass(tested), where, because, (TOUGH,), (), "filler_class", tested=words)]
    if any(map(unclassified, tested)):
        names = piece.words("filler_make")
        if not names:
            field = "the trade name of the filler"
            return [*found, piece.unrecorded("filler_make", CLASSIFICATION, "filler_class", (TOUGH,), field)]
        text = "no full classification: the same trade name where toughness is required"
        found.append(Limit("filler_make", SameText(names), where, text, (TOUGH,), (), "filler_class"))
    return found


def _electrode(piece: Piece) -> list[Limit]:
    """Covered electrodes over 1/4 in (6 mm) need their own toughness test."""
    if piece.austenitised:
        return []
    tested, most = piece.most("filler_diameter"), piece.mm(SIX)
    if tested is None:
        return [piece.unrecorded("filler_diameter", THICK_ELECTRODE, "filler_diameter", (TOUGH,))]
    if tested > most:
        return []
    because = f"tested {piece.size(tested)}: not over {piece.size(most)} where toughness is required"
    return [Limit("filler_diameter", span(None, most, "mm"), piece.at(THICK_ELECTRODE), because, (TOUGH,))]


def _supplement(piece: Piece) -> list[Limit]:
    """Supplemental filler neither added nor left out, its share within 10 % of the tested share."""
    tested = piece.word("extra_filler")
    if tested is None:
        return [piece.unrecorded("extra_filler", SUPPLEMENT, "flux_wire")]
    where = piece.at(SUPPLEMENT)
    because = f"tested with {tested.replace('_', ' ')}: supplemental filler neither added, left out nor changed"
    kept = Limit("extra_filler", OneOf((tested,)), where, because, reason="flux_wire", tested=tested)
    if tested == "none":
        return [kept]
    ratio = piece.most("extra_filler_ratio")
    when = (unless("extra_filler", "none"),)
    if ratio is None:
        return [kept, piece.unrecorded("extra_filler_ratio", SUPPLEMENT, "flux_wire", when)]
    allowed = span(ratio * (1 - RATIO_BAND), ratio * (1 + RATIO_BAND), "%")
    text = f"tested {number(ratio)} %: 10 % of that either way"
    return [kept, Limit("extra_filler_ratio", allowed, where, text, when, (), "flux_wire")]
