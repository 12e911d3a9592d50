"""The preheat that a revision states, held against what steel, thickness, hydrogen and heat input ask for. Advice.

EN 1011-2 method B for procedures to ISO and ASME codes, the prequalified table for AWS D1.1. The worst of everything
that the window allows counts: the greatest thickness, the least heat input, the most hydrogen, the greatest CET.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from django.utils.translation import gettext

from codes.aws_d1_1_prequalified import minimum_preheat
from codes.calc.heat import efficiency
from codes.calc.preheat_cet import LEAST_STEEL_TEMPERATURE, METHOD
from codes.calc.preheat_cet import preheat as method_b
from codes.calc.result import Refused, Result, up_to_five
from codes.parse import BadField
from codes.terms import both_names
from codes.units import System, at_least, at_most, difference_in
from codes.values import Interval, Steel, SteelPair, Value, atoms, number
from codes.verdict import Outcome
from register.calculations.set_out import significant
from register.own_units.words import sentence_in
from wps.materials.counting import Counting, counting_cet, heat_cet
from wps.materials.models import MaterialCertificate
from wps.models import ProcedureRevision
from wps.window import demands

THINNEST, MOST_HEAT = Decimal(10), Decimal("4.0")
"""Ends of method B beyond which the end itself asks for more than the case does."""
AWS = "AWS D1.1"
SOLID_WIRES: Mapping[str, tuple[str, Decimal]] = {
    "131": ("C", Decimal(10)),
    "135": ("C", Decimal(10)),
    "141": ("D", Decimal(5)),
}
"""Process -> hydrogen scale of EN 1011-2, C.2 and its upper end [ml/100 g]. Solid wires are sold without a class.

Source: a public help page on preheat (wires under gas C, clean ones D; TIG D); the higher of what it names.
"""
_WORDS: Mapping[Outcome, str] = {
    Outcome.COVERED: "Preheat enough",
    Outcome.OUTSIDE: "Preheat too low",
    Outcome.NOT_STATED: "Preheat not stated",
}
_HYDROGEN = re.compile(r"\bH(4|5|8|10|15|16)\b")


@dataclass(frozen=True, slots=True)
class Advice:
    """The answer for one process: the method that governs, what it rests on, and what to mind. Units: °C."""

    process: str
    outcome: Outcome
    sentence: str
    method: str
    stated: Decimal | None = None
    asked: Decimal | None = None
    basis: tuple[str, ...] = ()
    minds: tuple[str, ...] = ()
    clause: str = ""

    @property
    def name(self) -> str:
        """The process by both its names."""
        return both_names("process", self.process) if self.process else "the procedure"

    @property
    def word(self) -> str:
        """The answer in words of its own: advice never says Covered or Outside, which are words of the judgement."""
        if self.outcome is Outcome.NOT_STATED and self.asked is None:
            return "Preheat not reckoned"
        return _WORDS[self.outcome]


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a joint: its steel, thickness [mm], and the certificate of its heat where that is known.

    `any_heat`: True where the heats on file of its steel may stand for it; False where it names one that is not there.
    """

    steel: Steel
    thickness: Decimal
    heat: MaterialCertificate | None = None
    any_heat: bool = True


class Missing(ValueError):
    """Something that the method needs and the window does not state."""


def preheat_advice(
    revision: ProcedureRevision, parts: tuple[Part, ...] = (), system: System = System.SI
) -> tuple[Advice, ...]:
    """An answer for each process of the revision; none where the window cannot be read.

    `parts`: both parts of one joint, whose steels, thicknesses and heats then count in place of the window's.
    `system`: of the words; it is reckoned in SI.
    """
    try:
        each = demands(revision)
    except BadField:
        return ()
    of_joint: dict[str, Value] = {}
    if parts:
        of_joint = {"parent_t": tuple(part.thickness for part in parts)}
        of_joint["steels"] = SteelPair(parts[0].steel, parts[-1].steel)
    return tuple(
        _advice(revision.code, process, {**values, **of_joint}, parts, system) for process, values in each.items()
    )


