"""ISO 9606-1:2012, 5.4 and Annex C: butt welds, fillet welds and branch connections. Angles in degrees."""

from decimal import Decimal as D

from codes.editions import Tested
from codes.iso_9606_1_2012.clauses import DEKRA, EN_1090_EXTRACT, OVERVIEW, WELD_AUSTRALIA, clause, confirmed, partly
from codes.iso_9606_1_2012.switches import PLATE_BRANCH
from codes.iso_9606_1_2012.tested import figure, figures, is_butt, on_pipe, term, yes
from codes.limits import Limit, Nothing, OneOf, Unrecorded, span, unless, when_is
from codes.readings import Settings
from codes.values import number

BUTT = clause("5.4 a")
FILLET = confirmed("5.4 b", DEKRA)
BRANCH = clause("5.4 c")
SPECIAL = partly("5.4 d", EN_1090_EXTRACT)
SUPPLEMENTARY = confirmed("5.4 e", DEKRA, OVERVIEW)
ANNEX_C = partly("5.4 b, Annex C", WELD_AUSTRALIA)

BUTT_WELDS = ("butt_cjp", "butt_pjp")
LEAST_BRANCH_ANGLE, MOST_BRANCH_ANGLE = D(60), D(90)
LEAST_COMBINED_T = D(10)
IS_BRANCH = when_is("weld_type", "branch")


def butt_limits(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """What a butt test covers: butt welds in any joint type, and from pipe also branches of 60 degrees or more."""
    if term(piece, "weld_type") == "branch":
        return _special_branch(piece)
    if on_pipe(piece) or PLATE_BRANCH.option(settings) == "wide":
        return _with_branches(piece, settings)
    fillets = f"tested butt weld: covers butt welds in any joint type{_not_combined(piece)}"
    from_pipe = "a branch connection needs a butt test on pipe; this one was made on plate"
    return (
        Limit("weld_type", OneOf(BUTT_WELDS), BUTT, fillets, (unless("weld_type", "branch"),), reason="weld_type"),
        Limit(
            "weld_type",
            Nothing(),
            BRANCH,
            from_pipe,
            (IS_BRANCH,),
            (PLATE_BRANCH.used(settings),),
            reason="product_type",
        ),
    )


def _with_branches(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    because = (
        "tested butt weld on pipe: covers butt welds in any joint type and branch connections "
        "(D of the branch; s of the branch where it is set on, else of the main pipe)"
    )
    readings = () if on_pipe(piece) else (PLATE_BRANCH.used(settings),)
    return (
        Limit("weld_type", OneOf((*BUTT_WELDS, "branch")), BUTT, because, readings=readings, reason="weld_type"),
        Limit(
            "branch_angle",
            span(LEAST_BRANCH_ANGLE, MOST_BRANCH_ANGLE, "°"),
            BRANCH,
            "a butt test on pipe covers branches of 60° and more (the acute angle); below it a test of its own",
            (IS_BRANCH,),
            readings,
            reason="branch_angle",
        ),
    )


def _special_branch(piece: Tested) -> tuple[Limit, ...]:
    """A test piece made as a branch connection: that angle only, as the standard gives no range for it."""
    angle = figure(piece, "branch_angle")
    key = "branch_angle"
    allowed = OneOf(("branch",))
    because = "special test piece, a branch connection: covers branch connections of its own angle"
    if angle is None:
        return (
            Limit("weld_type", allowed, SPECIAL, because, reason="weld_type"),
            Limit(key, Unrecorded("the branch angle"), SPECIAL, reason=key),
        )
    return (
        Limit("weld_type", allowed, SPECIAL, because, reason="weld_type"),
        Limit(key, span(angle, angle, "°"), SPECIAL, f"tested at {number(angle)}°", reason=key),
    )


def _not_combined(piece: Tested) -> str:
    """Why a piece recorded as combined does not count as one, "" otherwise."""
    if not yes(piece, "combined_piece") or is_combined(piece) is not False:
        return ""
    thinnest = number(min(figures(piece, "parent_t")))
    return f"; the combined piece of Annex C needs plate of 10 mm or more and was {thinnest} mm, so no fillet welds"


def is_combined(piece: Tested) -> bool | None:
    """True for a valid combined piece of Annex C, False where it is none, None where its thickness is not stated."""
    if not yes(piece, "combined_piece") or not is_butt(piece):
        return False
    sizes = figures(piece, "parent_t")
    return min(sizes) >= LEAST_COMBINED_T if sizes else None


def fillet_type_limit(piece: Tested) -> Limit:
    """Fillet welds, from a fillet test, a supplementary fillet test or a combined piece."""
    where, how = FILLET, "tested fillet weld: covers fillet welds, no butt welds"
    if yes(piece, "combined_piece"):
        where, how = ANNEX_C, "combined test piece: single bevel with material backing, counts as fillet weld too"
    elif is_butt(piece):
        where, how = SUPPLEMENTARY, "supplementary fillet test beside the butt test: covers fillet welds"
    return Limit("weld_type", OneOf(("fillet",)), where, how, reason="weld_type", tested="fillet weld")
