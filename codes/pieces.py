"""What one test piece states, read one variable at a time, for the packages of the US codes."""

from decimal import Decimal

from codes.clauses import Clause
from codes.editions import Tested
from codes.limits import Free, Limit, Unrecorded, When
from codes.values import Value, atoms
from codes.variables import label_of
from codes.words import lower_first


class IfStated(When):
    """A condition that is met only where the demand states the variable: silence about it is no gap."""

    __slots__ = ()

    def met_by(self, value: Value | None) -> bool | None:
        """False where not stated, else as any condition."""
        return False if value is None else When.met_by(self, value)

    def __str__(self) -> str:
        if not isinstance(self.allowed, Free):
            return When.__str__(self)
        return f"{lower_first(label_of(self.variable))} is stated"


def terms(piece: Tested, name: str) -> tuple[str, ...]:
    """The terms stated for a variable, none where it is not stated."""
    value = piece.get(name)
    return tuple(a for a in atoms(value) if isinstance(a, str)) if value is not None else ()


def term(piece: Tested, name: str) -> str | None:
    """The one term stated, None where none is or several are."""
    found = terms(piece, name)
    return found[0] if len(found) == 1 else None


def figure(piece: Tested, name: str) -> Decimal | None:
    """The one number stated, None where none is or several are."""
    value = piece.get(name)
    return value if isinstance(value, Decimal) else None


def yes(piece: Tested, name: str) -> bool:
    """True where the piece states "yes"."""
    return term(piece, name) == "yes"


def unrecorded(name: str, where: Clause, reason: str = "", *, when: tuple[When, ...] = (), field: str = "") -> Limit:
    """The limit of a variable whose tested value the record does not state: nothing can be said of it."""
    return Limit(name, Unrecorded(field or lower_first(label_of(name))), where, when=when, reason=reason or name)
