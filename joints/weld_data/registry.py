"""The rules by name: each a small function from a weld to what it finds."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from joints.weld_data.finding import Finding
from joints.weld_data.weld import Weld

Finds = Callable[[Weld], Iterable[Finding]]


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule: `title` says what is wrong where it finds something."""

    name: str
    title: str
    finds: Finds

    def of(self, weld: Weld) -> Iterator[Finding]:
        """What it finds, with its own name on it."""
        return (replace(found, rule=self.name) for found in self.finds(weld))


RULES: dict[str, Rule] = {}
"""In the order of the page: contradictions first, what is missing last."""


def rule(title: str) -> Callable[[Finds], Finds]:
    """Enter a function as the rule of its name. Raises ValueError for a name that is taken."""

    def enter(finds: Finds) -> Finds:
        name = finds.__name__
        if name in RULES:
            raise ValueError(f"there is a rule {name} already")
        RULES[name] = Rule(name, title, finds)
        return finds

    return enter
