"""The tables of the demonstration: CSV files beside this module, read as text."""

import csv
from pathlib import Path

HERE = Path(__file__).parent
Row = dict[str, str]


def rows(name: str) -> list[Row]:
    """The rows of a table, separated by semicolons, an absent cell as "". Example: rows("records")."""
    with (HERE / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return [
            {key: (value or "").strip() for key, value in row.items()} for row in csv.DictReader(file, delimiter=";")
        ]


def pairs(text: str) -> Row:
    """Names and values written in one cell. Example: pairs("a=1 b=x") gives {"a": "1", "b": "x"}."""
    return dict(part.split("=", 1) for part in text.split())
