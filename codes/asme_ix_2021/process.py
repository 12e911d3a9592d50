"""QW-250: a change of process is a new test. QW-404.14 and 404.23: filler added or not, and the form of the filler.

Process numbers name the form of the filler, so a demand that does not state it is read by its number.
"""

from codes.asme_ix_2021.piece import FAMILIES, FCAW, GMAW, GTAW, SAW, Piece
from codes.asme_ix_2021.sources import FLUX_CORED, VARIABLE_NOTES, Rule
from codes.clauses import Mark
from codes.limits import Limit, Nothing, OneOf, When, when_is

PROCESS = Rule("QW-250, process", Mark.PART, FLUX_CORED)
NOT_ENTERED = Rule("QW-250, other processes", Mark.OWN, "own rule")
FILLER_ADDED = Rule("QW-404.14", Mark.CONFIRMED, VARIABLE_NOTES)
FORM = Rule("QW-404.23", Mark.CONFIRMED, VARIABLE_NOTES)

FORM_OF = {
    "131": "solid", "135": "solid", "133": "metal_cored", "138": "metal_cored",
    "114": "flux_cored", "132": "flux_cored", "136": "flux_cored", "137": "flux_cored",
    "141": "solid", "145": "solid", "143": "flux_cored",
}  # fmt: skip
"""ISO 4063 number -> form of its filler."""
TOGETHER = (("solid", "metal_cored"), ("flux_cored",), ("powder",), ("flux_coated",))
NO_FILLER = ("142",)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Process, filler added or not, form of the filler."""
    if not piece.process:
        return (piece.unrecorded("process", PROCESS),)
    if not piece.family:
        because = "the rules of this process are not entered"
        return (Limit("process", Nothing(), piece.at(NOT_ENTERED), because, tested=piece.process),)
    found = [_process(piece)]
    if piece.family == GTAW:
        found += _filler_added(piece)
    if piece.wire_fed or (piece.family == GTAW and piece.process not in NO_FILLER):
        found += _form(piece)
    return tuple(found)


def _process(piece: Piece) -> Limit:
    if piece.wire_fed:
        # An early interpretation treats FCAW as a form of GMAW: the form of the filler then divides them.
        covered = (*FAMILIES[GMAW], *FAMILIES[FCAW])
    elif piece.family == SAW:
        covered = (piece.process,)
    else:
        covered = FAMILIES[piece.family]
    because = f"tested {piece.process} ({piece.family}): a change of process is a new test"
    return Limit("process", OneOf(covered), piece.at(PROCESS), because, tested=piece.process)


def _filler_added(piece: Piece) -> list[Limit]:
    with_filler = piece.process not in NO_FILLER
    allowed = OneOf(("yes",) if with_filler else ("no",))
    because = f"tested {'with' if with_filler else 'without'} filler: with and without do not cover each other"
    found = []
    for numbers, usual in ((("141", "143", "145"), "yes"), (NO_FILLER, "no")):
        when = (when_is("process", *numbers),)
        clause = piece.at(FILLER_ADDED)
        found.append(Limit("filler_added", allowed, clause, because, when, reason="filler_addition", assumed=usual))
    return found


def _form(piece: Piece) -> list[Limit]:
    tested = piece.word("product_form") or FORM_OF[piece.process]
    covered = next(group for group in TOGETHER if tested in group)
    because = f"tested {tested.replace('_', '-')}: solid and metal-cored cover each other, other forms themselves"
    family = FAMILIES[GTAW] if piece.family == GTAW else (*FAMILIES[GMAW], *FAMILIES[FCAW])
    found = []
    for form in dict.fromkeys(FORM_OF[number] for number in family if number in FORM_OF):
        when: tuple[When, ...] = (when_is("process", *(n for n in family if FORM_OF.get(n) == form)),)
        allowed = OneOf(covered)
        found.append(Limit("product_form", allowed, piece.at(FORM), because, when, tested=tested, assumed=form))
    return found
