"""What `python3 -m codes` says of itself to somebody who has nothing else: usage, questions, fields, terms."""

import json
from collections.abc import Iterator, Sequence
from difflib import get_close_matches
from textwrap import wrap

from codes.calc.calculation import Input
from codes.calc.registry import calculations
from codes.door.examples import EXAMPLES
from codes.door.look_up import LOOK_UPS
from codes.editions import Edition, Field, UnknownEdition, all_editions, edition
from codes.parse import BadField
from codes.terms import term, tokens
from codes.variables import VARIABLES, Kind, Variable

USAGE = """\
Usage: python3 -m codes < question.json      one question in JSON on standard input, or a list of them
       python3 -m codes --example NAME       a whole question to copy and change; without a name, their list
       python3 -m codes --fields CODE        what a record to a code states, and what a joint or WPS is asked for
       python3 -m codes --terms FIELD        the words that a field takes
       python3 -m codes --look-ups           tables that are asked by name, and what each wants
       python3 -m codes --calculations       calculations, and what each wants
       python3 -m codes --schema             all of it as JSON Schema

Try:   python3 -m codes --example record | python3 -m codes

A question sets a record, or several (`records`), against a `demand`: what a joint asks, or the window of a WPS with
ranges as {"min": 6, "max": 20}. A date in `on` asks for validity too. Lengths are in mm, temperatures in °C, stresses
in MPa, heat input in kJ/mm; US units are written with the figure: "3/8 in", "225 °F", "36 ksi". ISO and AWS names are
read.
`settings` chooses the reading of a doubtful rule, `steel_grades` adds a firm's own, `unstated` asks a what-if.

The answer: outcome and sentence; every finding with what was wanted, allowed, margin, clause and how sure it is; the
limits that each record earns; the parts of a window that no record covers.
Exit code: 0 covered or answered, 1 outside, 2 not stated, 3 bad question or a method that refuses.

Codes held (kind of record):
"""
OPTIONS = ("--help", "--example", "--fields", "--terms", "--look-ups", "--calculations", "--schema")


def help_text(arguments: list[str]) -> str:
    """The text for an option other than --schema. Raises BadField naming what is known."""
    option, rest = arguments[0], " ".join(arguments[1:])
    if option in ("-h", "--help"):
        return USAGE + "\n".join(_codes())
    if option in ("--example", "--examples"):
        return _example(rest) if rest else "\n".join(f"{name:18} {one.asks}" for name, one in EXAMPLES.items())
    if option == "--fields":
        return "\n".join(_fields(rest))
    if option == "--terms":
        return "\n".join(_terms(rest))
    if option == "--look-ups":
        return "\n".join(_look_ups())
    if option == "--calculations":
        return "\n".join(_calculations())
    raise BadField("arguments", f"{option[:40]} is not known; use one of: {', '.join(OPTIONS)}")


def _codes() -> Iterator[str]:
    for known in all_editions():
        yield f"  {known.key:30} {', '.join(known.kinds)}: {known.title}"


def _example(name: str) -> str:
    if name not in EXAMPLES:
        raise BadField("example", f'"{name[:40]}" is not known; use one of: {", ".join(EXAMPLES)}')
    return json.dumps(EXAMPLES[name].question, ensure_ascii=False, indent=1)


def _fields(name: str) -> Iterator[str]:
    known = _edition(name)
    yield f'{known.key}: {known.title}. `code` is "{known.key}", `kind` is "{known.kinds[0]}".'
    yield ""
    yield "A record states in `tested`:"
    yield from (_field(field) for field in known.fields)
    yield ""
    yield "A demand is asked for:"
    yield from (f"  {one.name:26} {_said(one)}" for one in map(VARIABLES.__getitem__, known.demand))
    if known.switches:
        yield ""
        yield "Doubtful rules, in `settings`:"
        for switch in known.switches:
            yield f"  {switch.key}: {switch.question}"
            yield from (
                f"      {option}{' (unless set)' if option == switch.default else ''}: {meaning}"
                for option, meaning in switch.options.items()
            )


def _edition(name: str) -> Edition:
    try:
        return edition(name)
    except UnknownEdition as unknown:
        raise BadField("fields", str(unknown)) from None


def _field(field: Field) -> str:
    needed = f"{'' if field.needed.startswith('always') else 'for '}{field.needed}; " if field.needed else ""
    help_ = f"; {field.help}" if field.help else ""
    return f"  {field.name:26} {needed}{_said(field.variable)}{help_}"


def _said(variable: Variable) -> str:
    """What a variable is, and what it takes."""
    if variable.kind is not Kind.TERM:
        takes = f" [{variable.unit}]" if variable.unit else ""
        return f"{variable.label}{takes}"
    terms = tokens(variable.vocabulary)
    shown = ", ".join(terms) if len(terms) <= 6 else f"--terms {variable.name}"
    return f"{variable.label}: {shown}"


def _terms(name: str) -> Iterator[str]:
    variable = VARIABLES.get(name)
    if variable is None or variable.kind is not Kind.TERM:
        worded = [one.name for one in VARIABLES.values() if one.kind is Kind.TERM]
        near = get_close_matches(name, worded, n=3)
        hint = f"nearest: {', '.join(near)}" if near else f"use one of: {', '.join(worded)}"
        raise BadField("terms", f'"{name[:40]}" is no field that takes words; {hint}')
    yield f"{variable.label}:"
    for token in tokens(variable.vocabulary):
        found = term(variable.vocabulary, token)
        names = " · ".join(dict.fromkeys(part for part in (found.iso, found.aws) if part))
        yield f"  {token:22} {found.words}{f'  ({names})' if names else ''}"


def _look_ups() -> Iterator[str]:
    yield 'Asked as {"look_up": NAME, ...}, with the inputs beside it.'
    for one in LOOK_UPS.values():
        yield from _wants(one.name, one.label, one.inputs)


def _calculations() -> Iterator[str]:
    yield 'Asked as {"calculation": NAME, "inputs": {...}}.'
    for one in calculations().values():
        yield from _wants(one.name, one.label, one.inputs)


def _wants(name: str, label: str, inputs: Sequence[Input]) -> Iterator[str]:
    yield f"  {name}: {label}"
    yield from wrap(", ".join(map(_input, inputs)), 112, initial_indent="      ", subsequent_indent="      ")


def _input(one: Input) -> str:
    when = {"always": "", "": " (may be left out)"}.get(one.needed, f" (if {one.needed})")
    options = f" = {' or '.join(one.options)}" if one.options else ""
    return f"{one.name}{f' [{one.unit}]' if one.unit else ''}{options}{when}"
