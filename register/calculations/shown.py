"""A result as the page and the sheet print it, in the reader's units."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal, InvalidOperation
from functools import partial

from codes.calc.calculation import Calculation, Kind
from codes.calc.conversions import in_us
from codes.calc.result import AT_LEAST, AT_MOST, Figure, Result, printed
from codes.parse import Plain
from codes.terms import both_names
from codes.units import System
from codes.values import Interval
from register.base.draw.plot import Plot
from register.calculations.curves import plot_of
from register.calculations.limits import RANGES
from register.calculations.set_out import WORKED_DIGITS, set_out, significant
from register.calculations.typed import shown_unit
from register.own_units.words import interval_in_us, sentence_in

Row = tuple[str, str]
SPANS = (("least", "greatest"), ("lowest_speed", "highest_speed"))
"""Intermediate values that are the ends of a window."""
IN_US_UNITS = "deposition_rate_us"
"""The calculation whose formula is in US units."""
POSITION_IN_A_TEST = "aws_test_position"
"""The other name of a position, which stands beside its name to ISO 6947."""


@dataclass(frozen=True, slots=True)
class Shown:
    """The answer first, then what it rests on. `exactly`: the unrounded value, where it says more.

    `lines`: the formula with its numbers; `lines_in_si`: they are in SI units, and the reader's figures are not.
    """

    label: str
    value: str
    exactly: str
    stated: tuple[Row, ...]
    steps: tuple[Row, ...]
    flags: tuple[str, ...]
    formula: str
    lines: tuple[str, ...]
    lines_in_si: bool
    clause: str
    mark: str
    source: str
    plot: Plot | None


def shown(asked: Calculation, plain: Mapping[str, Plain], result: Result, system: System) -> Shown:
    """A result for the reader."""
    us = system is System.US and not result.fixed_units
    said = partial(sentence_in, system=System.US) if us else str
    lines = tuple(set_out(asked, plain, result))
    return Shown(
        asked.label,
        value_text(result, us),
        _exactly(result, us),
        tuple(stated_rows(asked, plain, system)),
        tuple((said(step.label), amount(step.value, step.unit, us)) for step in result.steps),
        tuple(said(flag) for flag in result.flags),
        # Set out with numbers it stays in SI units, and the page says so.
        result.formula if lines else said(result.formula),
        lines,
        us
        and bool(lines)
        and asked.name != IN_US_UNITS
        and (_turns(result.unit) or any(_turns(one.unit) for one in asked.inputs)),
        str(result.clause),
        result.mark.value,
        result.clause.source,
        plot_of(asked, plain, result, system),
    )


def value_text(result: Result, us: bool) -> str:
    """The value as printed. A temperature, which may be rounded upwards, keeps its SI form beside the US one.

    Example: 109.7 °C, printed 110 °C, is "230 °F (110 °C)" to a reader in US units.
    """
    if span := _span(result, us):
        return span
    if POSITION_IN_A_TEST in {step.name for step in result.steps} and isinstance(result.value, str):
        return f"{result.shown} · {result.step(POSITION_IN_A_TEST)}"
    if not us or not isinstance(result.value, Decimal):
        return result.shown
    if result.as_its_unit:
        text = printed(*in_us(result.value, result.unit), result.rounding)
        return f"{text} ({result.shown})" if result.unit == "°C" else text
    figure, _, unit = result.shown.partition(" ")
    return f"{printed(*in_us(Decimal(figure), unit))} ({result.shown})" if unit == "°C" else result.shown


def _turns(unit: str) -> bool:
    """True for a unit that a reader in US units writes another way."""
    return in_us(Decimal(0), unit)[1] != unit


def _span(result: Result, us: bool) -> str:
    """Both ends of a result that is a window. Example: "0.58 to 1.12 kJ/mm"; "" for any other result.

    A window that must be kept to is rounded inwards, where its ends do not meet for that.
    """
    held = {step.name: step for step in result.steps}
    for low, high in SPANS:
        if low in held and high in held:
            ends = [(one.value, one.unit) for one in (held[low], held[high]) if isinstance(one.value, Decimal)]
            least, most = (in_us(*end) if us else end for end in ends)
            roundings = (AT_LEAST, AT_MOST) if result.rounding == AT_MOST else (result.rounding, result.rounding)
            texts = [printed(*end, rounding) for end, rounding in zip((least, most), roundings, strict=True)]
            low, high = (text.partition(" ")[0] for text in texts)
            if Decimal(low) > Decimal(high):
                return f"{significant(least[0], WORKED_DIGITS)} to {significant(most[0], WORKED_DIGITS)} {most[1]}"
            return f"{low} to {texts[-1]}"
    return ""


def amount(value: Figure, unit: str, us: bool, rounding: str = ROUND_HALF_EVEN) -> str:
    """An intermediate value with its unit, to five digits."""
    if isinstance(value, str):
        return value
    if us:
        value, unit = in_us(value, unit)
    gap = "" if unit in ("°", "") else " "
    return f"{significant(value, WORKED_DIGITS, rounding)}{gap}{unit}"


def _exactly(result: Result, us: bool) -> str:
    if not isinstance(result.value, Decimal):
        return ""
    text, printed_text = (
        amount(result.value, result.unit, us, result.rounding),
        value_text(result, us).partition(" (")[0],
    )
    return "" if _span(result, us) or _says_no_more(text, printed_text) else text


def _says_no_more(text: str, other: str) -> bool:
    """True for one amount with more noughts or with fewer decimals. Example: "143.16 in²" beside "143.1607 in²"."""
    (figure, _, unit), (as_printed, _, its_unit) = text.partition(" "), other.partition(" ")
    try:
        to_five, full = Decimal(figure), Decimal(as_printed)
    except InvalidOperation:
        return text == other
    return unit == its_unit and (to_five == full or _decimals(to_five) < _decimals(full))


def _decimals(figure: Decimal) -> int:
    return max(0, -int(figure.as_tuple().exponent))


def stated_rows(asked: Calculation, plain: Mapping[str, Plain], system: System) -> list[Row]:
    """What was typed, each with its unit, for the sheet."""
    rows = []
    for one in asked.inputs:
        value = plain.get(one.name)
        if value is not None:
            unit = shown_unit(one, system) if one.kind is not Kind.TERM else ""
            rows.append((one.label, _typed(one.kind, value, unit, dict(one.options), one.vocabulary)))
    return rows


def _graph_line(line: Mapping[str, Plain]) -> str:
    """Example: "75 °C: 40 mm 1.0 kJ/mm, 60 mm 1.6 kJ/mm". A graph is read off in the units of its standard."""
    points = line["points"]
    pairs = points if isinstance(points, list | tuple) else ()
    said = (
        f"{pair[0]}\u00a0mm\u00a0{pair[1]}\u00a0kJ/mm"
        for pair in pairs
        if isinstance(pair, list | tuple) and len(pair) > 1
    )
    return f"{line['preheat']} °C: {', '.join(said)}"


def _typed(kind: Kind, value: Plain, unit: str, options: Mapping[str, str], vocabulary: str) -> str:
    if isinstance(value, Mapping):
        if kind is Kind.LINES:
            return _graph_line(value)
        if "value" in value:
            return f"{value['value']} {value['unit']}"
        if kind is Kind.RANGE:
            return f"{_typed(kind, value['min'], unit, {}, '')} to {_typed(kind, value['max'], unit, {}, '')}"
        return ", ".join(f"{key}\N{NO-BREAK SPACE}{part}" for key, part in value.items()) + f" {unit}"
    if isinstance(value, list | tuple):
        is_pair = kind is Kind.PAIRS and not any(isinstance(part, list | tuple) for part in value)
        within = "\u00a0/\u00a0" if is_pair else "; "
        return within.join(_typed(kind, part, unit, {}, "") for part in value)
    text = str(value)
    if vocabulary:
        return both_names(vocabulary, text)
    own_unit = any(letter.isalpha() for letter in text) or not unit
    return options.get(text, text) if own_unit else f"{text}{'' if unit == '°' else ' '}{unit}"


def ranges(asked: Calculation, system: System = System.SI) -> list[tuple[str, Interval]]:
    """The inputs with their ranges in the reader's units, for the page."""
    found = [(asked.input(one.field), one.interval) for one in RANGES.get(asked.name, ())]
    return [
        (one.label, interval_in_us(span) if system is System.US and shown_unit(one, system) != one.unit else span)
        for one, span in found
    ]
