"""A formula with its numbers in place: "E = 24·180·60 / (1000·300)". The symbols are replaced right of the = only."""

import re
from collections.abc import Mapping
from decimal import ROUND_HALF_EVEN, Decimal
from inspect import signature

from django.utils.translation import gettext

from codes.calc.calculation import Calculation
from codes.calc.inputs import arguments
from codes.calc.result import Result
from codes.parse import Plain
from codes.values import Interval, number
from register.calculations.symbols import SYMBOLS, Sources

DIGITS = 6
"""What is printed of a stated figure inside a formula."""
WORKED_DIGITS = 5
"""Of an intermediate value, there and wherever else it stands."""
_LETTER = r"A-Za-zα-ωΑ-Ω_"


def significant(value: Decimal, digits: int = DIGITS, rounding: str = ROUND_HALF_EVEN) -> str:
    """A figure to so many digits, without exponent. Example: significant(Decimal("1.5748031")) gives "1.5748"."""
    text = number(value)
    if len(text.lstrip("-0.").replace(".", "")) <= digits:
        return text
    step = Decimal(1).scaleb(value.adjusted() - digits + 1)
    return number(value.quantize(min(step, Decimal(1)), rounding))


def set_out(asked: Calculation, plain: Mapping[str, Plain], result: Result) -> list[str]:
    """Each part of the formula with its numbers; nothing where the formula holds no known symbol."""
    known = figures(asked, plain, result)
    if asked.name == "heat_input_window":
        return _corners(asked, plain, result)
    if asked.name == "travel_speed_window":
        return _speeds(result.formula, known)
    if "S = " in result.formula:
        return []  # The sides of a U or J hold angles in radians: it is printed as it is, with its intermediate values.
    lines = []
    for part in re.split(r"[;,] (?=\S+ = )|; ", result.formula):
        left, equals, right = part.partition(" = ") if part.count(" = ") == 1 else (part, "", "")
        filled = _filled(right if equals else left, known)
        if filled != (right if equals else left):
            lines.append(f"{left} = {filled}" if equals else filled)
    return lines


def _corners(asked: Calculation, plain: Mapping[str, Plain], result: Result) -> list[str]:
    """The least and the greatest heat of a window, each with the ends that make it so."""
    given = arguments(asked.name, asked.inputs, plain)
    u, i, v = (given[name] for name in ("voltage", "current", "travel_speed"))
    if not (isinstance(u, Interval) and isinstance(i, Interval) and isinstance(v, Interval)):
        return []
    lines = []
    words = {"least": gettext("least"), "greatest": gettext("greatest")}
    for name, ends in (("least", (u.lo, i.lo, v.hi)), ("greatest", (u.hi, i.hi, v.lo))):
        volts, amperes, speed = (significant(end) for end in ends if end is not None)
        k = result.number(name) / (Decimal(volts) * Decimal(amperes) * 60 / (1000 * Decimal(speed)))
        lines.append(f"{words[name]} = {significant(k, 4)}·{volts}·{amperes}·60 / (1000·{speed})")
    return lines


def _speeds(formula: str, known: Mapping[str, str]) -> list[str]:
    """The lowest and the highest travel speed of a window, each from the end of the heat input that makes it so."""
    right = formula.partition(" = ")[2]
    ends = ((gettext("lowest"), known["Q most"]), (gettext("highest"), known["Q"]))
    return [f"{name} = {_filled(right, {**known, 'Q': heat})}" for name, heat in ends]


def figures(asked: Calculation, plain: Mapping[str, Plain], result: Result) -> dict[str, str]:
    """Symbol to its figure, for the symbols whose source is stated or worked out."""
    stated = _stated(asked, plain, result)
    found = {symbol: _first(stated, sources) for symbol, sources in SYMBOLS.get(asked.name, {}).items()}
    return {symbol: text for symbol, text in found.items() if text}


def _first(stated: Mapping[str, str], sources: Sources) -> str:
    return next((stated[name] for name in sources if name in stated), "")


def _stated(asked: Calculation, plain: Mapping[str, Plain], result: Result) -> dict[str, str]:
    """Every input and intermediate value as text; parts of an analysis and ends of a range by a dotted name."""
    found: dict[str, str] = {}
    for name, value in arguments(asked.name, asked.inputs, plain).items():
        if isinstance(value, Decimal):
            found[name] = _with_sign(asked, name, value)
        elif isinstance(value, Mapping):
            found |= {f"{name}.{key}": significant(part) for key, part in value.items()}
        elif isinstance(value, Interval) and value.lo is not None and value.hi is not None:
            found |= {f"{name}.min": significant(value.lo), f"{name}.max": significant(value.hi)}
        elif name == "assumed_zero" and isinstance(value, tuple):
            found |= {f"analysis.{element.capitalize()}": "0" for element in value}
    # An intermediate value carries the reader further than the input of the same name: it is what was worked with.
    steps = {
        step.name: significant(step.value, WORKED_DIGITS) + ("°" if step.unit == "°" else "")
        for step in result.steps
        if isinstance(step.value, Decimal)
    }
    if isinstance(result.value, Decimal):
        steps.setdefault("result", significant(result.value, WORKED_DIGITS))
    stated = {f"stated.{name}": text for name, text in found.items()}
    return _defaults(asked) | stated | found | steps


def _defaults(asked: Calculation) -> dict[str, str]:
    """What counts where an input is not stated, by "default." and its name. Example: default.gamma_m2 is 1.25."""
    known = signature(asked.function).parameters.values()
    held = {one.name: one.default for one in known if isinstance(one.default, Decimal)}
    return {f"default.{name}": _with_sign(asked, name, value) for name, value in held.items()}


def _with_sign(asked: Calculation, name: str, value: Decimal) -> str:
    """A figure with the sign that it needs within a formula. Examples: "96 %" of an efficiency, "90°" of an angle."""
    unit = asked.input(name).unit
    return significant(value) + ("°" if unit == "°" else " %" if unit == "%" and name == "efficiency" else "")


def _filled(text: str, known: Mapping[str, str]) -> str:
    if not known:
        return text
    symbols = "|".join(re.escape(symbol) for symbol in sorted(known, key=len, reverse=True))
    pattern = re.compile(rf"(?<![{_LETTER}])({symbols})(?![{_LETTER}\d])")

    def figure(match: re.Match[str]) -> str:
        value = known[match[1]]
        shown = f"({value})" if value.startswith("-") else value
        return f"·{shown}" if match.start() and text[match.start() - 1].isdigit() else shown

    return pattern.sub(figure, text)
