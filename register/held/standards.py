"""The doubtful rules standard by standard, as the page of readings lists them, and what an edition judges in words."""

import re
from dataclasses import dataclass
from typing import Any

from django.utils.text import slugify
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.editions import Edition, all_editions
from codes.readings import Switch, degree_of
from register.held.firm import latest_readings
from register.judged_words import told
from register.templatetags.said import as_sentence

JUDGED = {
    "procedure": _("procedures"),
    "prequalified": _("prequalified procedures"),
    "welder": _("welders"),
    "operator": _("operators"),
    "tack_welder": _("tack welders"),
    "gate": _("what an execution class accepts"),
}


@dataclass(frozen=True, slots=True)
class Rule:
    """One doubtful rule: what it judges, its options as (name, meaning, in force), and the firm's reading or None."""

    switch: Switch
    judges: str
    options: tuple[tuple[str, str, bool], ...]
    set: Any

    @property
    def anchor(self) -> str:
        """Where it stands on the page of readings."""
        return anchor_of(self.switch)


@dataclass(frozen=True, slots=True)
class Standard:
    """The doubtful rules of one standard, whatever the edition."""

    name: str
    rules: tuple[Rule, ...]

    @property
    def anchor(self) -> str:
        """Where it begins on the page of readings."""
        return slugify(self.name)

    @property
    def set(self) -> int:
        """How many of them the firm has set."""
        return sum(1 for rule in self.rules if rule.set)


def anchor_of(switch: Switch) -> str:
    """The name of a rule within the page of readings."""
    return f"r-{slugify(switch.key)}"


def judged(edition: Edition) -> str:
    """What the records of an edition are about, in words. Example: "welders"."""
    return ", ".join(gettext(JUDGED[kind]) for kind in edition.kinds)


def standards() -> list[Standard]:
    """Every doubtful rule once, under its standard, in the order of the clauses. One query."""
    set_here = latest_readings()
    held: dict[str, list[Edition]] = {}
    known: dict[str, Switch] = {}
    for edition in all_editions():
        for switch in edition.switches:
            held.setdefault(switch.key, []).append(edition)
            known[switch.key] = switch
    found: dict[str, list[Rule]] = {}
    for key, switch in known.items():
        home = standard_of(switch, held[key])
        judges = ", ".join(dict.fromkeys(map(judged, sorted(held[key], key=lambda one: _name(one) != home))))
        rule = Rule(switch, judges, _options(switch, set_here.get(key)), set_here.get(key))
        found.setdefault(home, []).append(rule)
    return [Standard(name, tuple(sorted(found[name], key=_by_clause))) for name in sorted(found)]


def standard_of(switch: Switch, editions: list[Edition]) -> str:
    """The standard whose rule it is: another may borrow it, as ISO 14732 does from ISO 9606-1."""
    names = sorted({_name(edition) for edition in editions})
    stated = [name for name in names if switch.clause.startswith(name)]
    keyed = [name for name in names if slugify(switch.key).replace("_", "-").startswith(slugify(name))]
    return (stated or keyed or names)[0]


def place_of(switch: Switch) -> str:
    """The clause of a doubtful rule with its standard. Example: "ISO 9606-1, 5.2"."""
    home = standard_of(switch, [one for one in all_editions() if switch.key in [own.key for own in one.switches]])
    return switch.clause if switch.clause.startswith(home) else f"{home}, {switch.clause}"


def _name(edition: Edition) -> str:
    """The standard without its year. Example: "ASME IX:2021 welder" gives "ASME IX"."""
    return edition.key.split(":")[0]


def _by_clause(rule: Rule) -> tuple[int, list[int]]:
    """What is judged, procedures first, then the figures of the clause as numbers: 8.4.10 stands after 8.4.9."""
    within = re.sub(r"^[A-Z]+( [A-Z])? ?[-\d.]*(:\d{4})?, ", "", rule.switch.clause)
    first = next((at for at, words in enumerate(JUDGED.values()) if rule.judges.startswith(str(words))), len(JUDGED))
    return first, [int(figure) for figure in re.findall(r"\d+", within)]


def _options(switch: Switch, reading: Any) -> tuple[tuple[str, str, bool], ...]:
    """(name, meaning, in force) of each option."""
    chosen = reading.option if reading and reading.option in switch.options else switch.default
    return tuple((degree_of(name), meaning, name == chosen) for name, meaning in switch.options.items())


def reading_words(name: str, meaning: str) -> str:
    """A reading to choose. Examples: "Strict: the higher end"; "With backing only"."""
    degree = degree_of(name)
    return f"{told(degree).capitalize()}: {told(meaning)}" if degree else as_sentence(told(meaning))
