"""AWS D1.1, Figs 5.1 and 5.2 [3.3 and 3.2]: common prequalified joint details, as data, from memory.

A designation is joint letters, thickness and penetration (L limited, U unlimited CJP, P PJP), groove number and
variant, process letters (none SMAW, S SAW, GF gas metal and flux-cored). Root opening and angle belong together: one
row each. Not every figure of the code is entered; a detail that is missing here is not thereby excluded by the code.
"""

from dataclasses import dataclass, field

from codes.aws_d1_1.unit_sets import Size

F_V_OH = ("F", "V", "OH")
ANYWHERE: tuple[str, ...] = ()
ZERO = Size("0", "0")
SIXTEENTH, EIGHTH, QUARTER = Size("1/16", "2"), Size("1/8", "3"), Size("1/4", "6")
THREE_8, HALF, THREE_16 = Size("3/8", "10"), Size("1/2", "12"), Size("3/16", "5")
FIVE_8, FIVE_16, THIRTY_SECOND = Size("5/8", "16"), Size("5/16", "8"), Size("1/32", "1")

BACKED, GOUGED, UNBACKED = "steel backing", "backgouged", "no backing"
TIMES_T, HALF_T = "T", "T/2"
"""Root openings that follow the thickness."""


@dataclass(frozen=True, slots=True)
class Opening:
    """Root opening from `lo` to `hi` with its groove angle [degrees, None: square or flare], and the positions."""

    lo: Size
    hi: Size
    angle: int | None
    positions: tuple[str, ...] = ANYWHERE
    of_thickness: str = ""


@dataclass(frozen=True, slots=True)
class Detail:
    """One figure. `face`: least and greatest root face; None as an end is no end. `size_less`: E = S less this.

    `level_less`: what E is less by where the weld is flat or horizontal only, if that differs.
    """

    name: str
    joints: tuple[str, ...]
    groove: tuple[str, ...]
    openings: tuple[Opening, ...]
    support: str
    cjp: bool = True
    face: tuple[Size | None, Size | None] = (ZERO, ZERO)
    thickest: Size | None = None
    thinnest: Size | None = None
    size_less: Size | None = None
    level_less: Size | None = None
    processes: tuple[str, ...] = ("SMAW", "GMAW", "FCAW")
    not_entered: tuple[str, ...] = field(default=())


def _at(opening: Size, angle: int, positions: tuple[str, ...] = ANYWHERE) -> Opening:
    return Opening(opening, opening, angle, positions)


def _closed(*angles: int) -> tuple[Opening, ...]:
    """Root opening 0 to 1/8 in."""
    return tuple(Opening(ZERO, EIGHTH, angle) for angle in angles)


BUTT, TEE_CORNER, CORNER = ("butt",), ("tee", "corner"), ("corner",)
SUB, WIRE = ("SAW",), ("GMAW", "FCAW")
TIGHT = (Opening(ZERO, ZERO, 60),)
UP_TO_EIGHTH = (ZERO, EIGHTH)
NO_FACE: tuple[Size | None, Size | None] = (None, None)

CJP_DETAILS = (
    # A square groove has no root face of its own.
    Detail("B-L1a", BUTT, ("square",), (Opening(ZERO, ZERO, None, (), TIMES_T),), BACKED, True, NO_FACE, QUARTER),
    Detail("B-L1b", BUTT, ("square",), (Opening(ZERO, ZERO, None, (), HALF_T),), GOUGED, True, NO_FACE, QUARTER),
    Detail(
        "B-L1-S", BUTT, ("square",), (Opening(ZERO, ZERO, None),), UNBACKED, True, NO_FACE, THREE_8, processes=SUB
    ),
    Detail(
        "B-U2a", BUTT, ("single_v",),
        (_at(QUARTER, 45), _at(THREE_8, 30, F_V_OH), _at(HALF, 20, F_V_OH)), BACKED,
    ),
    Detail(
        "B-U2a-GF", BUTT, ("single_v",),
        (_at(THREE_16, 30, F_V_OH), _at(THREE_8, 30, F_V_OH), _at(QUARTER, 45, F_V_OH)), BACKED, processes=WIRE,
    ),
    Detail("B-U2", BUTT, ("single_v",), _closed(60), GOUGED, face=UP_TO_EIGHTH),
    Detail(
        "B-L2c-S", BUTT, ("single_v",), TIGHT, GOUGED, face=(None, None), processes=SUB,
        not_entered=("thickness limits", "root face"),
    ),
    Detail(
        "B-U2-S", BUTT, ("single_v",), (_at(FIVE_8, 20),), BACKED, face=(None, None), processes=SUB,
        not_entered=("root face",),
    ),
    Detail("B-U3b", BUTT, ("double_v",), _closed(60), GOUGED, face=UP_TO_EIGHTH),
    Detail("B-U3-GF", BUTT, ("double_v",), _closed(60), GOUGED, face=UP_TO_EIGHTH, processes=WIRE),
    Detail("B-U4a", BUTT, ("single_bevel",), (_at(QUARTER, 45), _at(THREE_8, 30)), BACKED),
    Detail("B-U4a-GF", BUTT, ("single_bevel",), (_at(THREE_16, 30),), BACKED, processes=WIRE),
    Detail("B-U4b", BUTT, ("single_bevel",), _closed(45), GOUGED, face=UP_TO_EIGHTH),
    Detail("B-U4b-GF", BUTT, ("single_bevel",), _closed(45), GOUGED, face=UP_TO_EIGHTH, processes=WIRE),
    Detail("TC-U4a", TEE_CORNER, ("single_bevel",), (_at(QUARTER, 45), _at(THREE_8, 30, F_V_OH)), BACKED),
    Detail(
        "TC-U4a-GF", TEE_CORNER, ("single_bevel",), (_at(THREE_16, 30), _at(THREE_8, 30, ("F",)), _at(QUARTER, 45)),
        BACKED, processes=WIRE,
    ),
    Detail("TC-U4b", TEE_CORNER, ("single_bevel",), _closed(45), GOUGED, face=UP_TO_EIGHTH),
    Detail("TC-U4b-GF", TEE_CORNER, ("single_bevel",), _closed(45), GOUGED, face=UP_TO_EIGHTH, processes=WIRE),
    Detail("B-U5b", BUTT, ("double_bevel",), _closed(45), GOUGED, face=UP_TO_EIGHTH),
    Detail("TC-U5b", TEE_CORNER, ("double_bevel",), _closed(45), GOUGED, face=UP_TO_EIGHTH),
    Detail("TC-U5-GF", TEE_CORNER, ("double_bevel",), _closed(45), GOUGED, face=UP_TO_EIGHTH, processes=WIRE),
    Detail("B-U6", BUTT, ("single_u",), _closed(45, 20), GOUGED, face=(EIGHTH, EIGHTH)),
    Detail("C-U6", CORNER, ("single_u",), _closed(45, 20), GOUGED, face=(EIGHTH, EIGHTH)),
    Detail("B-U7", BUTT, ("double_u",), _closed(45, 20), GOUGED, face=(EIGHTH, EIGHTH)),
    Detail("TC-U8a", TEE_CORNER, ("single_j",), _closed(45, 30), GOUGED, face=(EIGHTH, EIGHTH)),
    Detail("TC-U9a", TEE_CORNER, ("double_j",), _closed(45, 30), GOUGED, face=(EIGHTH, EIGHTH)),
)  # fmt: skip

