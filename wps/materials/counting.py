"""Which CET counts for a steel of a procedure: that of the heats on file, else the greatest that its grade allows."""

from dataclasses import dataclass
from decimal import Decimal

from codes.calc.carbon import CET, IN_WORKING, cet, equivalent_words
from codes.calc.grade_cet import greatest_cet
from codes.calc.result import Refused
from codes.steels import UnknownGrade
from codes.values import Steel
from register.held.grades import known_steel
from wps.materials.equivalents import missing_elements
from wps.materials.models import MaterialCertificate


@dataclass(frozen=True, slots=True)
class Counting:
    """A CET [%], where it comes from in words, and what to mind."""

    cet: Decimal
    said: str
    minds: tuple[str, ...] = ()


def counting_cet(steel: Steel, thickness: Decimal, any_heat: bool = True) -> Counting:
    """The greatest CET of the heats on file that are of this steel; without any, the bound of its grade.

    `any_heat`: False for a part whose own heat is none of these, so that its grade alone counts.

    A heat whose analysis lacks an element that CET needs does not count, and is named. Raises Refused where neither
    is known.
    """
    known, left_out = _heats(steel) if any_heat else ([], [])
    minds = (f"not counted, CET not known: {', '.join(left_out)}",) if left_out else ()
    if known:
        value, worst = max(known, key=lambda one: one[0])
        many = f", the worst of {len(known)} heats on file" if len(known) > 1 else ""
        return Counting(value, f"CET {equivalent_words(value, IN_WORKING, CET.limits)} of {worst}{many}", minds)
    if steel.yield_mpa is None:
        raise Refused("steel", f"{steel} states no yield strength; put the certificate of its heat on file")
    bound = greatest_cet(steel.group, steel.yield_mpa, thickness)
    most = equivalent_words(bound.figure, IN_WORKING, CET.limits)
    said = f"CET {most}, the greatest that the grade of {steel} allows (no heat on file)"
    return Counting(bound.figure, said, (*minds, *bound.flags))


def heat_cet(one: MaterialCertificate, thickness: Decimal) -> Counting:
    """The CET of one heat; where its analysis lacks an element, the bound of its grade, and that is said.

    Raises Refused where the grade has no bound either, or CET does not serve the analysis.
    """
    missing = missing_elements(CET, one.elements)
    if not missing:
        value = cet(one.elements).figure
        return Counting(value, f"CET {equivalent_words(value, IN_WORKING, CET.limits)} of {one}")
    try:
        steel = known_steel(one.grade)
    except UnknownGrade as unknown:
        raise Refused("steel", f"heat {one.heat_number} states no {', '.join(missing)}, and {unknown}") from None
    bound = greatest_cet(steel.group, steel.yield_mpa or Decimal(0), thickness)
    said = f"CET {equivalent_words(bound.figure, IN_WORKING, CET.limits)}, the greatest that {one.grade} allows"
    return Counting(bound.figure, said, (f"{one} states no {', '.join(missing)}: its grade counts", *bound.flags))


def _heats(steel: Steel) -> tuple[list[tuple[Decimal, str]], list[str]]:
    """(CET, name) of each heat of the steel, and the names of heats that cannot be reckoned."""
    known, left_out = [], []
    for one in MaterialCertificate.objects.all():
        if not same_steel(one.grade, steel):
            continue
        try:
            value = cet(one.elements).figure if not missing_elements(CET, one.elements) else None
        except Refused:
            value = None
        if value is None:
            left_out.append(str(one))
        else:
            known.append((value, str(one)))
    return known, left_out


def same_steel(grade: str, steel: Steel) -> bool:
    """True where a certified grade is the steel of a procedure: the named grade, else its group and yield.

    Example: "S355J2+N" is the steel "group 1.2, 355 MPa", not "group 1.1, 275 MPa".
    """
    try:
        certified = known_steel(grade)
    except UnknownGrade:
        return bool(steel.grade) and grade.casefold().replace(" ", "") == steel.grade.casefold().replace(" ", "")
    if steel.grade:
        try:
            return certified.grade.partition("+")[0] == known_steel(steel.grade).grade.partition("+")[0]
        except UnknownGrade:
            pass
    return (certified.group, certified.yield_mpa) == (steel.group, steel.yield_mpa)
