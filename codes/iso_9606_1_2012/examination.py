"""ISO 9606-1:2012, 6.4, 6.5 and Table 13: the tests that a certificate must show, and those it still lacks.

Results are text: "accepted", "rejected", or blank where not performed. Keys: vt, rt, ut, bend, fracture,
notched_tensile, supplementary_vt, supplementary_fracture; numbers of bend specimens as bend_root, bend_face,
bend_side. Thickness in mm.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal as D

from codes.clauses import Clause
from codes.editions import Tested
from codes.iso_9606_1_2012.clauses import IIW_INDIA, clause, doubtful, partly
from codes.iso_9606_1_2012.tested import figure, figures, is_butt, on_pipe, terms, yes

Results = Mapping[str, str]

NAMES = {
    "vt": "visual test (VT)",
    "rt": "radiographic test (RT)",
    "ut": "ultrasonic test (UT)",
    "bend": "bend test",
    "fracture": "fracture test",
    "notched_tensile": "notched tensile test",
    "supplementary_vt": "visual test of the supplementary fillet",
    "supplementary_fracture": "fracture test of the supplementary fillet",
}
TABLE_13 = partly("6.4, Table 13", IIW_INDIA)
EXTRA = clause("6.5.2.4")
BENDS = doubtful("6.5.2.3")
SUPPLEMENTARY = clause("5.4 e, 6.4, Table 13")

# Gas-shielded solid and metal-cored wire and oxy-acetylene: lack of fusion hides from a radiograph.
EXTRA_AFTER_VOLUMETRIC = ("131", "135", "138", "311")
UT_FROM = D(8)
SIDE_BENDS_FROM = D(12)
NOTCHED_TENSILE_TO = D(25)


@dataclass(frozen=True, slots=True)
class MissingTest:
    """A test that the certificate does not show as performed and accepted: which, why, and where it is asked."""

    test: str
    because: str
    clause: Clause


def missing_tests(tested: Tested, results: Results) -> tuple[MissingTest, ...]:
    """The tests still lacking; empty where the certificate shows all of them accepted.

    Example: a butt weld by 135 with VT and RT accepted still lacks a bend or fracture test.
    """
    lacking = [*_rejected(results), *_needed(results, "vt", "every test piece", TABLE_13)]
    if is_butt(tested):
        lacking += [*_butt_route(tested, results), *_extra(tested, results), *_bend_specimens(tested, results)]
    else:
        lacking += _fillet_route(tested, results)
    if yes(tested, "supplementary_fillet"):
        why = "the supplementary fillet is tested as a fillet weld"
        lacking += _needed(results, "supplementary_vt", why, SUPPLEMENTARY)
        lacking += _needed(results, "supplementary_fracture", why, SUPPLEMENTARY)
    return tuple(lacking)


def accepted(results: Results, test: str) -> bool:
    """True where the test is on file as accepted."""
    return results.get(test, "").strip().casefold() == "accepted"


def _rejected(results: Results) -> list[MissingTest]:
    return [
        MissingTest(name, f"the {name} was rejected; a new test piece is needed", clause("8"))
        for test, name in NAMES.items()
        if results.get(test, "").strip().casefold() == "rejected"
    ]


def _needed(results: Results, test: str, why: str, where: Clause) -> list[MissingTest]:
    return [] if accepted(results, test) else [MissingTest(NAMES[test], why, where)]


def _butt_route(tested: Tested, results: Results) -> list[MissingTest]:
    if any(accepted(results, test) for test in ("rt", "bend", "fracture")):
        return []
    if accepted(results, "ut"):
        return _ut_problem(tested)
    if accepted(results, "notched_tensile") and _small_pipe(tested):
        return []
    options = "RT, UT, bend or fracture test"
    return [MissingTest(options, "a butt weld needs one of them accepted", TABLE_13)]


def _ut_problem(tested: Tested) -> list[MissingTest]:
    thickness = _thickness(tested)
    if thickness is not None and thickness >= UT_FROM:
        return []
    stated = "its thickness is not stated" if thickness is None else f"this one is {thickness} mm"
    return [MissingTest("RT, bend or fracture test", f"UT replaces RT from 8 mm only; {stated}", TABLE_13)]


def _extra(tested: Tested, results: Results) -> list[MissingTest]:
    """After RT or UT some processes need two bend or fracture specimens as well."""
    processes = [p for p in terms(tested, "process") if p in EXTRA_AFTER_VOLUMETRIC]
    volumetric = accepted(results, "rt") or accepted(results, "ut")
    bent = accepted(results, "bend") or accepted(results, "fracture")
    if not processes or not volumetric or bent or (accepted(results, "notched_tensile") and _small_pipe(tested)):
        return []
    why = f"RT or UT of a butt weld by {', '.join(processes)} is not enough"
    return [MissingTest("bend or fracture test, two specimens", why, EXTRA)]


def _bend_specimens(tested: Tested, results: Results) -> list[MissingTest]:
    """Where only bending was done: two root and two face bends, or four side bends from 12 mm."""
    others = any(accepted(results, test) for test in ("rt", "ut", "fracture"))
    if others or not accepted(results, "bend"):
        return []
    root, face, side = (_count(results, f"bend_{which}") for which in ("root", "face", "side"))
    thickness = _thickness(tested)
    thick = thickness is not None and thickness >= SIDE_BENDS_FROM
    if (root >= 2 and face >= 2) or (thick and side >= 4):
        return []
    wanted = "2 root and 2 face bends" + (" or 4 side bends" if thick else "")
    return [MissingTest(wanted, f"on file: {root} root, {face} face, {side} side", BENDS)]


def _count(results: Results, name: str) -> int:
    text = results.get(name, "").strip()
    return int(text) if text.isdecimal() else 0


def _fillet_route(tested: Tested, results: Results) -> list[MissingTest]:
    if accepted(results, "fracture") or (on_pipe(tested) and accepted(results, "rt")):
        return []
    options = "fracture test or RT" if on_pipe(tested) else "fracture test"
    return [MissingTest(options, "a fillet weld or branch connection needs it", TABLE_13)]


def _thickness(tested: Tested) -> D | None:
    sizes = figures(tested, "deposit_t")
    return sum(sizes, D(0)) if sizes else figure(tested, "parent_t")


def _small_pipe(tested: Tested) -> bool:
    diameter = figure(tested, "diameter")
    return on_pipe(tested) and diameter is not None and diameter <= NOTCHED_TENSILE_TO