BUTT_CORNER, BUTT_TEE_CORNER = ("butt", "corner"), ("butt", "tee", "corner")
FACE_32ND, FACE_8TH, FACE_16TH = (THIRTY_SECOND, None), (EIGHTH, None), (THREE_16, None)
TIGHT_45 = (Opening(ZERO, ZERO, 45),)
FLARE = (Opening(ZERO, ZERO, None),)

PJP_DETAILS = (
    Detail(
        "B-P1a", BUTT, ("square",), (Opening(ZERO, SIXTEENTH, None),), UNBACKED, False, (None, None), EIGHTH,
        not_entered=("E = T − 1/32 in [1 mm]",),
    ),
    Detail(
        "B-P1b", BUTT, ("square",), (Opening(ZERO, ZERO, None, (), HALF_T),), UNBACKED, False, (None, None), QUARTER,
        not_entered=("E = 3T/4 in all, two sides",),
    ),
    Detail("BC-P2", BUTT_CORNER, ("single_v",), TIGHT, UNBACKED, False, FACE_32ND, thinnest=QUARTER, size_less=ZERO),
    Detail(
        "BC-P2-GF", BUTT_CORNER, ("single_v",), TIGHT, UNBACKED, False, FACE_32ND, thinnest=QUARTER, size_less=ZERO,
        processes=WIRE,
    ),
    Detail("B-P3", BUTT, ("double_v",), TIGHT, UNBACKED, False, FACE_8TH, thinnest=HALF, size_less=ZERO),
    Detail("BTC-P4", BUTT_TEE_CORNER, ("single_bevel",), TIGHT_45, UNBACKED, False, FACE_8TH, size_less=EIGHTH),
    Detail(
        "BTC-P4-GF", BUTT_TEE_CORNER, ("single_bevel",), TIGHT_45, UNBACKED, False, FACE_8TH, size_less=EIGHTH,
        level_less=ZERO, processes=WIRE,
    ),
    Detail(
        "BTC-P5", BUTT_TEE_CORNER, ("double_bevel",), TIGHT_45, UNBACKED, False, FACE_8TH, thinnest=FIVE_16,
        size_less=EIGHTH,
    ),
    Detail(
        "BTC-P10", BUTT_TEE_CORNER, ("flare_bevel",), FLARE, UNBACKED, False, FACE_16TH, thinnest=THREE_16,
        not_entered=("E by radius and process",),
    ),
    Detail(
        "B-P11", BUTT, ("flare_v",), FLARE, UNBACKED, False, FACE_16TH,
        not_entered=("thickness by radius", "E by radius"),
    ),
)  # fmt: skip

DETAILS = {detail.name.upper(): detail for detail in (*CJP_DETAILS, *PJP_DETAILS)}

# Tolerances: as detailed, then at fit-up by support.
DETAILED_OPENING, DETAILED_ANGLE = SIXTEENTH, 10
FIT_UP_OPENING = {BACKED: (SIXTEENTH, QUARTER), GOUGED: (EIGHTH, SIXTEENTH), UNBACKED: (SIXTEENTH, SIXTEENTH)}
FIT_UP_FACE = SIXTEENTH
FIT_UP_ANGLE = (5, 10)