def _advice(
    code: str, process: str, values: Mapping[str, Value], parts: tuple[Part, ...] = (), system: System = System.SI
) -> Advice:
    table = code.startswith(AWS)
    method = f"{AWS}, Table 5.8" if table else METHOD
    stated = min(_numbers(values, "preheat"), default=None)
    try:
        asked, basis, minds, clause = (_by_table if table else _by_method_b)(process, values, parts)
    except Missing as missing:
        return Advice(
            process,
            Outcome.NOT_STATED,
            sentence_in(f"{method} cannot be reckoned: {missing}.", system),
            method,
            stated,
        )
    except Refused as refusal:
        said = sentence_in(f"{method} does not serve this case: {refusal.problem}.", system)
        return Advice(process, Outcome.NOT_STATED, said, method, stated)
    minds += _code_minds(code)
    stated_ranges = [one for value in values.values() for one in atoms(value) if isinstance(one, Interval)]
    basis, minds = (tuple(sentence_in(line, system, *stated_ranges) for line in lines) for lines in (basis, minds))
    outcome, sentence = _judged(stated, asked, method, system)
    return Advice(process, outcome, sentence, method, stated, asked, basis, minds, clause)


def _judged(stated: Decimal | None, asked: Decimal | None, method: str, system: System) -> tuple[Outcome, str]:
    want = (
        f"{method} asks for {at_least(asked, '°C', system)}" if asked is not None else f"{method} asks for no preheat"
    )
    if stated is None:
        covered = Outcome.COVERED if asked is None else Outcome.NOT_STATED
        return covered, f"{want}; the procedure states none."
    if asked is None or stated >= asked:
        return Outcome.COVERED, f"{want}; the procedure states {at_most(stated, '°C', system)}."
    less = difference_in(asked - stated, "°C", system, ROUND_CEILING)
    return Outcome.OUTSIDE, f"{want}; the procedure states {at_most(stated, '°C', system)}, {less} less."


Answer = tuple[Decimal | None, tuple[str, ...], tuple[str, ...], str]


def _by_method_b(process: str, values: Mapping[str, Value], parts: tuple[Part, ...]) -> Answer:
    thickness, heat = _thickness(values), _heat(process, values)
    hydrogen, assumed = _hydrogen(process, values)
    counting = max(_countings(values, parts, thickness), key=_cet)
    strengths = [s.yield_mpa for pair in _pairs(values) for s in pair if s.yield_mpa is not None]
    result = method_b(
        max(thickness, THINNEST),
        hydrogen,
        min(heat, MOST_HEAT),
        cet=counting.cet,
        yield_mpa=max(strengths, default=None),
    )
    basis = (
        counting.said,
        f"thickness {number(thickness)} mm",
        f"hydrogen {number(hydrogen)} ml/100 g",
        f"heat input {significant(heat, 4)} kJ/mm",
        f"Tp {significant(result.figure, 4)} °C",
    )
    minds = (*assumed, *_ends(thickness, heat), *counting.minds, *result.flags)
    return _least(result), basis, minds, str(result.clause)


def _countings(values: Mapping[str, Value], parts: tuple[Part, ...], thickness: Decimal) -> Iterable[Counting]:
    """The CET of each steel; of a part that names its heat, that of the heat."""
    if not parts:
        return [counting_cet(steel, thickness) for pair in _pairs(values) for steel in pair]
    return [heat_cet(p.heat, p.thickness) if p.heat else counting_cet(p.steel, p.thickness, p.any_heat) for p in parts]


def _cet(counting: Counting) -> Decimal:
    return counting.cet


def _least(result: Result) -> Decimal | None:
    found = result.figure
    return up_to_five(found) if found > LEAST_STEEL_TEMPERATURE else None


def _ends(thickness: Decimal, heat: Decimal) -> tuple[str, ...]:
    """Where the case lies beyond an end that asks for more than the case does: own rule, on the safe side."""
    minds = []
    if thickness < THINNEST:
        minds.append(f"reckoned at {THINNEST} mm, where method B begins; thinner plate needs no more")
    if heat > MOST_HEAT:
        minds.append(f"reckoned at {MOST_HEAT} kJ/mm, where method B ends; more heat input needs no more preheat")
    return tuple(minds)


