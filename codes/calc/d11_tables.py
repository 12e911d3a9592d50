"""The tables of AWS D1.1 on preheat: hydrogen control (Annex B of 2020, Annex H of 2015) and prequalified (Table 5.8).

From memory but for single cells; every figure is to be verified against an owned copy. Temperatures °F / °C as the code
prints them (rounded pairs, not conversions). Not entered: the graphs of hardness control.
"""

from collections.abc import Mapping
from decimal import Decimal

Cell = tuple[int, int, bool]
"""°F, °C, and whether lower than that may also be safe."""
Steps = tuple[tuple[str, str, bool], ...]
"""Upper end of each row in mm and in inches, and whether the end belongs to the row."""

HYDROGEN: Mapping[str, Decimal] = {"H1": Decimal(5), "H2": Decimal(10), "H3": Decimal(30)}
"""Level -> ml/100 g in the formula of the index."""
RESTRAINTS: Mapping[str, str] = {
    "low": "low: parts free to move",
    "medium": "medium: fixed to the structure, with some freedom",
    "high": "high: nearly no freedom, thick parts or repair",
}
GROUPS = ("A", "B", "C", "D", "E", "F", "G")
PCM_BOUNDS = ("0.18", "0.23", "0.28", "0.33", "0.38")
"""A column serves Pcm below its bound."""
BANDS: Mapping[str, str] = {"H1": "ABCDE", "H2": "BCDEF", "H3": "CDEFG"}
BY_INDEX = (("A", "3.0"), ("B", "3.5"), ("C", "4.0"), ("D", "4.5"), ("E", "5.0"), ("F", "5.5"), ("G", "7.0"))
THICKNESS_STEPS: Steps = (("10", "0.375", False), ("20", "0.75", True), ("38", "1.5", True), ("75", "3", True))

_TEXT = {
    "low": """
        <65/20 <65/20 <65/20 <65/20 140/60 280/140 300/150
        <65/20 <65/20 65/20 140/60 210/100 280/140 300/150
        <65/20 <65/20 65/20 175/80 230/110 280/140 300/150
        65/20 65/20 100/40 200/95 250/120 280/140 300/150
        65/20 65/20 100/40 200/95 250/120 280/140 300/150
    """,
    "medium": """
        <65/20 <65/20 <65/20 <65/20 160/70 280/140 320/160
        <65/20 <65/20 65/20 175/80 240/115 290/145 320/160
        <65/20 65/20 165/75 230/110 280/140 300/150 320/160
        65/20 175/80 230/110 265/130 300/150 300/150 320/160
        200/95 250/120 280/140 300/150 320/160 320/160 320/160
    """,
    "high": """
        <65/20 <65/20 <65/20 100/40 230/110 300/150 320/160
        <65/20 65/20 150/65 220/105 280/140 320/160 320/160
        65/20 185/85 240/115 280/140 300/150 320/160 320/160
        240/115 265/130 300/150 300/150 320/160 320/160 320/160
        240/115 265/130 300/150 300/150 320/160 320/160 320/160
    """,
}


def _cell(text: str) -> Cell:
    fahrenheit, celsius = text.lstrip("<").split("/")
    return int(fahrenheit), int(celsius), text.startswith("<")


def _rows(text: str) -> tuple[tuple[Cell, ...], ...]:
    return tuple(tuple(map(_cell, line.split())) for line in text.strip().splitlines())


MINIMUM: Mapping[str, tuple[tuple[Cell, ...], ...]] = {restraint: _rows(text) for restraint, text in _TEXT.items()}
"""Restraint -> row of thickness -> column of group."""

PREQUALIFIED_STEPS: Steps = (("20", "0.75", True), ("38", "1.5", True), ("65", "2.5", True))
PREQUALIFIED: Mapping[str, tuple[tuple[int, int], ...]] = {
    "A": ((32, 0), (150, 65), (225, 110), (300, 150)),
    "B": ((32, 0), (50, 10), (150, 65), (225, 110)),
    "C": ((50, 10), (150, 65), (225, 110), (300, 150)),
    "D": ((32, 0), (32, 0), (32, 0), (32, 0)),
}
"""Category -> row of thickness -> °F, °C."""
