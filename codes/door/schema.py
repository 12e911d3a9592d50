"""The JSON Schema of a question and of an answer, made from the variables and the editions that the register holds."""

from codes.door.calculation import ANSWERED, REFUSED, calculation_schemas
from codes.door.life import EVENT_KEYS
from codes.door.look_up import look_up_schemas
from codes.door.question import UNSTATED_CHOICES
from codes.door.short_forms import short_forms_schema
from codes.editions import Edition, all_editions
from codes.parse import Plain
from codes.terms import term, tokens
from codes.variables import VARIABLES, Kind, Variable
from codes.verdict import Outcome

Schema = dict[str, Plain]
TEXT: Schema = {"type": "string"}
DAY: Schema = {"type": "string", "format": "date"}
FINDING_TEXTS = (
    "variable",
    "wanted",
    "allowed",
    "clause",
    "mark",
    "source",
    "because",
    "tested",
    "unit",
    "reason",
    "missing",
    "needs",
    "sentence",
)


def schemas() -> Schema:
    """One document: `question` and `answer` under `$defs`, a question or a list of questions at the root."""
    kinds: list[Plain] = [{"$ref": f"#/$defs/{name}"} for name in ("question", "calculation", "look_up")]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A question to the welding codes, or a list of questions answered in one run",
        "description": "Exit 0 covered or answered, 1 outside, 2 not stated, 3 bad question or refused. "
        "Lengths in mm, temperatures in degrees Celsius, stresses in MPa, heat input in kJ/mm; a figure without a unit "
        'is in these units in a record made to US figures too. US units are written with the figure: "3/8 in", '
        '"225 °F", "12 in/min", "40 kJ/in", "40 ft³/h", "36 ksi". The terms listed are the tokens; their ISO and AWS '
        "names and common spellings are read too (SMAW, semiautomatic, DCEP, short circuit; aws_position 3G+4G). "
        "A record to a US code says whose figures it is made to in unit_system; US units written with a figure say us.",
        "anyOf": [*kinds, {"type": "array", "items": {"anyOf": kinds}}],
        "$defs": {
            "question": _question(),
            "calculation": calculation_schemas(),
            "look_up": look_up_schemas(),
            "calculated": _calculated(),
            "record": _record(),
            "event": _event(),
            "steel": _steel(),
            "range": _range(),
            "amount": _amount(),
            "short_forms": short_forms_schema(),
            "answer": _answer(),
            "finding": _finding(),
            "variables": {"type": "object", "properties": {n: _variable(v) for n, v in VARIABLES.items()}},
        }
        | {f"tested {known.key}": _tested(known) for known in all_editions()},
    }


def _question() -> Schema:
    switches = {s.key: {"enum": list(s.options), "description": s.question} for e in all_editions() for s in e.switches}
    return {
        "type": "object",
        "description": "One record, or several of which a single one must cover each point of the demand.",
        "properties": {
            "id": TEXT,
            "record": {"$ref": "#/$defs/record"},
            "records": {"type": "array", "items": {"$ref": "#/$defs/record"}, "minItems": 1},
            "demand": {"$ref": "#/$defs/variables"}
            | {"$comment": "a prequalified procedure without a demand is judged by what it writes itself"},
            "on": DAY | {"description": "the date asked about; without it ranges alone are judged"},
            "settings": {"type": "object", "properties": switches, "additionalProperties": False},
            "steel_grades": {"type": "array", "items": _own_grade(), "description": "grades that the firm adds"},
            "unstated": {
                "enum": list(UNSTATED_CHOICES),
                "description": "What-ifs, not proof: 'as tested' takes what the demand leaves out from the test piece; "
                "'not asked' does so too and judges only the variables that the demand names; what the record leaves "
                "out is supposed to match as long as something is judged",
            },
        },
        "oneOf": [{"required": ["record"]}, {"required": ["records"]}],
        "additionalProperties": False,
    }


def _record() -> Schema:
    kinds = sorted({kind for known in all_editions() for kind in known.kinds})
    codes = [name for known in all_editions() for name in (known.key, *known.aliases)]
    pieces: list[Plain] = [{"$ref": f"#/$defs/tested {known.key}"} for known in all_editions()]
    return {
        "type": "object",
        "description": "Tested variables stand in `tested` (one test piece or a list), or directly in the record.",
        "properties": {
            "kind": {"enum": kinds},
            "code": {"type": "string", "examples": codes},
            "label": TEXT,
            "tested": {"anyOf": [*pieces, {"type": "array", "items": {"anyOf": pieces}}]},
            "tested_on": DAY | {"description": "date of welding of the test piece"},
            "results_on": DAY,
            "option": {"type": "string", "description": "revalidation option chosen at issue: a, b or c"},
            "printed_until": DAY,
            "facts": {"type": "object"},
            "events": {"type": "array", "items": {"$ref": "#/$defs/event"}},
        },
        "required": ["code"],
    }


def _tested(known: Edition) -> Schema:
    properties: dict[str, Plain] = {}
    for field in known.fields:
        note = "; ".join(part for part in (field.needed, field.clause, field.help) if part)
        comment: Schema = {"$comment": note} if note else {}
        properties[field.name] = _variable(field.variable) | comment
    needed = [field.name for field in known.fields if field.needed == "always"]
    return {
        "type": "object",
        "title": known.title,
        "properties": properties,
        "description": f"always needed: {', '.join(needed)}" if needed else "",
    }


