"""ISO 15614-1:2017, 8.4.3: weld and joint type, sides and backing, gouging, run type."""

from codes.clauses import Clause, Mark
from codes.iso_15614_1_2017.piece import Piece, unrecorded
from codes.iso_15614_1_2017.sources import TEXT, clause
from codes.iso_15614_1_2017.switches import BACKING_LEVEL_1, GOUGING_KIND, RUN_TYPE, TEE_FROM_BUTT, lenient
from codes.limits import Free, Limit, OneOf, When, unless, when_is
from codes.words import term_words

JOINT = clause("8.4.3", Mark.MEMORY)
TEE = clause("8.4.3, T-joint", Mark.DOUBT)
SIDES = clause("8.4.3, backing", Mark.MEMORY)
BOTH_SIDES = clause("8.4.3, level 2 h and i", Mark.PART, TEXT)
BACKING_AT_1 = clause("8.4.3, level 1", Mark.DOUBT)
GOUGING = clause("8.4.3, level 2 h", Mark.PART, TEXT)
RUNS = clause("8.4.3, level 1 h and level 2 j", Mark.PART, TEXT)

BUTTS: tuple[When, ...] = (when_is("weld_type", "butt_cjp", "butt_pjp"),)
GROOVES: tuple[When, ...] = (when_is("weld_type", "butt_cjp", "butt_pjp", "branch"),)
BOTH: tuple[When, ...] = (*GROOVES, when_is("weld_detail", "bs"))

# tested weld type -> weld types covered (level 2)
COVERED_WELDS: dict[str, tuple[str, ...]] = {
    "butt_cjp": ("butt_cjp", "butt_pjp", "fillet", "buildup"),
    "tee": ("butt_cjp", "butt_pjp", "fillet"),
    "butt_pjp": ("butt_pjp",),
    "branch": ("branch", "fillet"),
    "fillet": ("fillet",),
    "buildup": ("buildup",),
    "buttering": ("buttering",),
}
LEVEL_1_GROOVE = ("butt_cjp", "butt_pjp", "fillet", "branch", "buildup")
TEE_FORMS = ("tee", "cruciform")

