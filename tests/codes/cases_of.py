"""Reading of case tables: rows of `key=value; ...` laid over a base in which everything else fits."""

import csv
from collections.abc import Mapping
from pathlib import Path

from codes.parse import parse_values
from codes.values import Value

CASES = Path(__file__).parent / "cases"


def rows(name: str) -> list[dict[str, str]]:
    """The rows of one table."""
    with (CASES / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def over(base: Mapping[str, object], text: str) -> dict[str, Value]:
    """The base with the stated keys changed; a key with nothing after the sign is left out. Lists with +."""
    plain = dict(base)
    for part in filter(None, (part.strip() for part in text.split(";"))):
        key, _, value = part.partition("=")
        plain[key.strip()] = value.split("+") if "+" in value and "EXC" not in value else value.strip()
    return parse_values({key: value for key, value in plain.items() if value != ""})
