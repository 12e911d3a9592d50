"""Heats that the parts name, against the certificates on file: is it there, of the grade, the size, the analysis."""

from collections.abc import Iterator
from decimal import Decimal

from codes.calc.carbon import CE, carbon_equivalent, equivalent_words
from codes.calc.grade_cet import CLAUSE as LIMITS
from codes.calc.grade_cet import greatest_cet
from codes.calc.result import Refused
from codes.clauses import Clause, Mark
from codes.steels import UnknownGrade
from codes.values import number
from joints.heats import PartHeat, holds, part_heats
from joints.weld_data.finding import PRACTICE, Finding
from joints.weld_data.registry import rule
from joints.weld_data.weld import Weld
from register.held.grades import known_steel
from wps.materials.equivalents import missing_elements
from wps.materials.models import MaterialCertificate
from wps.materials.words import span_words

TRACED = Clause("EN 1090-2:2018", "5.2 inspection documents and traceability", Mark.MEMORY, "from memory")


@rule("Heat of another grade")
def heat_of_another_grade(weld: Weld) -> Iterator[Finding]:
    """No certificate of the heat is of the grade that the part asks for."""
    for one in part_heats(weld.joint, weld.heats):
        if one.certificates and not one.of_grade:
            are = ", ".join(dict.fromkeys(held.grade for held in one.certificates))
            yield _find(weld, one, f"heat {one.named} is certified as {are}, and part {one.part} asks for {one.grade}")


@rule("Heat of another thickness")
def heat_of_another_thickness(weld: Weld) -> Iterator[Finding]:
    """The part is thinner or thicker than the product that was delivered."""
    for one in part_heats(weld.joint, weld.heats):
        held = one.fits
        if held is not None and one.thickness is not None and not holds(held, one.thickness):
            span = span_words(held.thickness_min_mm, held.thickness_max_mm)
            yield _find(weld, one, f"heat {one.named} was delivered {span} mm thick, part {one.part} is {_mm(one)} mm")


@rule("Heat with more carbon equivalent than its grade allows")
def heat_above_its_grade(weld: Weld) -> Iterator[Finding]:
    """CE of the analysis above the greatest CEV of the grade at that thickness."""
    for one in part_heats(weld.joint, weld.heats):
        held = one.fits
        if held is None or one.thickness is None:
            continue
        most, found = _greatest_cev(held.grade, one.thickness), ce_of(held)
        if most is not None and found is not None and found > most:
            said = f"CE {equivalent_words(found, limits=(most,))} of heat {one.named} is above {number(most)} %"
            yield _find(weld, one, f"{said}, the most that {held.grade} allows at {_mm(one)} mm", LIMITS)


@rule("Heat that is not on file")
def heat_not_on_file(weld: Weld) -> Iterator[Finding]:
    """A heat is named, and no certificate has that number."""
    for one in part_heats(weld.joint, weld.heats):
        if not one.certificates:
            yield _find(weld, one, f"no certificate of heat {one.named} is on file; preheat counts the grade instead")


def ce_of(one: MaterialCertificate) -> Decimal | None:
    """CE of the analysis, None where an element that it needs is not stated."""
    if missing_elements(CE, one.elements):
        return None
    try:
        return carbon_equivalent(one.elements).figure
    except Refused:
        return None


def _greatest_cev(grade: str, thickness: Decimal) -> Decimal | None:
    try:
        steel = known_steel(grade)
        return greatest_cet(steel.group, steel.yield_mpa or Decimal(0), thickness).number("CEV")
    except (UnknownGrade, Refused):
        return None


def _mm(one: PartHeat) -> str:
    return number(one.thickness) if one.thickness is not None else ""


def _find(weld: Weld, one: PartHeat, reason: str, clause: Clause | None = None) -> Finding:
    return weld.find(f"heat_{one.part}", reason, clause or (TRACED if weld.en else PRACTICE))
