"""Reading of the case table of calculations: inputs as `key=value; ...`, what is expected with its tolerance.

An expectation is `name=figure unit ±tolerance` or `name=word`, of the value or of an intermediate value; `shown`,
`flag` (part of a flag), `refused` (the input at fault) and `without` (no such value) are names of their own.
"""

import csv
import json
import re
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from codes.calc.conversions import converted
from codes.door.calculation import Answer, answer_calculation

TABLE = Path(__file__).parent / "cases" / "calc.csv"
_FIGURE = re.compile(r"(-?[\d.]+)\s*(\S*)\s*±([\d.]+)")


def rows() -> list[dict[str, str]]:
    """The rows of the table."""
    with TABLE.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def pairs(text: str) -> list[tuple[str, str]]:
    """The pairs of a cell; a semicolon inside a value is written with a backslash before it."""
    parts = re.split(r"(?<!\\);", text)
    split = [part.replace("\\;", ";").partition("=") for part in parts]
    return [(key.strip(), value.strip()) for key, _, value in split]


def inputs_of(row: dict[str, str]) -> dict[str, object]:
    """Plain inputs as they would stand in a question; an analysis is written `C .15 Mn 1.20`."""
    found: dict[str, object] = {}
    for key, value in pairs(row["inputs"]):
        words = value.split()
        if key == "analysis":
            found[key] = dict(zip(words[::2], words[1::2], strict=True))
        else:
            found[key] = json.loads(value, parse_float=Decimal) if value.startswith("[") else value
    return found


def answer_of(row: dict[str, str]) -> Answer:
    """The answer of the door to the row."""
    return answer_calculation({"id": row["id"], "calculation": row["calculation"], "inputs": inputs_of(row)})


@dataclass(frozen=True)
class Stated:
    """A figure or word of an answer."""

    value: str
    unit: str


def stated(answer: Answer, name: str) -> Stated:
    """The value, or the last intermediate value of that name. Raises KeyError."""
    if name == "value":
        return Stated(str(answer["value"]), str(answer["unit"]))
    for step in reversed(answer["intermediate_values"]):  # type: ignore[call-overload]
        if step["name"] == name:
            return Stated(step["value"], step["unit"])
    raise KeyError(name)


def misses(answer: Answer, expect: str) -> list[str]:
    """What of the expectation the answer does not meet."""
    return [f"{name}: {told}" for name, wanted in pairs(expect) if (told := _miss(answer, name, wanted))]


def _miss(answer: Answer, name: str, wanted: str) -> str:
    if name == "refused":
        error = answer.get("error")
        field = str(error["field"]).removeprefix("inputs.") if isinstance(error, dict) else "not refused"
        return "" if field == wanted else f"{field}, not {wanted}"
    if answer["outcome"] != "answered":
        return str(answer["reason"])
    if name == "shown":
        return "" if answer["shown"] == wanted else str(answer["shown"])
    if name == "flag":
        return "" if any(wanted in flag for flag in answer["flags"]) else str(answer["flags"])  # type: ignore[attr-defined]
    if name == "without":
        names = [step["name"] for step in answer["intermediate_values"]]  # type: ignore[attr-defined]
        return f"{wanted} is there" if wanted in names else ""
    return _figure_miss(stated(answer, name), wanted)


def _figure_miss(found: Stated, wanted: str) -> str:
    match = _FIGURE.fullmatch(wanted)
    if match is None:
        return "" if found.value == wanted else f"{found.value}, not {wanted}"
    figure, unit, tolerance = Decimal(match[1]), match[2], Decimal(match[3])
    value = Decimal(found.value)
    if unit != found.unit:
        value = converted(value, found.unit, unit)
    # A figure converted to another unit carries the rounding of its 28 digits.
    slack = Decimal("1e-20") if unit != found.unit else Decimal(0)
    return "" if abs(value - figure) <= tolerance + slack else f"{value} {unit}, not {wanted}"
