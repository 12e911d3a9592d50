"""AWS D1.1: conditions on the position of a joint, whatever name it is stated by."""

from codes.aws_positions import CONTAINS, OH, F, H, V
from codes.limits import When, when_is

FLAT, HORIZONTAL, VERTICAL, OVERHEAD = F, H, V, OH
ALL = (FLAT, HORIZONTAL, VERTICAL, OVERHEAD)


def in_position(*positions: str) -> When:
    """The condition that a joint contains one of the production positions. Example: "V" holds 3G and 5G."""
    return when_is("aws_position", *(name for name, parts in CONTAINS.items() if parts & set(positions)))
