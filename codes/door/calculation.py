"""A calculation as a question: {"calculation": name, "inputs": {...}} to value, unit and every intermediate value.

A method that refuses is an answer of its own kind, with the reason; `units` "us" shows the figures in US units.
"""

from collections.abc import Mapping

from codes.calc.calculation import Input, Kind
from codes.calc.conversions import in_us
from codes.calc.exact import kept
from codes.calc.registry import calculate, calculation, calculations
from codes.calc.result import Figure, Refused, Result, printed
from codes.parse import BadField, Plain
from codes.terms import tokens
from codes.units import System
from codes.values import number

Answer = dict[str, Plain]
KEYS = ("id", "calculation", "inputs", "units")
ANSWERED, REFUSED = "answered", "refused"
AMOUNT: Answer = {
    "anyOf": [
        {"type": ["number", "string"]},
        {"type": "object", "properties": {"value": {"type": ["number", "string"]}, "unit": {"type": "string"}}},
    ]
}


def answer_calculation(plain: Mapping[str, Plain]) -> Answer:
    """The answer to one calculation. Raises BadField where the question cannot be read."""
    for name in plain:
        if name not in KEYS:
            raise BadField(name, f"is not known here; known: {', '.join(KEYS)}")
    asked = calculation(str(plain["calculation"]))
    inputs = plain.get("inputs", {})
    if not isinstance(inputs, Mapping):
        raise BadField("inputs", "must be an object")
    system = _system(plain.get("units", System.SI.value))
    head: Answer = {"id": str(plain["id"])} if plain.get("id") else {}
    head["calculation"] = asked.name
    try:
        return head | result_to_plain(calculate(asked.name, inputs), system)
    except BadField as error:
        raise BadField(f"inputs.{error.field}", error.problem) from None
    except Refused as error:
        problem: Answer = {"field": f"inputs.{error.field}", "problem": error.problem}
        return head | {"outcome": REFUSED, "reason": str(error), "error": problem}


def _system(plain: Plain) -> System:
    if plain not in [system.value for system in System]:
        raise BadField("units", "must be si or us")
    return System(plain)


def result_to_plain(result: Result, system: System = System.SI) -> Answer:
    """A result as plain data; numbers as text, to 28 digits."""
    us = system is System.US and not result.fixed_units
    value, unit = _figure(result.value, result.unit, us)
    return {
        "outcome": ANSWERED,
        "value": value,
        "unit": unit,
        "shown": _shown(result, us),
        "intermediate_values": [
            dict(zip(("name", "value", "unit"), (step.name, *_figure(step.value, step.unit, us)), strict=True))
            for step in result.steps
        ],
        "flags": list(result.flags),
        "clause": str(result.clause),
        "mark": result.mark.value,
        "source": result.clause.source,
        "formula": result.formula,
    }


def _shown(result: Result, us: bool) -> str:
    """As printed; a figure rounded in a way of its own (preheat upwards) keeps its SI form."""
    if not us or isinstance(result.value, str) or not result.as_its_unit:
        return result.shown
    return printed(*in_us(result.value, result.unit), result.rounding)


def _figure(value: Figure, unit: str, us: bool) -> tuple[str, str]:
    if isinstance(value, str):
        return value, unit
    if us:
        converted, unit = in_us(value, unit)
        value = kept(converted)
    return number(value), unit


def calculation_schemas() -> Answer:
    """The schema of a calculation question, with one schema of inputs for each calculation."""
    return {
        "oneOf": [
            {
                "type": "object",
                "title": f"{asked.label}" + (f" [{asked.unit}]" if asked.unit else ""),
                "properties": {
                    "id": {"type": "string"},
                    "calculation": {"const": name},
                    "inputs": inputs_schema(asked.inputs),
                    "units": {"enum": [system.value for system in System]},
                },
                "required": ["calculation", "inputs"],
                "additionalProperties": False,
            }
            for name, asked in calculations().items()
        ]
    }


def inputs_schema(inputs: tuple[Input, ...]) -> Answer:
    """The schema of the inputs of a calculation or a look-up."""
    return {
        "type": "object",
        "properties": {one.name: _input(one) for one in inputs},
        "required": [one.name for one in inputs if one.needed == "always"],
        "additionalProperties": False,
    }


def _input(one: Input) -> Answer:
    described: Answer = {"title": f"{one.label} [{one.unit}]" if one.unit else one.label}
    notes = [
        part for part in (one.help, "" if one.needed == "always" else one.needed and f"needed: {one.needed}") if part
    ]
    if notes:
        described["description"] = "; ".join(notes)
    return described | _kind(one)


def _kind(one: Input) -> Answer:
    items: dict[Kind, Answer] = {
        Kind.NUMBER: AMOUNT,
        Kind.NUMBERS: {"type": "array", "items": AMOUNT},
        Kind.RANGE: {"type": ["object", "array", "number", "string"], "description": '{"min": .., "max": ..}'},
        Kind.TERM: {"enum": list(tokens(one.vocabulary) if one.vocabulary else one.options)},
        Kind.TERMS: {"type": ["array", "string"], "items": {"type": "string"}},
        Kind.YES_NO: {"enum": ["yes", "no", True, False]},
        Kind.TEXT: {"type": "string"},
        Kind.ANALYSIS: {"type": "object", "additionalProperties": {"type": ["number", "string", "null"]}},
        Kind.VECTOR: {"type": "array", "items": AMOUNT, "minItems": 3, "maxItems": 3},
        Kind.PAIRS: {"type": "array", "items": {"type": "array", "items": AMOUNT, "minItems": 2, "maxItems": 2}},
        Kind.LINES: {"type": "array", "items": {"type": "object", "required": ["preheat", "points"]}},
    }
    return items[one.kind]