def _by_table(process: str, values: Mapping[str, Value], parts: tuple[Part, ...]) -> Answer:
    thickness, pairs = _thickness(values), _pairs(values)
    stated = _stated_hydrogen(values)
    system = next((atom for atom in atoms(values.get("unit_system", "si")) if isinstance(atom, str)), "si")
    found = [
        minimum_preheat(pair, thickness, process, stated is not None, system, hydrogen_ml=stated) for pair in pairs
    ]
    unlisted = [one for one in found if one.least is None]
    if unlisted:
        raise Missing(unlisted[0].because)
    governing = max(found, key=lambda one: one.least or Decimal(0))
    # What the table asks for at 32 °F is no preheat.
    asked = governing.least if governing.least and governing.least > 0 else None
    minds = ("covered electrodes count as other than low-hydrogen: no hydrogen class is stated",)
    return asked, (governing.because,), () if stated or process != "111" else minds, str(governing.clause)


def _pairs(values: Mapping[str, Value]) -> tuple[SteelPair, ...]:
    pairs = tuple(atom for atom in atoms(values.get("steels", ())) if isinstance(atom, SteelPair))
    if not pairs:
        raise Missing(gettext("the parent materials are not stated"))
    return pairs


def _thickness(values: Mapping[str, Value]) -> Decimal:
    found = max(_numbers(values, "parent_t"), default=None)
    if found is None:
        raise Missing(gettext("the greatest parent thickness is not stated"))
    return found


def _stated_hydrogen(values: Mapping[str, Value]) -> Decimal | None:
    """The most hydrogen of a class that is stated, or that a filler's designation ends in."""
    words = [atom for atom in atoms(values.get("hydrogen_class", ())) if isinstance(atom, str)]
    if not words:
        designations = [a for a in atoms(values.get("filler_designation", ())) if isinstance(a, str)]
        found = [_HYDROGEN.search(text) for text in designations]
        words = [match[0] for match in found if match] if all(found) else []
    return max((Decimal(word.lstrip("H")) for word in words), default=None)


def _hydrogen(process: str, values: Mapping[str, Value]) -> tuple[Decimal, tuple[str, ...]]:
    """The hydrogen that counts [ml/100 g], and what was assumed of it."""
    found = _stated_hydrogen(values)
    if found is not None:
        return found, ()
    if process not in SOLID_WIRES:
        raise Missing(gettext("the hydrogen class of the consumable is not stated; state it among the consumables"))
    scale, most = SOLID_WIRES[process]
    assumed = (
        f"no hydrogen class is stated: {most} ml/100 g counts, the upper end of scale {scale}, where solid wire of "
        "this process is usually placed; state the class that its maker certifies to reckon with less"
    )
    return most, (assumed,)


def _heat(process: str, values: Mapping[str, Value]) -> Decimal:
    """The least heat input with k."""
    found = min(_numbers(values, "heat_input", least=True), default=None)
    if found is None:
        raise Missing(gettext("the heat input is not known; give the runs current, voltage and travel speed"))
    if "arc_energy" in atoms(values.get("heat_measure", ())):
        k = efficiency(process)
        if k is None:
            raise Missing(gettext("no thermal efficiency is on file for process %(process)s") % {"process": process})
        return found * k
    return found


def _numbers(values: Mapping[str, Value], name: str, least: bool = False) -> Iterable[Decimal]:
    """The figures stated; of a range its upper end, or its lower one where the least counts or there is no upper."""
    for atom in atoms(values.get(name, ())):
        if isinstance(atom, Decimal):
            yield atom
        elif isinstance(atom, Interval):
            ends = (atom.lo, atom.hi) if least or name == "preheat" else (atom.hi,)
            known = next((end for end in ends if end is not None), None)
            if known is not None:
                yield known


def _code_minds(code: str) -> tuple[str, ...]:
    if code.startswith("ASME"):
        return ("ASME IX itself asks for no preheat: the construction code does, and it governs",)
    return ()
