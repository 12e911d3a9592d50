"""What every code package says of itself, and the registry that finds the packages."""

import pkgutil
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from importlib import import_module

from codes.limits import LimitSet
from codes.readings import Settings, Switch
from codes.validity import Validity, ValidityInput
from codes.values import Value
from codes.variables import VARIABLES, Variable

Tested = Mapping[str, Value]
"""The variables one test piece was made with."""


@dataclass(frozen=True, slots=True)
class Field:
    """A tested variable that a record of this code states.

    `needed`: "always", "" (optional) or the condition in words under which it must be stated ("butt weld").
    `many`: several values may be stated (positions of one test). `label` overrides the variable's own.
    """

    name: str
    needed: str = ""
    many: bool = False
    clause: str = ""
    label: str = ""
    help: str = ""

    @property
    def variable(self) -> Variable:
        """The variable of this field."""
        return VARIABLES[self.name]


@dataclass(frozen=True, slots=True)
class Edition:
    """One edition of one code.

    `kinds`: what its records are: "procedure", "welder", "operator", "gate".
    `limit_sets(pieces, settings)`: the alternatives that a record made from these test pieces allows; a demand is
    covered if one of them covers it. `demand`: the variables its limits look at.
    `periods`: events to validity, None where the code's records do not lapse.
    `combine(records, settings)`: what several records earn together and none alone; None where nothing is.
    """

    key: str
    title: str
    kinds: tuple[str, ...]
    fields: tuple[Field, ...]
    demand: tuple[str, ...]
    limit_sets: Callable[[Sequence[Tested], Settings], tuple[LimitSet, ...]]
    aliases: tuple[str, ...] = ()
    switches: tuple[Switch, ...] = ()
    periods: Callable[[ValidityInput, Settings], Validity] | None = None
    recorded_only: tuple[str, ...] = field(default=())
    combine: Callable[[Sequence[Sequence[Tested]], Settings], tuple[LimitSet, ...]] | None = None


class UnknownEdition(LookupError):
    """A code that the register does not hold; the message names those it does."""


@cache
def all_editions() -> tuple[Edition, ...]:
    """Every edition found in the packages of `codes`, ordered by key. A package states them as EDITIONS."""
    import codes

    found: list[Edition] = []
    for module in pkgutil.iter_modules(codes.__path__):
        if module.ispkg:
            package = import_module(f"codes.{module.name}")
            found.extend(getattr(package, "EDITIONS", ()))
    return tuple(sorted(found, key=lambda edition: edition.key))


@cache
def not_judged() -> Mapping[str, str]:
    """Names of codes that the register knows but does not judge -> why. A package states them as NOT_JUDGED."""
    import codes

    found: dict[str, str] = {}
    for module in pkgutil.iter_modules(codes.__path__):
        if module.ispkg:
            found |= getattr(import_module(f"codes.{module.name}"), "NOT_JUDGED", {})
    return found


def edition(name: str) -> Edition:
    """The edition of a key or alias; case and blanks do not matter. Raises UnknownEdition.

    Example: edition("EN ISO 9606-1:2017") is the package of ISO 9606-1:2012.
    """
    wanted = _plain(name)
    for known in all_editions():
        if wanted in (_plain(known.key), *map(_plain, known.aliases)):
            return known
    for other, why in not_judged().items():
        if wanted == _plain(other):
            raise UnknownEdition(f"{other} is not judged here: {why}")
    keys = ", ".join(known.key for known in all_editions())
    raise UnknownEdition(f'the register does not hold "{name}"; it holds: {keys}')


def editions_of(kind: str) -> tuple[Edition, ...]:
    """The editions whose records are of this kind."""
    return tuple(known for known in all_editions() if kind in known.kinds)


def _plain(name: str) -> str:
    return "".join(name.casefold().split())
