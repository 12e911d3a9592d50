"""ASME IX, QW-452: deposited thickness, diameter and fillet sizes that a welder's test covers. Units: mm."""

from decimal import Decimal as D

from codes.asme_ix_people_2021.clauses import (
    CHANGES_2021,
    DIAMETER_FAQ,
    FILLETS,
    OLDER_SHEET,
    RANGES_SLIDES,
    THICKNESS_PAGE,
    confirmed,
    memory,
)
from codes.asme_ix_people_2021.positions import IS_FILLET, IS_GROOVE
from codes.aws_processes import GMAW, letter_name
from codes.editions import Tested
from codes.limits import Free, Limit, Within, times, when_is
from codes.pieces import figure, term, unrecorded
from codes.unit_sets import System, twin
from codes.values import Interval, number

QW_452_1 = confirmed("QW-404.30, QW-452.1(b)", THICKNESS_PAGE, RANGES_SLIDES)
QW_404_32 = confirmed("QW-404.32", CHANGES_2021)
QW_452_3 = confirmed("QW-403.16, QW-452.3", RANGES_SLIDES, OLDER_SHEET, DIAMETER_FAQ)
QW_452_4 = confirmed("QW-452.4", RANGES_SLIDES)
QW_452_5 = memory("QW-452.5")
QW_452_6 = confirmed("QW-452.6", FILLETS)

THICK = twin("0.5", "13")
THIN_FILLET = twin("0.1875", "5")
LAYERS = D(3)
SHORT_ARC = D("1.1")


# Outside diameters, the largest first: a larger test pipe covers from there on, one of 25 mm or less from itself on.
DIAMETER_STEPS = (twin("2.875", "73"), twin("1", "25"))


def smallest_diameter(tested: D, system: System) -> D:
    """Example: 60.3 mm covers from 25 mm on, 24 mm from 24 mm on, 73 mm from 25 mm on, 73.1 mm from 73 mm on."""
    return next((step.mm(system) for step in DIAMETER_STEPS if tested > step.mm(system)), tested)


def deposit_limit(piece: Tested, system: System) -> Limit:
    """Grooves: 2 t, or the maximum to be welded from 13 mm (1/2 in) in three layers; 1.1 t for short-circuiting."""
    tested = figure(piece, "deposit_t")
    if tested is None:
        return unrecorded("deposit_t", QW_452_1, "deposit_thickness", when=(IS_GROOVE,))
    layers = figure(piece, "layers")
    short = letter_name(term(piece, "process")) == GMAW and term(piece, "transfer_mode") == "dip"
    said = f"{number(tested)} mm"
    thick = tested >= THICK.mm(system)
    if thick and layers is not None and layers >= LAYERS:
        because = f"tested t = {said} in {number(layers)} layers: the maximum to be welded"
        return Limit("deposit_t", Free(), QW_452_1, because, (IS_GROOVE,), reason="deposit_thickness", tested=said)
    factor = SHORT_ARC if short and not thick else D(2)
    few = ", fewer than 3 layers on record" if thick else ""
    because = f"tested t = {said}{few}: {times(factor, tested)}"
    where = QW_404_32 if factor == SHORT_ARC else QW_452_1
    allowed = Within(Interval(None, factor * tested, "mm"))
    return Limit("deposit_t", allowed, where, because, (IS_GROOVE,), reason="deposit_thickness", tested=said)


def diameter_limits(piece: Tested, system: System) -> tuple[Limit, ...]:
    """Pipe tests; a groove test covers fillets on any diameter. The note of plate tests stands with the positions."""
    if term(piece, "product") != "pipe":
        return ()
    fillet = term(piece, "weld_type") == "fillet"
    where = QW_452_4 if fillet else QW_452_3
    when = (when_is("product", "pipe"), *(() if fillet else (IS_GROOVE,)))
    tested = figure(piece, "diameter")
    if tested is None:
        return (unrecorded("diameter", where, "diameter", when=when, field="the diameter of the test pipe"),)
    least = smallest_diameter(tested, system)
    because = f"tested pipe of {number(tested)} mm ({system.upper()} set): {number(least)} mm and more"
    allowed = Within(Interval(least, None, "mm"))
    return (Limit("diameter", allowed, where, because, when, reason="diameter", tested=f"{number(tested)} mm"),)


def fillet_limits(piece: Tested, system: System) -> tuple[Limit, ...]:
    """Plate fillet tests: from 5 mm (3/16 in) every thickness and size; thinner T to 2 T, size up to T."""
    if term(piece, "weld_type") != "fillet":
        return (Limit("leg_z", Free(), QW_452_6, "a groove test covers every fillet size", (IS_FILLET,)),)
    if term(piece, "product") == "pipe":
        return (Limit("parent_t", Free(), QW_452_4, "a fillet test on pipe covers every thickness"),)
    tested = figure(piece, "parent_t")
    if tested is None:
        return (unrecorded("parent_t", QW_452_5, "base_thickness", field="the thickness of the test plate"),)
    said = f"tested T = {number(tested)} mm"
    if tested >= THIN_FILLET.mm(system):
        return (Limit("parent_t", Free(), QW_452_5, f"{said}: every thickness and size", tested=number(tested)),)
    base = Within(Interval(tested, 2 * tested, "mm"))
    size = Within(Interval(None, tested, "mm"))
    return (
        Limit("parent_t", base, QW_452_5, f"{said}: T to 2 T", reason="base_thickness", tested=number(tested)),
        Limit("leg_z", size, QW_452_5, f"{said}: fillet size up to T", reason="fillet_size", tested=number(tested)),
    )
