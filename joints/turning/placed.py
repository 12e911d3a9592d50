"""A weld of known geometry as the calculations place it: at a turn, by ISO 6947 and by AWS A3.0, side by side."""

from dataclasses import dataclass
from decimal import Decimal

from codes.calc.result import Refused, Result
from codes.calc.turning import turned_position
from joints.models import Joint
from joints.turning.models import Vector
from joints.turning.reach import beam_of, plain_vector, weld_kind


@dataclass(frozen=True, slots=True)
class Placed:
    """Where a weld lies: both names, the slope of its axis and its face angle [degrees], and what to mind."""

    iso: str
    aws: str
    aws_test: str
    slope: Decimal
    face_angle: Decimal | None
    flags: tuple[str, ...]

    @property
    def borderline(self) -> str:
        """The flag that names both positions within two degrees of a limit, or ""."""
        return next((flag for flag in self.flags if flag.startswith("borderline")), "")


def placed(joint: Joint, turn: Decimal = Decimal(0)) -> Placed | None:
    """Where the weld lies after a turn [degrees]; None where the geometry does not say it.

    Example: a fillet along the beam with its face at 45 degrees is PB and 2F at turn 0, PA and 1F at turn 45.
    """
    geometry, kind = getattr(joint, "geometry", None), weld_kind(joint)
    if geometry is None or not kind:
        return None
    axis, face, beam = map(plain_vector, (geometry.axis, geometry.face, beam_of(joint)))
    return placed_by(kind, axis, face, beam, turn)


def placed_by(kind: str, axis: Vector, face: Vector, beam: Vector, turn: Decimal) -> Placed | None:
    """As `placed`, from the directions; None where they are none."""
    try:
        found = turned_position(kind, axis, beam, turn, face)
    except Refused:
        return None
    return Placed(
        iso=str(found.value),
        aws=str(found.step("aws")),
        aws_test=str(found.step("aws_test_position")),
        slope=found.number("slope"),
        face_angle=_face(found),
        flags=found.flags,
    )


def _face(found: Result) -> Decimal | None:
    """The face angle; near the vertical it is not asked for."""
    try:
        return found.number("face_angle")
    except KeyError:
        return None
