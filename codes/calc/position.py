"""Welding position from slope and rotation, by ISO 6947 and by AWS A3.0, which differ for fillets. Degrees.

Slope S: of the weld axis from the horizontal. Face angle φ: of the face normal from upwards in the cross-section,
0 face up, 180 face down (ISO rotation is 90 ± φ, AWS rotation 180 ± φ). Travel: up or down, where the axis is sloped.
"""

from decimal import Decimal

from codes.calc.calculation import Calculation, Kind, asked, choice, optional
from codes.calc.exact import atan2, exact, kept
from codes.calc.result import Refused, Result, Working, within
from codes.calc.vectors import Vector, added, cross, dot, length, scaled, unit
from codes.clauses import Clause, Mark

CLAUSE = Clause(
    "ISO 6947:2011", "Tables 1 and 2; AWS A3.0, QW-461", Mark.MEMORY, "rows of the vertical position in a public figure"
)
FORMULA = "S = asin|a_z|; u = (z − a_z·a)/|z − a_z·a|; φ = acos(n·u)"
WELDS = {"fillet": "fillet weld", "butt": "butt or groove weld"}
UP: Vector = (Decimal(0), Decimal(0), Decimal(1))
BORDER = Decimal(2)
"""Within so many degrees of a limit both positions are named."""
SMALLEST_ANGLE = Decimal("0.1")
PLACES = Decimal("1e-20")

# System and weld -> rows "slope up to/face angle up to, position"; the first row that holds both counts.
_TEXT = {
    ("iso", "butt"): "15/30 PA, 15/100 PC, 15/180 PE, 80/100 vertical, 80/180 PE, 90/180 vertical",
    ("iso", "fillet"): "15/30 PA, 15/55 PB, 15/100 PC, 15/145 PD, 15/180 PE, "
    "80/100 vertical, 80/145 PD, 80/180 PE, 90/180 vertical",
    ("aws", "butt"): "15/30 F, 15/100 H, 15/180 O, 80/100 V, 80/180 O, 90/180 V",
    ("aws", "fillet"): "15/30 F, 15/55 H, 15/180 O, 80/55 V, 80/180 O, 90/180 V",
}


def _row(text: str) -> tuple[Decimal, Decimal, str]:
    limits, place = text.split()
    slope, face = limits.split("/")
    return Decimal(slope), Decimal(face), place


LIMITS = {key: tuple(_row(row) for row in rows.split(", ")) for key, rows in _TEXT.items()}
VERTICAL = {"up": "PF", "down": "PG"}
AWS_NUMBERS = {"F": "1", "H": "2", "V": "3", "O": "4"}


def iso_position(weld: str, slope: Decimal, face: Decimal, travel: str | None) -> str:
    """The ISO letter pair. Example: a fillet at S 0, φ 45 is PB; "PF or PG" where the travel is not stated."""
    place = _first("iso", weld, slope, face)
    if place != "vertical":
        return place
    return VERTICAL[travel] if travel else "PF or PG"


def aws_position(weld: str, slope: Decimal, face: Decimal) -> str:
    """F, H, V or O. Example: a fillet at S 0, φ 60 is O, where ISO says PC."""
    return _first("aws", weld, slope, face)


def _first(system: str, weld: str, slope: Decimal, face: Decimal) -> str:
    for highest_slope, highest_face, place in LIMITS[system, weld]:
        if slope <= highest_slope and face <= highest_face:
            return place
    raise Refused("slope", "lies outside 0 to 90 degrees")


@exact
def position_by_angles(
    weld: str, slope: Decimal, face_angle: Decimal | None = None, travel: str | None = None
) -> Result:
    """The ISO position as the result, AWS letter and test position as steps; two positions near a limit are flagged.

    `face_angle` is not needed above 80 degrees of slope. Example: butt, S 22, φ 36, travel up: PF, V.
    """
    working = Working()
    working.step("slope", within("slope", slope, "0", "90", "°", "a slope"), "°")
    if face_angle is None:
        if slope <= 80:
            raise Refused("face_angle", "must be stated up to 80° of slope")
        face = Decimal(0)
    else:
        face = working.step("face_angle", within("face_angle", face_angle, "0", "180", "°", "a face angle"), "°")
        working.step("aws_rotation", 180 - face, "°")
    aws = working.word("aws", aws_position(weld, slope, face))
    working.word("aws_test_position", AWS_NUMBERS[aws] + ("F" if weld == "fillet" else "G"))
    place = iso_position(weld, slope, face, travel)
    _border(working, weld, slope, face if face_angle is not None else None, travel)
    differ = weld == "fillet" and 55 < face <= 100 and slope <= 80
    working.flag("ISO and AWS differ here: the governing code decides", when=differ)
    working.flag("limits of slope and face angle between two positions from memory")
    return working.result(place, "", CLAUSE, FORMULA)


