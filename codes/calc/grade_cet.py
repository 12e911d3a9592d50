"""The greatest CET that the limits of a steel grade allow, for want of the analysis of a heat. Units: %, mm.

EN 10025-2 limits carbon, copper and the carbon equivalent CEV of its grades, not CET. The composition within these
limits that has the greatest CET: carbon at its limit, then copper, then manganese until CEV is used up (of the
elements, these raise CET most for what they take of CEV). No steel of the grade can have more.
"""

from decimal import Decimal

from codes.calc.exact import exact
from codes.calc.result import Refused, Result, Working, positive
from codes.clauses import Clause, Mark
from codes.values import number

CLAUSE = Clause(
    "EN 10025-2:2019",
    "limits of the ladle analysis and of CEV; greatest CET within them",
    Mark.OWN,
    "figures from memory, of the quality of the grade that is allowed most carbon (JR)",
)
FORMULA = "CET = C + Cu/20 + Mn/10 with Mn = 6·(CEV − C − Cu/15)"
COPPER = Decimal("0.55")
# Specified minimum yield [MPa] -> rows (thickness up to [mm], C, Mn, CEV). The first row that reaches the thickness.
Row = tuple[str, str, str, str]
GRADES: dict[int, tuple[Row, ...]] = {
    235: (("40", "0.17", "1.40", "0.35"), ("150", "0.20", "1.40", "0.38"), ("250", "0.20", "1.40", "0.40")),
    275: (("40", "0.21", "1.50", "0.40"), ("150", "0.22", "1.50", "0.42"), ("250", "0.22", "1.50", "0.44")),
    355: (
        ("30", "0.24", "1.60", "0.45"),
        ("150", "0.24", "1.60", "0.47"),
        ("250", "0.24", "1.60", "0.49"),
    ),
}
GROUPS = ("1.1", "1.2")
"""The groups of ISO/TR 15608 that these grades belong to; fine-grain steels of the same strength have less."""


@exact
def greatest_cet(group: str, yield_mpa: Decimal, thickness: Decimal) -> Result:
    """The bound for a steel by group, specified minimum yield and thickness. Raises Refused for any other steel.

    Example: group 1.2, 355 MPa, 30 mm is 0.3715 %; 30.1 mm 0.3835 %.
    """
    positive("thickness", thickness, "mm")
    rows = GRADES.get(int(yield_mpa)) if yield_mpa == int(yield_mpa) and group in GROUPS else None
    if rows is None:
        held = ", ".join(f"S{strength}" for strength in GRADES)
        told = f"group {group or 'not stated'}, {number(yield_mpa)} MPa is not {held} of EN 10025-2"
        raise Refused("steel", f"{told}; put the certificate of its heat on file")
    row = next((row for row in rows if thickness <= Decimal(row[0])), None)
    if row is None:
        raise Refused("thickness", f"{number(thickness)} mm is above {rows[-1][0]} mm, up to which CEV is limited")
    carbon, most_manganese, cev = map(Decimal, row[1:])
    working = Working()
    working.step("C", carbon, "%")
    working.step("Cu", COPPER, "%")
    working.step("CEV", cev, "%")
    manganese = working.step("Mn", min(6 * (cev - carbon - COPPER / 15), most_manganese), "%")
    working.flag("greatest CET that the grade allows, not that of the steel at hand; limits from memory")
    return working.result(carbon + COPPER / 20 + manganese / 10, "%", CLAUSE, FORMULA)
