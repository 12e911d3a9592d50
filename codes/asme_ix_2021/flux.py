"""QW-404.9, 404.10, 404.34 to 404.36: flux and wire of submerged-arc welding. From memory."""

import re
from dataclasses import dataclass
from decimal import Decimal

from codes.asme_ix_2021.filler import SameText
from codes.asme_ix_2021.piece import SAW, TOUGH, Piece
from codes.asme_ix_2021.sources import Rule
from codes.limits import Free, Limit, OneOf, When, unless, when_is
from codes.values import Atom

FLUX_WIRE = Rule("QW-404.9", source="from memory")
ALLOY_FLUX = Rule("QW-404.10, QW-404.34", source="from memory")
CLASS = Rule("QW-404.35", source="from memory")
SLAG = Rule("QW-404.36", source="from memory")
REASON = "flux_wire"

_CLASS = re.compile(r"F(S?)(\d{1,2})([APX])([0-9Z]+)-(E[A-Z0-9]+)(-[A-Z0-9]+)?(-?H\d+)?")


def class_of(designation: str) -> tuple[str, str] | None:
    """Strength digits and the whole class without the hydrogen suffix, None where it is no such class.

    Example: "F7A2-EM12K-H8" gives ("7", "F7A2-EM12K").
    """
    match = _CLASS.fullmatch("".join(designation.upper().split()))
    if match is None:
        return None
    slag, strength, treated, temperature, wire, deposit, _ = match.groups()
    if deposit and re.fullmatch(r"-H\d+", deposit):
        deposit = ""
    return strength, f"F{slag}{strength}{treated}{temperature}-{wire}{deposit or ''}"


@dataclass(frozen=True, slots=True)
class SameStrength:
    """Classified flux-wire combinations of the tested strength; `whole`: of the tested class altogether."""

    tested: tuple[str, ...]
    whole: bool = False

    def admits(self, atom: Atom) -> bool:
        wanted = class_of(atom) if isinstance(atom, str) else None
        part = 1 if self.whole else 0
        return wanted is not None and wanted[part] in {known[part] for known in map(class_of, self.tested) if known}

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return " or ".join(self.tested) if self.whole else "the strength of " + " or ".join(self.tested)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Class or trade names, type of flux, slag, and with toughness the whole class."""
    if piece.family != SAW:
        return ()
    return (*_flux_wire(piece), *_type(piece), *_slag(piece))


def _flux_wire(piece: Piece) -> list[Limit]:
    tested = piece.words("flux_designation")
    if not tested:
        return [piece.unrecorded("flux_designation", FLUX_WIRE, REASON)]
    if not all(map(class_of, tested)):
        return _unclassified(piece, tested)
    words = ", ".join(tested)
    because = f"tested {words}: no change of the strength digit"
    strength = SameStrength(tested)
    found = [Limit("flux_designation", strength, piece.at(FLUX_WIRE), because, (), (), REASON, tested=words)]
    text = f"tested {words}: the whole class where toughness is required, hydrogen suffix free"
    whole = SameStrength(tested, whole=True)
    found.append(Limit("flux_designation", whole, piece.at(CLASS), text, (TOUGH,), (), REASON, tested=words))
    return found + (_names(piece, "A-8 deposit", ("flux_make",)) if "A8" in piece.words("a_number") else [])


def _unclassified(piece: Piece, tested: tuple[str, ...]) -> list[Limit]:
    because = "no classified combination: flux and wire as tested"
    kept = Limit("flux_designation", SameText(tested), piece.at(FLUX_WIRE), because, (), (), REASON)
    return [kept, *_names(piece, "no classified combination", ("flux_make", "filler_make"))]


def _names(piece: Piece, why: str, names: tuple[str, ...], rule: Rule = FLUX_WIRE) -> list[Limit]:
    found = []
    for name in names:
        tested = piece.words(name)
        if not tested:
            found.append(piece.unrecorded(name, rule, REASON))
            continue
        because = f"{why}: the same trade name"
        found.append(Limit(name, SameText(tested), piece.at(rule), because, (), (), REASON))
    return found


def _type(piece: Piece) -> list[Limit]:
    """Neutral, active and alloy flux do not cover each other in several layers on P-1; alloy flux is named."""
    tested = piece.word("flux_type")
    if tested == "alloy":
        kept = Limit("flux_type", OneOf(("alloy",)), piece.at(ALLOY_FLUX), "tested with alloy flux", (), (), REASON)
        return [kept, *_names(piece, "alloy flux", ("flux_make",), ALLOY_FLUX)]
    several: tuple[When, ...] = (unless("run_type", "single_run"),)
    if "P1" not in piece.p_numbers:
        because = "tested without alloy flux"
        if tested is None:
            return [piece.unrecorded("flux_type", ALLOY_FLUX, REASON)]
        return [Limit("flux_type", OneOf(("neutral", "active")), piece.at(ALLOY_FLUX), because, (), (), REASON)]
    if tested is None:
        return [piece.unrecorded("flux_type", ALLOY_FLUX, REASON)]
    because = f"P-1 in several layers: {tested} flux as tested"
    single = (when_is("run_type", "single_run"),)
    where = piece.at(ALLOY_FLUX)
    return [
        Limit("flux_type", OneOf((tested,)), where, because, several, (), REASON, tested=tested),
        Limit("flux_type", OneOf(("neutral", "active")), where, "single layer: no alloy flux", single, (), REASON),
    ]


def _slag(piece: Piece) -> list[Limit]:
    tested = piece.word("flux_recrushed")
    if tested is None:
        field = "whether the flux held recrushed slag"
        return [piece.unrecorded("flux_recrushed", SLAG, REASON, field=field)]
    if tested == "yes":
        because = "tested with recrushed slag: without it nothing else changes"
        return [Limit("flux_recrushed", Free(), piece.at(SLAG), because, reason=REASON)]
    because = "tested without recrushed slag"
    return [Limit("flux_recrushed", OneOf(("no",)), piece.at(SLAG), because, (), (), REASON, tested="no")]
