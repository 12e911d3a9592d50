"""AWS D1.1, 7.13, 4.4.2 and 7.21: smallest and largest fillet, its length, and the leg where the root stands open."""

from decimal import Decimal

from codes.aws_d1_1.book import BOOK_2020, FILLET_TABLE, Book, rule
from codes.aws_d1_1.size_rows import (
    CYCLIC_FILLET,
    EDGE_LESS,
    EDGE_THIN,
    FILLET,
    FREE_GAP,
    INTERMITTENT,
    LARGEST_GAP,
    THICK_PART,
    THICK_PART_GAP,
)
from codes.aws_d1_1.unit_sets import Units, words
from codes.aws_d1_1_look_ups.figure import Figure, by_thickness, positive
from codes.clauses import Mark
from codes.values import number

LEAST = rule("fillet size", Mark.CONFIRMED, FILLET_TABLE)
AT_EDGE = rule("edge fillet", Mark.DOUBT)
LENGTH = rule("fillet length")
GAP = rule("assembly")

LENGTHS = Decimal(4)
LONG, VERY_LONG = Decimal(100), Decimal(300)
END_LOADED_MOST = Decimal(180)
END_LOADED_FACTOR = (Decimal("1.2"), Decimal("0.002"))


def minimum_fillet(
    parts: tuple[Decimal, Decimal],
    unit_system: str,
    low_hydrogen: bool,
    *,
    cyclic: bool = False,
    preheat_worked_out: bool = False,
    book: Book = BOOK_2020,
) -> Figure:
    """The smallest leg [mm] for two parts [mm], as specified and as welded. Raises ValueError.

    The thinner part decides for low-hydrogen processes, or where a preheat was worked out against cracking; else the
    thicker, and the weld is made in one pass. It need not exceed the thinner part. Reinforcing fillets are exempt.
    Example: 6.35 mm and 25.4 mm, "us", low-hydrogen: 3.175 mm (1/8 in).
    """
    units = Units(unit_system)
    for part in parts:
        positive("thickness", part)
    by_thinner = low_hydrogen or preheat_worked_out
    deciding = min(parts) if by_thinner else max(parts)
    least, size = by_thickness(FILLET, deciding, units)
    because = f"{'thinner' if by_thinner else 'thicker'} part {words(deciding, units)}: {size}"
    if least > min(parts):
        least = min(parts)
        because += f", not more than the thinner part {words(least, units)}"
    if not by_thinner:
        because += "; in one pass"
    if cyclic and least < CYCLIC_FILLET.mm(units):
        least = CYCLIC_FILLET.mm(units)
        because += f"; cyclic load: {CYCLIC_FILLET}"
    return Figure(least, LEAST.of(book), because)


def maximum_edge_fillet(
    thickness: Decimal, unit_system: str, *, built_out: bool = False, book: Book = BOOK_2020
) -> Figure:
    """The largest leg [mm] along the edge of a part [mm] of a lap joint. Raises ValueError.

    From 1/4 in [6 mm] the thickness less 1/16 in [2 mm], unless the drawing shows the edge built out (one forum gives
    3/4 in as the start: read as a slip). Example: 6.35 mm, "us": 4.7625 mm (3/16 in).
    """
    units = Units(unit_system)
    positive("thickness", thickness)
    clause = AT_EDGE.of(book)
    if thickness < EDGE_THIN.mm(units) or built_out:
        why = "shown as built out" if built_out else f"under {EDGE_THIN}"
        return Figure(thickness, clause, f"edge {words(thickness, units)}, {why}: up to the thickness")
    return Figure(thickness - EDGE_LESS.mm(units), clause, f"edge {words(thickness, units)} less {EDGE_LESS}")


def minimum_length(leg: Decimal, unit_system: str, *, intermittent: bool = False, book: Book = BOOK_2020) -> Figure:
    """The least effective length [mm] of a fillet: four times its leg; segments at least 1-1/2 in [38 mm].

    Raises ValueError. Example: a leg of 7.9375 mm (5/16 in) asks for 31.75 mm (1-1/4 in).
    """
    units = Units(unit_system)
    positive("leg", leg)
    least = LENGTHS * leg
    because = f"4 x {words(leg, units)}"
    if intermittent and least < INTERMITTENT.mm(units):
        least, because = INTERMITTENT.mm(units), f"segment of an intermittent weld: {INTERMITTENT}"
    return Figure(least, LENGTH.of(book), because)


def end_loaded_length(length: Decimal, leg: Decimal, book: Book = BOOK_2020) -> Figure:
    """The effective length [mm] of an end-loaded fillet: whole to 100 legs, reduced to 300, then 180 legs.

    Raises ValueError. Example at the edge: 800 mm of leg 8 count whole; 2400 mm (300 legs) count 1440 mm.
    """
    positive("length", length)
    positive("leg", leg)
    clause, ratio = LENGTH.of(book), length / leg
    if ratio <= LONG:
        return Figure(length, clause, f"{number(ratio)} legs long: whole")
    if ratio > VERY_LONG:
        return Figure(END_LOADED_MOST * leg, clause, "over 300 legs long: 180 legs")
    factor = END_LOADED_FACTOR[0] - END_LOADED_FACTOR[1] * ratio
    return Figure(factor * length, clause, f"factor 1.2 - 0.002 x {number(ratio)} = {number(factor)}")


def leg_with_gap(
    leg: Decimal, gap: Decimal, unit_system: str, *, thickness: Decimal | None = None, book: Book = BOOK_2020
) -> Figure:
    """The leg [mm] to be made where the root of a fillet stands open by a gap [mm]; None where that is too wide.

    Raises ValueError. Example: leg 6.35 mm and gap 3.175 mm, "us": 9.525 mm (1/4 and 1/8 give 3/8 in).
    """
    units = Units(unit_system)
    positive("leg", leg)
    if gap < 0:
        raise ValueError(f"gap must be 0 or more, not {number(gap)}")
    clause = GAP.of(book)
    if gap <= FREE_GAP.mm(units):
        return Figure(leg, clause, f"gap up to {FREE_GAP}: free")
    if gap <= LARGEST_GAP.mm(units):
        return Figure(leg + gap, clause, f"gap up to {LARGEST_GAP}: leg larger by the gap")
    thick = thickness is not None and thickness >= THICK_PART.mm(units)
    if thick and gap <= THICK_PART_GAP.mm(units):
        return Figure(leg + gap, clause, f"parts from {THICK_PART}, gap up to {THICK_PART_GAP}: with backing")
    return Figure(None, clause, f"gap over {THICK_PART_GAP if thick else LARGEST_GAP}: not allowed")