# tested sides -> sides covered (level 2)
COVERED_SIDES: dict[str, tuple[str, ...]] = {
    "ss_nb": ("ss_nb", "ss_mb", "ss_gb", "bs"),
    "ss_mb": ("ss_mb", "bs"),
    "ss_gb": ("ss_gb", "bs"),
    "ss_fb": ("ss_fb", "bs"),
    "bs": ("bs", "ss_mb"),
    "ci": ("ci",),
}
ALL_SIDES = ("ss_nb", "ss_mb", "ss_gb", "ss_fb", "bs")


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Weld and joint type, then sides and gouging (not of fillet tests), then run type."""
    groove = piece.word("weld_type") not in ("fillet", "buildup", "buttering")
    sides = (*_sides(piece), *_gouging(piece)) if groove else ()
    return (*_weld(piece), *sides, *_run_type(piece))


def _weld(piece: Piece) -> tuple[Limit, ...]:
    weld, joint = piece.word("weld_type"), piece.word("joint_type")
    if weld is None:
        return (unrecorded("weld_type", JOINT, reason="joint_type"),)
    if piece.level == 1 and weld in LEVEL_1_GROOVE and weld not in ("fillet", "buildup"):
        return (_weld_types(LEVEL_1_GROOVE, weld, "a butt test covers all butt forms and fillets at level 1"),)
    # A butt test that leaves out its joint counts for what a T-joint test covers; the rest hangs on the joint.
    needs = "the joint type of the test on the record" if weld == "butt_cjp" and joint is None else ""
    found = [_weld_types(covered_welds(piece), weld, f"tested {term_words('weld_type', weld)}", needs)]
    if weld in ("butt_cjp", "butt_pjp"):
        found.append(_joint(piece, joint))
    return tuple(found)


def covered_welds(piece: Piece) -> tuple[str, ...]:
    """The weld types that a level-2 test covers; a butt test in pipe adds branch connections (60 degrees and more)."""
    weld = piece.word("weld_type") or ""
    if weld == "butt_cjp" and piece.word("joint_type") != "butt":
        return COVERED_WELDS["tee"]
    pipe = weld == "butt_cjp" and piece.word("product") == "pipe"
    return (*COVERED_WELDS[weld], *(("branch",) if pipe else ()))


def _weld_types(covered: tuple[str, ...], tested: str, because: str, needs: str = "") -> Limit:
    return Limit("weld_type", OneOf(covered), JOINT, because, reason="joint_type", needs=needs, tested=tested)


def _joint(piece: Piece, joint: str | None) -> Limit:
    """The joints in which a butt weld is covered."""
    if joint is None:
        return unrecorded("joint_type", JOINT, when=BUTTS)
    if joint in TEE_FORMS:
        because = "butt weld tested in a T-joint: T-joints only, a cruciform joint being two of them"
        return Limit("joint_type", OneOf(TEE_FORMS), JOINT, because, BUTTS, tested=joint)
    if joint != "butt":
        because = f"butt weld tested in a {joint} joint: that joint only"
        return Limit("joint_type", OneOf((joint,)), JOINT, because, BUTTS, tested=joint)
    more = (*TEE_FORMS, "corner") if lenient(TEE_FROM_BUTT, piece.settings) else ()
    readings = (TEE_FROM_BUTT.used(piece.settings),)
    return Limit("joint_type", OneOf(("butt", *more)), TEE, "tested as a butt joint", BUTTS, readings, tested="butt")


def _sides(piece: Piece) -> tuple[Limit, ...]:
    tested = piece.word("weld_detail")
    if tested is None:
        return (unrecorded("weld_detail", SIDES, when=GROOVES, reason="backing"),)
    because = f"tested {term_words('weld_detail', tested)}"
    if piece.level == 2:
        where = BOTH_SIDES if tested == "bs" else SIDES
        return (_detail(COVERED_SIDES[tested], where, because, tested),)
    readings = (BACKING_LEVEL_1.used(piece.settings),)
    if tested == "ci":
        return (_detail(("ci",), BACKING_AT_1, because, tested, readings),)
    free = tested == "ss_nb" or lenient(BACKING_LEVEL_1, piece.settings)
    covered = ALL_SIDES if free else tuple(detail for detail in ALL_SIDES if detail != "ss_nb")
    return (_detail(covered, BACKING_AT_1, because, tested, readings),)


def _detail(
    covered: tuple[str, ...], where: Clause, because: str, tested: str, readings: tuple[str, ...] = ()
) -> Limit:
    return Limit("weld_detail", OneOf(covered), where, because, GROOVES, readings, "backing", tested=tested)


def _gouging(piece: Piece) -> tuple[Limit, ...]:
    """Both sides: the root as tested; ungouged tests also cover grinding, never thermal gouging."""
    if piece.level == 1:
        return (Limit("gouging", Free(), BACKING_AT_1, "level 1: gouging is free", BOTH),)
    detail, tested = piece.word("weld_detail"), piece.word("gouging")
    if detail in (None, "ci"):
        return ()
    if detail != "bs":
        return (_root(("none", "mechanical"), "tested from one side: thermal gouging needs its own test", "none"),)
    if tested is None:
        return (unrecorded("gouging", GOUGING, when=BOTH),)
    if tested == "none":
        return (_root(("none", "mechanical"), "tested without gouging: thermal gouging is excepted", tested),)
    readings = (GOUGING_KIND.used(piece.settings),)
    covered = ("mechanical", "thermal") if lenient(GOUGING_KIND, piece.settings) else (tested,)
    return (_root(covered, f"tested with {tested} gouging: gouged joints only", tested, readings),)


def _root(covered: tuple[str, ...], because: str, tested: str, readings: tuple[str, ...] = ()) -> Limit:
    return Limit("gouging", OneOf(covered), GOUGING, because, BOTH, readings, tested=tested)


def _run_type(piece: Piece) -> tuple[Limit, ...]:
    """No change between single and multi run; only with a requirement at level 1 and in the lenient reading."""
    tested = piece.words("run_type")
    always = piece.level == 2 and not lenient(RUN_TYPE, piece.settings)
    asked: tuple[tuple[When, ...], ...]
    asked = ((),) if always else ((when_is("impact_required", "yes"),), (when_is("hardness_required", "yes"),))
    if not tested:
        return tuple(unrecorded("run_type", RUNS, when=when) for when in asked)
    readings = (RUN_TYPE.used(piece.settings),) if piece.level == 2 else ()
    because = f"tested {' and '.join(tested).replace('_', ' ')}: no change to the other"
    bound = tuple(
        Limit("run_type", OneOf(tested), RUNS, because, when, readings, tested=", ".join(tested)) for when in asked
    )
    return bound if always else (*bound, _free_run_type(readings))


def _free_run_type(readings: tuple[str, ...]) -> Limit:
    when = (unless("impact_required", "yes"), unless("hardness_required", "yes"))
    because = "neither impact nor hardness required: single and multi run may change"
    return Limit("run_type", Free(), RUNS, because, when, readings)
