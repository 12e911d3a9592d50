"""ISO 9606-1:2012, 5.3 and 5.7 Table 7: plate and pipe, and the outside diameters that a test covers. Units: mm."""

from decimal import Decimal as D

from codes.editions import Tested
from codes.iso_9606_1_2012.clauses import HANDOUT, OVERVIEW, clause, confirmed
from codes.iso_9606_1_2012.sizes import Bound, SizeRow, derivation, row_for
from codes.iso_9606_1_2012.tested import figure, term
from codes.limits import Limit, OneOf, Unrecorded, span, unless, when_is
from codes.values import Interval, number

T7 = "5.7, Table 7"
PRODUCT = confirmed("5.3", OVERVIEW)
PLATE_TO_PIPE = confirmed("5.3", HANDOUT, OVERVIEW)

# Rectangular hollow section: D is the smaller side. The table serves butt and fillet welds (fillet from memory).
DIAMETER_ROWS = (
    SizeRow(Interval(D(0), D(25), "mm", lo_open=True), Bound(D(1)), Bound(D(2)), "D to 2 D", confirmed(T7, OVERVIEW)),
    SizeRow(
        Interval(D(25), None, "mm", lo_open=True),
        Bound(D("0.5"), D(25)),
        None,
        "from 0.5 D, at least 25 mm, no upper limit",
        confirmed(T7, OVERVIEW),
    ),
)

PLATE_COVERS_PIPE_ABOVE = D(25)
FIXED_PIPE_FROM = D(500)
ROTATED_PIPE_FROM = D(75)
ROTATED_POSITIONS = ("PA", "PB", "PC", "PD")
ON_PIPE = when_is("product", "pipe")


def product_limits(piece: Tested) -> tuple[Limit, ...]:
    """Product type and diameter. Example: plate covers fixed pipe of 500 mm, not of 499 mm."""
    product = term(piece, "product")
    if product == "plate":
        return _from_plate()
    if product == "pipe":
        return _from_pipe(figure(piece, "diameter"))
    return (Limit("product", Unrecorded("the product, plate or pipe"), PRODUCT, reason="product_type"),)


def _from_plate() -> tuple[Limit, ...]:
    any_product = "tested on plate: covers plate, and pipe by its diameter"
    fixed = "tested on plate: covers fixed pipe from 500 mm; a smaller one only where it is rotated"
    turned = "tested on plate: covers rotated pipe from 75 mm"
    flat = f"tested on plate: covers rotated pipe in {', '.join(ROTATED_POSITIONS)} only"
    rotated = (ON_PIPE, when_is("rotated", "yes"))
    key = "product_type"
    return (
        Limit("product", OneOf(("plate", "pipe")), PRODUCT, any_product, reason=key, tested="plate"),
        Limit(
            "diameter",
            span(FIXED_PIPE_FROM, None, "mm"),
            PLATE_TO_PIPE,
            fixed,
            (ON_PIPE, unless("rotated", "yes")),
            reason=key,
            tested="plate",
        ),
        Limit("diameter", span(ROTATED_PIPE_FROM, None, "mm"), PLATE_TO_PIPE, turned, rotated, reason=key),
        Limit("position", OneOf(ROTATED_POSITIONS), PLATE_TO_PIPE, flat, rotated, reason=key),
    )


def _from_pipe(diameter: D | None) -> tuple[Limit, ...]:
    row = row_for(DIAMETER_ROWS, diameter) if diameter is not None else None
    if diameter is None or row is None:
        # Whether the pipe also covers plate hangs on its diameter.
        return (
            Limit("product", Unrecorded("the outside diameter D of the pipe"), PRODUCT, reason="product_type"),
            Limit("diameter", Unrecorded("the outside diameter D"), clause(T7), when=(ON_PIPE,), reason="diameter"),
        )
    tested = f"{number(diameter)} mm"
    plate = diameter > PLATE_COVERS_PIPE_ABOVE
    covers = ("pipe", "plate") if plate else ("pipe",)
    because = f"tested on pipe D = {tested}: " + ("above 25 mm, covers plate" if plate else "25 mm or less, no plate")
    return (
        Limit("product", OneOf(covers), PRODUCT, because, reason="product_type", tested="pipe"),
        Limit(
            "diameter",
            row.range(diameter),
            row.clause,
            derivation("D", diameter, row),
            (ON_PIPE,),
            reason="diameter",
            tested=tested,
        ),
    )
