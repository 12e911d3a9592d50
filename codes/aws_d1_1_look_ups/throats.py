"""AWS D1.1, 4.4 [2.4] and its annex: effective throats of fillets and sizes of partial-penetration welds."""

from decimal import Decimal

from codes.aws_d1_1.book import BOOK_2020, DESIGNERS_HANDBOOK, SKEWED, Book, rule
from codes.aws_d1_1.size_rows import FREE_GAP, LOSSES, PJP, THINNEST
from codes.aws_d1_1.unit_sets import Units, words
from codes.aws_d1_1_look_ups.figure import Figure, by_thickness, positive
from codes.aws_d1_1_prequalified.switches import PJP_THICKNESS, lenient
from codes.calc.exact import exact, kept, sin
from codes.clauses import Mark
from codes.readings import DEFAULTS, Settings
from codes.values import number

SQUARE = rule("throat", Mark.CONFIRMED, SKEWED)
SKEWED_RULE = rule("throat", Mark.PART, f"{SKEWED} (range); formula from memory")
LOSS = rule("throat")
PJP_SIZE = rule("PJP size", Mark.CONFIRMED, DESIGNERS_HANDBOOK)

EQUAL_LEGS = Decimal("0.707")
SKEWED_FROM, SKEWED_TO, NOT_COUNTED_BELOW = Decimal(60), Decimal(135), Decimal(30)


@exact
def fillet_throat(leg_1: Decimal, leg_2: Decimal, book: Book = BOOK_2020) -> Figure:
    """The throat [mm] of a fillet between square parts: 0.707 of equal legs, else the height of the triangle.

    Deep penetration counts only by test. Raises ValueError. Example: legs of 10 mm give 7.07 mm.
    """
    positive("leg", leg_1)
    positive("leg", leg_2)
    clause = SQUARE.of(book)
    if leg_1 == leg_2:
        return Figure(EQUAL_LEGS * leg_1, clause, f"0.707 x {number(leg_1)} mm")
    throat = leg_1 * leg_2 / (leg_1 * leg_1 + leg_2 * leg_2).sqrt()
    return Figure(kept(throat), clause, f"{number(leg_1)} and {number(leg_2)} mm: product over the hypotenuse")


@exact
def skewed_throat(
    leg: Decimal, dihedral: Decimal, unit_system: str, *, gap: Decimal = Decimal(0), book: Book = BOOK_2020
) -> Figure:
    """The throat [mm] of a skewed fillet, dihedral angle 60 to 135 degrees; None outside. Raises ValueError.

    A root gap over 1/16 in [2 mm] is taken from the leg. Example: a leg of 9.525 mm at 60 degrees gives 9.525 mm.
    """
    units = Units(unit_system)
    positive("leg", leg)
    clause = SKEWED_RULE.of(book)
    if not SKEWED_FROM <= dihedral <= SKEWED_TO:
        return Figure(None, clause, f"{number(dihedral)} degrees is outside 60 to 135: no fillet")
    lost = gap if gap > FREE_GAP.mm(units) else Decimal(0)
    if lost >= leg:
        return Figure(None, clause, f"the gap of {words(gap, units)} leaves no leg")
    throat = (leg - lost) / (2 * sin(dihedral / 2))
    said = f"; gap {words(gap, units)} taken from the leg" if lost else ""
    return Figure(kept(throat), clause, f"leg {words(leg, units)} over 2 sin({number(dihedral)}/2){said}")


def z_loss(dihedral: Decimal, process: str, aws_position: str, unit_system: str, book: Book = BOOK_2020) -> Figure:
    """What is taken from the throat on the acute side between 30 and 60 degrees; None where it does not count.

    `aws_position`: F, H, V or OH. Raises ValueError for an angle of 0 or less.
    Example at the edge: SMAW at 45 degrees loses 1/8 in [3 mm], at 44.9 degrees 1/4 in [6 mm].
    """
    units = Units(unit_system)
    positive("dihedral angle", dihedral)
    clause = LOSS.of(book)
    if dihedral >= SKEWED_FROM:
        return Figure(Decimal(0), clause, "from 60 degrees: no loss")
    if dihedral < NOT_COUNTED_BELOW:
        return Figure(None, clause, "under 30 degrees: not counted")
    for row in LOSSES:
        if row.lo <= dihedral < row.hi and process in row.processes and aws_position in row.positions:
            return Figure(row.z.mm(units), clause, f"{row.lo} to under {row.hi} degrees, {aws_position}: {row.z}")
    return Figure(None, clause, f"process {process} in {aws_position} stands in no row: needs a test")


def minimum_pjp_size(
    parts: tuple[Decimal, Decimal],
    unit_system: str,
    low_hydrogen: bool,
    *,
    book: Book = BOOK_2020,
    settings: Settings = DEFAULTS,
) -> Figure:
    """The least size E [mm] of a prequalified PJP weld between two parts [mm]; None under 1/8 in [3 mm].

    It need not exceed the thinner part. Raises ValueError. Example: 25.4 mm to 25.4 mm, "us": 7.9375 mm (5/16 in).
    """
    units = Units(unit_system)
    for part in parts:
        positive("thickness", part)
    clause = PJP_SIZE.of(book)
    by_thinner = low_hydrogen and lenient(PJP_THICKNESS, settings)
    readings = (PJP_THICKNESS.used(settings),)
    if min(parts) < THINNEST.mm(units):
        return Figure(None, clause, f"under {THINNEST} the sheet steel code applies", readings)
    deciding = min(parts) if by_thinner else max(parts)
    least, size = by_thickness(PJP, deciding, units)
    because = f"{'thinner' if by_thinner else 'thicker'} part {words(deciding, units)}: {size}"
    if least > min(parts):
        least, because = min(parts), f"{because}, not more than the thinner part"
    return Figure(least, clause, because, readings)
