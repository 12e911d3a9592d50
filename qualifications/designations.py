"""A designation as typed or pasted, read into the fields of a new certificate."""

from dataclasses import dataclass, field

from codes.parse import Plain

WELDER = "ISO 9606-1:2012"


@dataclass(frozen=True, slots=True)
class Read:
    """What a designation says: the edition's key and the test pieces, or the problem in words."""

    text: str = ""
    code: str = ""
    pieces: list[dict[str, Plain]] = field(default_factory=list)
    problem: str = ""
    warnings: tuple[str, ...] = ()


def read_designation(text: str) -> Read:
    """Read a designation; nothing typed is nothing read."""
    text = " ".join(text.split())[:200]
    if not text:
        return Read()
    return Read(text, problem="cannot be read yet")
