"""The delivery condition of a steel: by the name of its grade (EN 10025-3, -4 and -6), or after a "+"."""

import re

_IN_THE_NAME = re.compile(r"[SP]\d{3}([NMQ])", re.IGNORECASE)
_THROUGH_THICKNESS = re.compile(r"Z\d\d", re.IGNORECASE)
_SAME = {"Q": "QT"}
"""Quenched is quenched and tempered in these standards."""


def in_the_name(grade: str) -> str:
    """What the letter behind the strength says. Example: "S690QL" is QT, "S460ML" M, "S355NH" N, "S355J2" ""."""
    found = _IN_THE_NAME.match("".join(grade.split()))
    return one_name(found[1]) if found else ""


def after_the_name(grade: str) -> tuple[str, ...]:
    """What stands after the signs "+". Example: "S355J2+N+Z25" is ("N",): Z25 is tested, not delivered."""
    return tuple(filter(None, map(one_name, grade.split("+")[1:])))


def one_name(condition: str) -> str:
    """The condition by the name that stands for its spellings. Example: "q" is QT; "Z25" gives ""."""
    plain = condition.strip().upper()
    return "" if _THROUGH_THICKNESS.fullmatch(plain) else _SAME.get(plain, plain)


def full_name(grade: str, condition: str) -> str:
    """The grade with its condition, said once. Example: "S355J2" with N is S355J2+N, "S690QL" with QT is S690QL."""
    own = one_name(condition)
    said = own in (in_the_name(grade), *after_the_name(grade)) if own else f"+{condition}" in f"{grade}+"
    return grade if said else f"{grade}+{condition}"
