"""What a rule says of a joint: the field, what stands there, what would be right and why, or that it must be asked."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from codes.clauses import Clause, Mark
from codes.values import number

Plain = Decimal | str | None
"""A value of a field: a size, a term or text; None and "" are not stated."""

PRACTICE = Clause("Own rule", "common practice", Mark.OWN, "convention of this register")


@dataclass(frozen=True, slots=True)
class Change:
    """One field from what stands there to what is proposed, both as text; "" is not stated."""

    field: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Finding:
    """What one rule found. `changes` is empty where only the detailer can say what is right."""

    rule: str
    field: str
    present: str
    reason: str
    clause: Clause
    changes: tuple[Change, ...] = ()

    @property
    def asks(self) -> bool:
        """True where nothing is proposed."""
        return not self.changes

    @property
    def key(self) -> str:
        """What it is known by on a page: changes with the rule, what stands there and what is proposed."""
        said = "|".join(
            [self.rule, self.field, self.present, *(f"{c.field}:{c.before}>{c.after}" for c in self.changes)]
        )
        return hashlib.sha256(said.encode()).hexdigest()[:16]


def plain(value: object) -> str:
    """A value as text. Example: Decimal("5.000") gives "5", None gives ""."""
    if isinstance(value, Decimal):
        return number(value)
    return "" if value is None else str(value)


def changes_of(joint: object, proposed: Mapping[str, Plain]) -> tuple[Change, ...]:
    """The changes from what the joint states to what is proposed; what stands already is left out."""
    found = (Change(name, plain(getattr(joint, name)), plain(value)) for name, value in proposed.items())
    return tuple(change for change in found if change.before != change.after)
