"""Steel grades: one that nobody knows gets the nearest that is held; one that is missing, that of the neighbours."""

from collections.abc import Iterator
from difflib import SequenceMatcher, get_close_matches

from codes.clauses import Clause, Mark
from codes.steels import UnknownGrade, grades
from joints.weld_data.finding import PRACTICE, Finding
from joints.weld_data.registry import rule
from joints.weld_data.weld import Weld
from register.held.grades import firm_grades, known_steel

OLD = Clause("EN 10025-2:2019", "former designations", Mark.MEMORY, "from memory")
# Designations of earlier standards (DIN 17100, EN 10025:1990, national ones) -> the present grade.
OLD_NAMES = (
    ("ST33", "S185"),
    ("ST37-2", "S235JR"),
    ("RST37-2", "S235JR"),
    ("ST37-3", "S235J2"),
    ("ST44-2", "S275JR"),
    ("ST44-3", "S275J2"),
    ("ST52-3", "S355J2"),
    ("FE360B", "S235JR"),
    ("FE360C", "S235J0"),
    ("FE360D", "S235J2"),
    ("FE430B", "S275JR"),
    ("FE430C", "S275J0"),
    ("FE430D", "S275J2"),
    ("FE510B", "S355JR"),
    ("FE510C", "S355J0"),
    ("FE510D", "S355J2"),
    ("S235JRG2", "S235JR"),
    ("S355J2G3", "S355J2"),
    ("S355J2G4", "S355J2"),
)
_OLD = dict(OLD_NAMES)


@rule("Steel grade that is not known")
def grade_unknown(weld: Weld) -> Iterator[Finding]:
    """A grade that the register does not hold: its present name, or the nearest one."""
    for name in ("grade_1", "grade_2"):
        written = getattr(weld.joint, name)
        if written and not known(written):
            yield _suggested(weld, name, written)


@rule("Steel grade not stated")
def grade_missing(weld: Weld) -> Iterator[Finding]:
    """One part without a grade: that of the other part; both: the one grade of the rest of the assembly, else asked."""
    joint = weld.joint
    for name, other in (("grade_1", joint.grade_2), ("grade_2", joint.grade_1)):
        if getattr(joint, name):
            continue
        if other and known(other):
            yield weld.find(name, "the other part states it, and no other grade is named", PRACTICE, {name: other})
        elif len(weld.steels) == 1:
            reason = "the only grade that the rest of the assembly states"
            yield weld.find(name, reason, PRACTICE, {name: weld.steels[0]})
        else:
            yield weld.find(name, "without the steel no procedure can be judged", PRACTICE)


def known(written: str) -> bool:
    """True for a grade that the register holds."""
    try:
        known_steel(written)
    except UnknownGrade:
        return False
    return True


def present_name(written: str) -> str:
    """The name that a grade has today, or "" for one that is no former name. Example: "St 52-3" is "S355J2"."""
    return _OLD.get(_plain(written), "")


def _plain(written: str) -> str:
    return "".join(written.upper().split()).partition("+")[0]


def _suggested(weld: Weld, name: str, written: str) -> Finding:
    if now := present_name(written):
        reason = f"“{written}” is the former name of {now}; check it against the material certificate"
        return weld.find(name, reason, OLD, {name: now})
    plain = _plain(written)
    held = {grade.name.casefold().replace(" ", ""): grade.name for grade in grades(firm_grades())}
    near = get_close_matches(plain.casefold(), held, n=2, cutoff=0.75)
    if len(near) != 1 and not _nearer(plain.casefold(), near):
        named = f"; near are {', '.join(held[one] for one in near)}" if near else ""
        return weld.find(name, f"“{written}” is no grade that the register holds{named}", PRACTICE)
    reason = f"“{written}” is no grade that the register holds; {held[near[0]]} is spelled most like it"
    return weld.find(name, reason, PRACTICE, {name: held[near[0]]})


def _nearer(written: str, near: list[str]) -> bool:
    """True where the first of two is spelled more like it than the second."""
    if len(near) < 2:
        return False
    first, second = (SequenceMatcher(None, one, written).ratio() for one in near)
    return first > second
