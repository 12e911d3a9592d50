"""EN 1090-2, 7.4.1.2: tests that a structure asks for on top of the procedure test."""

from collections.abc import Iterator
from dataclasses import dataclass

from codes.clauses import Clause, Mark
from codes.editions import Tested
from codes.en_1090_2_2018.facts import decimal, term
from codes.en_1090_2_2018.figures import MAGAZINE, QUALIFIED, Figures, in_classes
from codes.en_1090_2_2018.steel_sets import InGroups, steels
from codes.limits import Limit, Nothing, Unrecorded, When, Within, when_is
from codes.values import Interval, number
from codes.variables import label_of
from codes.words import lower_first

GATE = "extra tests: "
REF = "7.4.1.2"


@dataclass(frozen=True, slots=True)
class _Evidence:
    """A yes/no fact of the record that some joints ask for."""

    fact: str
    variable: str
    reason: str
    because: str
    clause: Clause
    when: tuple[When, ...]


def extra_test_limits(piece: Tested, figures: Figures) -> Iterator[Limit]:
    """Micro section, cruciform test, proven penetration; primer and impact by their figures."""
    if term(piece, "qualification_route") == "none":
        return
    for evidence in _evidence(figures):
        yield from _asked(piece, evidence)
    yield from _primer(piece, figures)
    yield from _impact(piece, figures)


def _evidence(figures: Figures) -> Iterator[_Evidence]:
    classes = in_classes(*QUALIFIED)
    part = figures.clause(REF, Mark.PART, MAGAZINE)
    yield _Evidence(
        "micro_section",
        "steels",
        "micro_section",
        "quenched and tempered steels (EN 10025-6) ask for a micro section of weld, fusion line and heat-affected zone",
        part,
        (classes, steels(InGroups(("3",)))),
    )
    # The clause asks only where a <= 0.5 t. Strict: asked of every such fillet, as the throat may not be stated.
    yield _Evidence(
        "cruciform_tested",
        "steels",
        "cruciform_test",
        f"fillet welds loaded across in {figures.cruciform} ask for a cruciform tensile test (ISO 9018), three "
        "specimens; asked here for every throat, the clause asks only where a is at most 0.5 t",
        figures.clause(REF, figures.cruciform_mark, figures.cruciform_source),
        (classes, when_is("weld_type", "fillet"), steels(figures.cruciform), when_is("transverse_load", "yes")),
    )
    yield _Evidence(
        "penetration_proven",
        "deep_penetration",
        "penetration_test",
        "a throat that counts penetration asks for macros of the procedure test that prove it",
        figures.clause(REF, Mark.MEMORY),
        (classes, when_is("deep_penetration", "yes")),
    )


def _asked(piece: Tested, evidence: _Evidence) -> Iterator[Limit]:
    answer = term(piece, evidence.fact)
    if answer == "yes":
        return
    if answer is None:
        field = f"{lower_first(label_of(evidence.fact))} (yes or no)"
        allowed: Unrecorded | Nothing = Unrecorded(field)
    else:
        allowed = Nothing()
    because = f"{GATE}{evidence.because}"
    yield Limit(
        evidence.variable, allowed, evidence.clause, because, evidence.when, reason=evidence.reason, tested=answer or ""
    )


def _primer(piece: Tested, figures: Figures) -> Iterator[Limit]:
    """Welding over shop primer: up to the thickness that was tested."""
    clause = figures.clause(REF, Mark.PART, MAGAZINE)
    when = (in_classes(*QUALIFIED), when_is("over_primer", "yes"))
    tested = decimal(piece, "primer_tested")
    if tested is None:
        field = "the primer thickness tested"
        yield Limit("over_primer", Unrecorded(field), clause, when=when, reason="primer_test")
        return
    because = f"{GATE}tested over {number(tested)} µm of primer: not over more"
    allowed = Within(Interval(None, tested, "µm"))
    yield Limit("primer_thickness", allowed, clause, because, when, reason="primer_test", tested=f"{number(tested)} µm")


def _impact(piece: Tested, figures: Figures) -> Iterator[Limit]:
    """Impact tests at the lowest temperature that the material qualities joined ask for."""
    clause = figures.clause(REF, Mark.PART, MAGAZINE)
    when = (in_classes(*QUALIFIED), when_is("impact_required", "yes"))
    tested = decimal(piece, "impact_tested_at")
    if tested is None:
        field = "the temperature of its impact tests"
        yield Limit("impact_required", Unrecorded(field), clause, when=when, reason="impact_test")
        return
    because = f"{GATE}impact tests made at {number(tested)} °C: not for colder requirements"
    allowed = Within(Interval(tested, None, "°C"))
    yield Limit(
        "impact_temperature", allowed, clause, because, when, reason="impact_test", tested=f"{number(tested)} °C"
    )
