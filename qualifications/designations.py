"""Designations: a line as typed or pasted, read into the fields of a new certificate; and a test piece as a line."""

from dataclasses import dataclass, field

from codes.editions import Tested
from codes.iso_9606_1_2012.designation import DesignationError, OtherEdition, parse, write
from codes.parse import Plain
from qualifications.pieces import plain_piece

WELDER = "ISO 9606-1:2012"


@dataclass(frozen=True, slots=True)
class Read:
    """What a designation says: the standard and the test pieces, or the problem in words.

    A line of a standard that the register does not hold names that standard and gives no test piece.
    """

    text: str = ""
    code: str = ""
    pieces: list[dict[str, Plain]] = field(default_factory=list)
    problem: str = ""
    warnings: tuple[str, ...] = ()


def read_designation(text: str) -> Read:
    """Read a designation; nothing typed is nothing read.

    Example: "ISO 9606-1 135 P FW FM1 S t10 PB ml" states process 135, plate, fillet weld, t = 10 mm, PB, multi run.
    """
    text = " ".join(text.split())[:200]
    if not text:
        return Read()
    try:
        found = parse(text)
    except OtherEdition as other:
        return Read(text, other.standard, warnings=(str(other),))
    except DesignationError as bad:
        return Read(text, problem=f"The designation cannot be read: {bad}.")
    return Read(text, WELDER, [plain_piece(found.tested)], warnings=found.warnings)


def written(code: str, pieces: tuple[Tested, ...]) -> str:
    """The designation line of a certificate's first test piece; "" where the standard has none or a part is missing."""
    if code != WELDER or not pieces:
        return ""
    try:
        return write(pieces[0])
    except DesignationError:
        return ""
