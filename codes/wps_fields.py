"""What a code asks a welding procedure specification to state: the form of such a list. Each code has its own."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

from codes.clauses import Clause
from codes.limits import When
from codes.values import Value
from codes.variables import label_of, unit_of


class Need(Enum):
    """When a field is stated."""

    ALWAYS = "mandatory"
    CONDITION = "mandatory where the condition holds"
    OPTIONAL = "optional"


@dataclass(frozen=True, slots=True)
class WpsField:
    """One field of a specification. `when`: any one group of conditions, all of it true, makes it mandatory.

    A field's name is a variable of the register where it has one; the others are texts of the document.
    """

    name: str
    clause: Clause
    need: Need = Need.ALWAYS
    when: tuple[tuple[When, ...], ...] = ()
    words: str = ""
    text: str = ""

    @property
    def ref(self) -> str:
        """The clause without its standard."""
        return self.clause.ref

    @property
    def label(self) -> str:
        """The field in words."""
        return self.text or label_of(self.name)

    @property
    def unit(self) -> str:
        """The unit of the field's figures, or nothing."""
        return unit_of(self.name)

    def needed(self, stated: Mapping[str, Value]) -> bool:
        """True where the field must be stated. A condition on something unstated waits until that is stated."""
        if self.need is not Need.CONDITION:
            return self.need is Need.ALWAYS
        return any(all(one.met_by(stated.get(one.variable)) is True for one in group) for group in self.when)


def missing_of(stated: Mapping[str, Value], fields: Sequence[WpsField]) -> tuple[WpsField, ...]:
    """What a specification of one process still lacks, in the order of the list."""
    return tuple(field for field in fields if field.name not in stated and field.needed(stated))