def _variable(variable: Variable) -> Schema:
    one = _atom(variable)
    title = f"{variable.label} [{variable.unit}]" if variable.unit else variable.label
    described: Schema = {"title": title}
    if variable.help:
        described["description"] = variable.help
    if variable.kind is Kind.STEELS:
        return described | one
    return described | {"anyOf": [one, {"type": "array", "items": one}]}


def _atom(variable: Variable) -> Schema:
    if variable.kind is Kind.NUMBER:
        return {"anyOf": [{"type": "number"}, TEXT, *({"$ref": f"#/$defs/{name}"} for name in ("range", "amount"))]}
    if variable.kind is Kind.STEELS:
        steel: Schema = {"$ref": "#/$defs/steel"}
        pair: Schema = {"type": "array", "items": steel, "minItems": 1, "maxItems": 2}
        return {"anyOf": [steel, pair, {"type": "array", "items": pair}]}
    if variable.kind is Kind.DATE:
        return DAY
    if variable.kind is Kind.TERM:
        return {
            "enum": list(tokens(variable.vocabulary)),
            "$comment": "; ".join(f"{t}: {term(variable.vocabulary, t).words}" for t in tokens(variable.vocabulary)),
        }
    return TEXT


def _steel() -> Schema:
    number: Schema = {
        "type": ["number", "string", "null"],
        "description": "specified minimum yield strength [MPa]",
    }
    facts: Schema = {
        "group": TEXT | {"description": "ISO/TR 15608, for example 1.2"},
        "yield_mpa": number,
        "grade": TEXT,
    }
    return {"anyOf": [TEXT, {"type": "object", "properties": facts, "additionalProperties": False}]}


def _own_grade() -> Schema:
    bands: Schema = TEXT | {"description": "up to mm: MPa, the thinnest first", "examples": ["16:355 40:345", "-:700"]}
    properties: Schema = dict.fromkeys(("name", "group", "source", "standard", "note"), TEXT)
    properties["bands"] = bands
    needed: list[Plain] = ["name", "group", "bands", "source"]
    return {"type": "object", "properties": properties, "required": needed, "additionalProperties": False}


def _range() -> Schema:
    end: Schema = {"type": ["number", "string", "null"]}
    open_end: Schema = {"type": "boolean"}
    return {
        "type": "object",
        "properties": {"min": end, "max": end, "unit": TEXT, "min_exclusive": open_end, "max_exclusive": open_end},
    }


def _amount() -> Schema:
    """A figure with its unit; the same may be written as one text."""
    return {
        "type": "object",
        "properties": {"value": {"type": ["number", "string"], "examples": [9.5, "3/8"]}, "unit": TEXT},
        "required": ["value"],
        "additionalProperties": False,
    }


def _event() -> Schema:
    return {
        "type": "object",
        "description": "ISO: confirmation, revalidation and so on. US codes: use (one weld made; what `details` leaves "
        "out of process, mechanisation and transfer_mode is that of the record, employer that of the test), "
        "confirmation (with used_on, process), renewal (process, passed, full_test, like_production, trained_on), "
        "failed_renewal (process), revocation (why). Each process of a test has its own clock: process names those "
        "that an act was made with, commas between.",
        "properties": {**dict.fromkeys(EVENT_KEYS, TEXT), "on": DAY, "details": {"type": "object"}},
        "required": ["kind", "on"],
    }


def _answer() -> Schema:
    return {
        "type": "object",
        "properties": {
            "outcome": {"enum": [outcome.value for outcome in Outcome]},
            "sentence": TEXT,
            "reasons": {"type": "array", "items": TEXT},
            "records": {"type": "array", "description": "limits earned and validity, record by record"},
            "verdict": {"type": "object"},
            "findings": {"type": "array", "items": {"$ref": "#/$defs/finding"}},
            "uncovered": {"type": "array", "description": "the parts of the demand that no record covers"},
            "uncovered_in_words": {"type": "array", "items": TEXT},
            "error": {"type": "object", "properties": {"field": TEXT, "problem": TEXT}},
        },
    }


def _calculated() -> Schema:
    step: Schema = {"type": "object", "properties": dict.fromkeys(("name", "value", "unit"), TEXT)}
    texts = ("id", "calculation", "value", "unit", "shown", "clause", "mark", "source", "formula", "reason")
    return {
        "type": "object",
        "description": "The answer to a calculation; figures as text. `reason` where the method refuses.",
        "properties": dict.fromkeys(texts, TEXT)
        | {
            "outcome": {"enum": [ANSWERED, REFUSED]},
            "intermediate_values": {"type": "array", "items": step},
            "flags": {"type": "array", "items": TEXT},
        },
    }


def _finding() -> Schema:
    return {
        "type": "object",
        "properties": dict.fromkeys(FINDING_TEXTS, TEXT)
        | {
            "outcome": {"enum": [outcome.value for outcome in Outcome]},
            "margin": {"type": ["string", "null"], "description": "negative: misses by"},
            "readings": {"type": "array", "items": TEXT},
        },
    }