def _border(working: Working, weld: str, slope: Decimal, face: Decimal | None, travel: str | None) -> None:
    """Flag the positions that lie within two degrees."""
    # A limit belongs to the row below it, so the step must go past it.
    reach = BORDER + PLACES
    slopes = {max(slope - reach, Decimal(0)), slope, min(slope + reach, Decimal(90))}
    faces = {Decimal(0)}
    if face is not None:
        faces = {max(face - reach, Decimal(0)), face, min(face + reach, Decimal(180))}
    near = {(iso_position(weld, s, f, travel), aws_position(weld, s, f)) for s in slopes for f in faces}
    if len(near) > 1:
        names = ", ".join(f"{iso} / {aws}" for iso, aws in sorted(near))
        working.flag(f"borderline, within 2°: {names}")


@exact
def welding_position(
    weld: str,
    axis: Vector,
    normal: Vector | None = None,
    normal_1: Vector | None = None,
    normal_2: Vector | None = None,
) -> Result:
    """The position of a weld whose axis points in the direction of travel and whose face normal points outwards.

    A fillet may state the outward normals of its two plates instead. Example: axis (1, 0, 0), normal (0, -1, 1): PB.
    """
    a = unit("axis", axis)
    n = face_normal(a, normal, normal_1, normal_2)
    return position_of(weld, a, n)


def position_of(weld: str, a: Vector, n: Vector) -> Result:
    """The position of unit axis and unit face normal, perpendicular to each other."""
    slope = _rounded(atan2(abs(a[2]), (a[0] ** 2 + a[1] ** 2).sqrt()))
    travel = None if a[2] == 0 else "up" if a[2] > 0 else "down"
    across = added(UP, scaled(a, -a[2]))
    face = None
    if length(across) > PLACES:
        u = unit("axis", across)
        face = _rounded(atan2(length(cross(n, u)), dot(n, u)))
    return position_by_angles(weld, slope, face, travel)


def _rounded(angle: Decimal) -> Decimal:
    """To 20 decimals, so that an angle given exactly is met exactly."""
    return kept(angle.quantize(PLACES).normalize())


def face_normal(a: Vector, normal: Vector | None, normal_1: Vector | None, normal_2: Vector | None) -> Vector:
    """The face normal, perpendicular to the axis. Raises Refused where it nearly lies along the axis."""
    if normal is None:
        if normal_1 is None or normal_2 is None:
            raise Refused("normal", "state the face normal, or the outward normals of both plates")
        normal = added(unit("normal_1", normal_1), unit("normal_2", normal_2))
    elif normal_1 is not None or normal_2 is not None:
        raise Refused("normal", "state the face normal or the normals of the plates, not both")
    n = unit("normal", normal)
    if length(cross(n, a)) < SMALLEST_ANGLE:
        raise Refused("normal", "lies nearly along the weld axis, so the face has no side")
    return unit("normal", added(n, scaled(a, -dot(n, a))))


WELD = choice("weld", "Weld", WELDS, "always")
AXIS = asked("axis", "Weld axis in the direction of travel", help="[x, y, z], z upwards", kind=Kind.VECTOR)
NORMAL = optional("normal", "Face normal", help="from root to face", kind=Kind.VECTOR, needed="no plate normals")
CALCULATIONS = (
    Calculation(
        "welding_position",
        "Welding position from geometry",
        "position",
        "",
        welding_position,
        (
            WELD,
            AXIS,
            NORMAL,
            optional("normal_1", "Outward normal of one plate", kind=Kind.VECTOR, needed="no face normal"),
            optional("normal_2", "Outward normal of the other plate", kind=Kind.VECTOR, needed="no face normal"),
        ),
    ),
    Calculation(
        "welding_position_by_angles",
        "Welding position from slope and face angle",
        "position",
        "",
        position_by_angles,
        (
            WELD,
            asked("slope", "Slope of the weld axis", "°"),
            optional("face_angle", "Face angle", "°", "0 face up, 180 face down", needed="slope up to 80"),
            choice("travel", "Travel", {"up": "upwards", "down": "downwards"}),
        ),
    ),
)
