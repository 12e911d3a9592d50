"""What records of one edition earn two by two and neither alone, with the names that whoever asks gives the records.

The command line, the procedure page and the coverage of joints all ask here, so that they answer alike. What only
three records would earn, such as a mixed pair of groups by two of them on the base thickness of a third, is left out:
too little is covered then, never too much.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from codes.editions import Edition, Tested
from codes.limits import LimitSet
from codes.readings import Settings

PLACED = re.compile(r"\brecord (\d+)(?=, (?:process|coupon) )")


@dataclass(frozen=True, slots=True)
class Together:
    """A limit set that two records earn together; `records`: their places in the sequence asked about."""

    records: tuple[int, int]
    limits: LimitSet


def together(
    edition: Edition, records: Sequence[tuple[str, Sequence[Tested]]], settings: Settings
) -> Iterator[Together]:
    """What each two of the records (name, test pieces) earn together; nothing where the code combines none.

    Raises BadField for a value no test piece can have. Example: a root by GTAW from a coupon of 13 mm takes the base
    thickness of a SMAW record of 40 mm (ASME IX, QW-200.4(b)).
    """
    if edition.combine is None:
        return
    for pair in combinations(range(len(records)), 2):
        names = [records[at][0] for at in pair]
        for limits in edition.combine([records[at][1] for at in pair], settings):
            named = tuple(replace(one, because=_named(one.because, names)) for one in limits.limits)
            yield Together(pair, replace(limits, label=_named(limits.label, names), limits=named))


def _named(words: str, names: Sequence[str]) -> str:
    """Words about "record 1, process 141" with the name of the record."""
    return PLACED.sub(lambda found: names[int(found[1]) - 1], words)
