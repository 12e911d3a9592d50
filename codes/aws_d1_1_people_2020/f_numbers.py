"""AWS D1.1:2020, Table 6.13: groups of covered electrodes (F-numbers) and the groups that each covers."""

import re
from dataclasses import dataclass

from codes.aws_d1_1_people_2020.clauses import F_NUMBERS, memory, partly
from codes.clauses import Clause


@dataclass(frozen=True, slots=True)
class GroupRow:
    """A group, the last two digits of its electrode classes (EXX is E60 to E110), and the groups it covers."""

    group: str
    ends: tuple[str, ...]
    covers: tuple[str, ...]
    clause: Clause


TABLE_6_13 = partly("Table 6.13", F_NUMBERS)
# E7028 is low-hydrogen and stands in F1 all the same.
ROWS = (
    GroupRow("F4", ("15", "16", "18", "48"), ("F4", "F3", "F2", "F1"), TABLE_6_13),
    GroupRow("F3", ("10", "11"), ("F3", "F2", "F1"), memory("Table 6.13")),
    GroupRow("F2", ("12", "13", "14"), ("F2", "F1"), memory("Table 6.13")),
    GroupRow("F1", ("20", "24", "27", "28"), ("F1",), TABLE_6_13),
)
_CLASS = re.compile(r"^E(?:[6-9]\d|1[01]\d)(\d\d)(?:M\d?|R|H\d+|-.*)*$")


def smaw_group(designation: str) -> str:
    """The group of an electrode class, "" where the table has none. Example: "E7018-1H4R" gives "F4"."""
    plain = designation.upper().replace(" ", "").removeprefix("AWS").removeprefix("A5.1").removeprefix("A5.5")
    found = _CLASS.match(plain.removeprefix(":").removeprefix("-"))
    if not found:
        return ""
    return next((row.group for row in ROWS if found.group(1) in row.ends), "")
