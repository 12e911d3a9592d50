"""ISO 14732:2013, 4.2: what else binds mechanised welding: tracking, arc length, view, arcs, position, backing.

Positions follow Tables 9 and 10 of ISO 9606-1 from the test position and the test's own weld type. The welding unit
is not a variable here; dimensions, product, parent and filler metal and gas are recorded and do not bind.
"""

from codes.clauses import Clause
from codes.editions import Tested
from codes.iso_9606_1_2012.detail import BACKING_ROWS
from codes.iso_9606_1_2012.position import butt_position_limit, fillet_position_limit
from codes.iso_14732_2013.automatic import arcs_limit
from codes.iso_14732_2013.clauses import BACKING, MECHANISED, POSITION, UNIT
from codes.iso_14732_2013.common import stated, unrecorded
from codes.iso_14732_2013.switches import BACKING_KIND
from codes.limits import Free, Limit, OneOf, Unrecorded, unless
from codes.readings import Settings

AIDS = {
    "joint_tracking": ("joint tracking", "joint_tracking"),
    "arc_length_control": ("automatic arc-length control", "arc_length_control"),
}
NO_ROOT_WELDS = ("fillet", "buildup", "buttering")

# Tested -> covered, strictly: an open root has nothing to delete, any backing stays what it was.
BACKING_STRICT = {
    "ss_nb": ("ss_nb", "ss_mb", "ss_gb", "ss_fb", "bs"),
    "bs": ("bs", "ss_mb"),
    "ss_mb": ("ss_mb",),
    "ss_gb": ("ss_gb",),
    "ss_fb": ("ss_fb",),
    "ci": ("ci",),
}


def mechanised_limits(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """Both aids, view, arcs, position, backing."""
    return (
        *(aid_limit(piece, name) for name in AIDS),
        view_limit(piece),
        arcs_limit(piece),
        Limit("unit", Free(), UNIT, "mechanised welding: the welding unit does not bind", reason="unit"),
        position_limit(piece, settings),
        *backing_limits(piece, settings),
    )


def aid_limit(piece: Tested, name: str) -> Limit:
    """Joint tracking or arc-length control: to go without it is a new test, to add it is not."""
    words, reason = AIDS[name]
    tested = stated(piece, name)
    if tested is None:
        return unrecorded(name, MECHANISED, reason)
    if tested == "yes":
        because = f"tested with {words}: without it is a new test"
        return Limit(name, OneOf(("yes",)), MECHANISED, because, reason=reason, tested=tested)
    because = f"tested without {words}: it may be added"
    return Limit(name, Free(), MECHANISED, because, reason=reason, tested=tested)


def view_limit(piece: Tested) -> Limit:
    """Direct or remote visual control: a change either way is a new test."""
    tested = stated(piece, "visual_control")
    if tested is None:
        return unrecorded("visual_control", MECHANISED, "visual_control")
    because = f"tested under {tested} visual control: a change either way is a new test"
    return Limit("visual_control", OneOf((tested,)), MECHANISED, because, reason="visual_control", tested=tested)


def position_limit(piece: Tested, settings: Settings) -> Limit:
    """The positions that the test position gives in ISO 9606-1. Example: a butt weld tested in PC covers PA and PC."""
    weld = stated(piece, "weld_type")
    if weld is None:
        return Limit("position", Unrecorded("the weld type of the test"), POSITION, reason="position")
    found = fillet_position_limit(piece, settings) if weld == "fillet" else butt_position_limit(piece)
    where = Clause(POSITION.standard, POSITION.ref, POSITION.mark, f"{POSITION.source}; rows: {found.clause.source}")
    return Limit("position", found.allowed, where, found.because, (), found.readings, "position", tested=found.tested)


def backing_limits(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """Backing and consumable insert of welds with a root: to go without is a new test.

    A test without a root (fillet) says nothing of open roots, so butt welds are not stated.
    """
    when = (unless("weld_type", *NO_ROOT_WELDS),)
    tested = stated(piece, "weld_detail")
    if tested is None:
        return (Limit("weld_detail", Unrecorded("sides and backing"), BACKING, when=when, reason="backing"),)
    reason = "consumable_insert" if tested == "ci" else "backing"
    words = tested.replace("_", " ")
    covers = BACKING_STRICT.get(tested, (tested,))
    if BACKING_KIND.option(settings) == "as 9606":
        covers = next(row.covers for row in BACKING_ROWS if row.tested == tested)
    because = f"tested {words}: covers {', '.join(one.replace('_', ' ') for one in covers)}"
    used = (BACKING_KIND.used(settings),)
    return (Limit("weld_detail", OneOf(covers), BACKING, because, when, used, reason, tested=tested),)
