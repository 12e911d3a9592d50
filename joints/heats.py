"""The heats that the parts of a joint name, found among the material certificates on file."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from codes.calc.carbon import cet
from codes.calc.result import Refused
from codes.steels import UnknownGrade
from codes.values import Steel
from joints.demands import Stated
from register.held.grades import known_steel
from wps.materials.counting import same_steel
from wps.materials.models import MaterialCertificate

Heats = Mapping[str, tuple[MaterialCertificate, ...]]
"""A heat as `key_of` writes it, to its certificates."""
PARTS = (1, 2)


@dataclass(frozen=True, slots=True)
class PartHeat:
    """One part of a joint and the certificates of the heat it names. `fits`: the one that serves its grade and size."""

    part: int
    named: str
    grade: str
    thickness: Decimal | None
    certificates: tuple[MaterialCertificate, ...]

    @property
    def of_grade(self) -> tuple[MaterialCertificate, ...]:
        """The certificates of the grade that the part asks for; all where the part states none."""
        return tuple(one for one in self.certificates if not self.grade or is_grade(one, self.grade))

    @property
    def fits(self) -> MaterialCertificate | None:
        """The certificate of the grade whose thickness holds the part, else one of the grade; None without any.

        Where a heat is certified more than once, the analysis that hardens most counts: the greatest CET, and before
        it one that does not tell, since that counts as the bound of its grade.
        """
        held = self.of_grade
        near = [one for one in held if holds(one, self.thickness)] or held
        return max(near, key=_hardening, default=None)


def _hardening(one: MaterialCertificate) -> Decimal:
    try:
        return cet(one.elements).figure
    except Refused:
        return Decimal("Infinity")


def heats_on_file(joints: Iterable[Stated]) -> Heats:
    """The certificates of every heat that these joints name. One query, none where no heat is named."""
    wanted = {key_of(named) for joint in joints for named in (joint.heat_1, joint.heat_2) if named}
    found: dict[str, list[MaterialCertificate]] = defaultdict(list)
    for one in MaterialCertificate.objects.all() if wanted else ():
        if key_of(one.heat_number) in wanted:
            found[key_of(one.heat_number)].append(one)
    return {number: tuple(several) for number, several in found.items()}


def part_heats(joint: Stated, heats: Heats) -> tuple[PartHeat, ...]:
    """The parts that name a heat, in order."""
    stated = (
        (part, *(getattr(joint, name) for name in (f"heat_{part}", f"grade_{part}", f"t{part}_mm"))) for part in PARTS
    )
    return tuple(
        PartHeat(part, named, grade, t, heats.get(key_of(named), ())) for part, named, grade, t in stated if named
    )


def key_of(number: str) -> str:
    """A heat number as it is compared. Example: " 48 213a" and "48213A" are one heat."""
    return "".join(number.split()).casefold()


def is_grade(one: MaterialCertificate, grade: str) -> bool:
    """True where the certified grade is the one asked for; the delivery condition aside."""
    try:
        return same_steel(one.grade, known_steel(grade))
    except UnknownGrade:
        return same_steel(one.grade, Steel("", None, grade))


def holds(one: MaterialCertificate, thickness: Decimal | None) -> bool:
    """True where the delivered thickness holds the part, or one of the two is not stated."""
    lo, hi = one.thickness_min_mm, one.thickness_max_mm
    return thickness is None or ((lo is None or lo <= thickness) and (hi is None or thickness <= hi))
