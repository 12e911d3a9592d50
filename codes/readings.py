"""Switches for doubtful rules: the strict reading is the default, and every verdict says which reading it used."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

Settings = Mapping[str, str]
"""Switch key -> option chosen by the firm. A switch that is not named stands at its default."""

DEFAULTS: Settings = {}

STANDARD = re.compile(r"^(15614-1|asme[ _]ix|aws_d1_1|iso_9606_1|iso_14732|en_1090)[ _]")
CAPITALS = frozenset(["a913", "f1", "f5", "fcaw", "gmaw", "mag", "mig", "pc", "ph", "pjp", "saw", "swps"])


def reading_name(key: str) -> str:
    """A switch as a reader sees it: its standard stands beside it in the clause, and abbreviations are capital.

    Example: "aws_d1_1_saw_speed" is "SAW speed", "15614-1 run type" is "run type".
    """
    words = STANDARD.sub("", key).replace("_", " ").split(" ")
    return " ".join(word.upper() if word in CAPITALS else word for word in words)


DEGREES = {"strict": "strict", "lenient": "lenient", "wide": "lenient"}
"""Options that say how strictly they take the rule, and in which word."""


def degree_of(name: str) -> str:
    """How strictly an option takes the rule; "" of one that is told from the others by what it says alone."""
    return DEGREES.get(name, "")


def in_reading(line: str) -> str:
    """A line of `Switch.used` as a reader sees it: the rule by its name, the option by its degree or by what it says.

    Example: "yield_by_band (8.3.1): by grade: one figure" is "yield by band (8.3.1): one figure".
    """
    rule, _, option = line.partition("): ")
    name, _, clause = rule.partition(" (")
    degree, _, meaning = option.rpartition(": ") if ": " not in option else option.partition(": ")
    if said := degree_of(degree):
        return f"{reading_name(name)} ({clause}): {said}: {meaning}"
    return f"{reading_name(name)} ({clause}): {meaning}"


@dataclass(frozen=True, slots=True)
class Switch:
    """One doubtful rule: `options` maps each option's name to what it means; `default` is the one used unasked."""

    key: str
    question: str
    options: Mapping[str, str]
    default: str
    clause: str

    @property
    def name(self) -> str:
        """The key as a reader sees it. Example: "yield_by_band" is "yield by band"."""
        return reading_name(self.key)

    def option(self, settings: Settings) -> str:
        """The option in force. Raises ValueError where the setting names none of the options."""
        chosen = settings.get(self.key, self.default)
        if chosen not in self.options:
            known = ", ".join(self.options)
            raise ValueError(f'reading "{chosen}" of {self.key} is not known; use one of: {known}')
        return chosen

    def used(self, settings: Settings) -> str:
        """The line that a verdict prints. Example: "preheat (8.4.8): strict: no reduction below the test preheat"."""
        option = self.option(settings)
        return f"{self.key} ({self.clause}): {option}: {self.options[option]}"
