"""ISO 9606-1:2012, 5.5 and 5.6: filler groups (Tables 2 and 3) and filler types (Tables 4 and 5)."""

from dataclasses import dataclass, replace

from codes.clauses import Clause
from codes.editions import Tested
from codes.iso_9606_1_2012.clauses import HANDOUT, IIW_INDIA, clause, confirmed, doubtful, partly
from codes.iso_9606_1_2012.tested import term, terms
from codes.limits import Free, Limit, OneOf, Unrecorded, When, unless, when_is
from codes.pieces import IfStated
from codes.values import Atom, SteelPair, atoms


@dataclass(frozen=True, slots=True)
class FillerRow:
    """A tested filler group or type and what it covers."""

    tested: tuple[str, ...]
    covers: tuple[str, ...]
    clause: Clause


# Table 2: the standards (any year) that classify the fillers of each group. FM3 and FM4 differ by chromium.
CLASSIFIED_BY: dict[str, tuple[str, ...]] = {
    "FM1": ("ISO 2560", "ISO 14341", "ISO 636", "ISO 14171", "ISO 17632"),
    "FM2": ("ISO 18275", "ISO 16834", "ISO 26304", "ISO 18276"),
    "FM3": ("ISO 3580", "ISO 21952", "ISO 24598", "ISO 17634"),
    "FM4": ("ISO 3580", "ISO 21952", "ISO 24598", "ISO 17634"),
    "FM5": ("ISO 3581", "ISO 14343", "ISO 17633"),
    "FM6": ("ISO 14172", "ISO 18274", "ISO 12153"),
}

TABLE_2 = partly("5.5, Table 2", HANDOUT)
T3, T4, T5 = "5.5, Table 3", "5.6, Table 4", "5.6, Table 5"
GROUP_ROWS = (
    FillerRow(("FM1",), ("FM1", "FM2"), confirmed(T3, HANDOUT)),
    FillerRow(("FM2",), ("FM1", "FM2"), clause(T3)),
    FillerRow(("FM3",), ("FM1", "FM2", "FM3"), clause(T3)),
    FillerRow(("FM4",), ("FM1", "FM2", "FM3", "FM4"), clause(T3)),
    FillerRow(("FM5",), ("FM5",), clause(T3)),
    FillerRow(("FM6",), ("FM5", "FM6"), clause(T3)),
)

RUTILE_COVERINGS = ("A", "RA", "RB", "RC", "RR", "R")
# Table 4, process 111. The numbers of ISO 2560-B stand for the letters: 15, 16, 18, 28, 45, 48 basic; 10, 11
# cellulosic; 03, 13, 14, 19, 20, 24, 27 acid or rutile.
COVERING_ROWS = (
    FillerRow(RUTILE_COVERINGS, RUTILE_COVERINGS, clause(T4)),
    FillerRow(("B",), (*RUTILE_COVERINGS, "B"), partly(T4, IIW_INDIA)),
    FillerRow(("C",), ("C",), clause(T4)),
)

SLAG_CORES = ("R", "P", "V", "W", "Y", "Z")
# Table 5, every other process. R is here the rutile core with slow-freezing slag.
WIRE_ROWS = (
    FillerRow(("S",), ("S", "M"), confirmed(T5, HANDOUT)),
    FillerRow(("M",), ("S", "M"), clause(T5)),
    FillerRow(("B",), ("B", *SLAG_CORES), confirmed(T5, HANDOUT)),
    FillerRow(SLAG_CORES, SLAG_CORES, clause(T5)),
)

# Processes that can be welded without filler: a test with filler covers that too, never the reverse.
AUTOGENOUS = ("141", "142", "143", "145", "15", "311")
NO_FILLER = confirmed("5.6", HANDOUT)
ROOT_COVERED = clause("5.6, Table 4, root note")
ROOT_CORED = confirmed("5.6, Table 5, root note", HANDOUT)
PARENT_GROUP = doubtful("5.5")
OPEN_ROOT = when_is("weld_detail", "ss_nb")


@dataclass(frozen=True, slots=True)
class ParentGroups:
    """Steels of these ISO/TR 15608 main groups, on both sides of the joint."""

    groups: tuple[str, ...]

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, SteelPair) and all(steel.main_group in self.groups for steel in atom)

    def margin(self, atom: Atom) -> None:
        return None

    def unstated(self, atom: Atom) -> str:
        """A steel whose group is not stated leaves the question open, unless the other side is refused."""
        if not isinstance(atom, SteelPair):
            return ""
        refused = [steel.main_group for steel in atom if steel.main_group not in self.groups]
        return "the ISO/TR 15608 group of the steel" if refused and not any(refused) else ""

    def __str__(self) -> str:
        return "parent group " + ", ".join(self.groups)


def filler_limits(piece: Tested, processes: tuple[str, ...]) -> tuple[Limit, ...]:
    """Group, type and root type. The parent material sets no range, except for a test made without filler.

    `processes`: those that the test covers; the letters of filler types are not compared across others.
    """
    if term(piece, "filler_type") == "nm":
        return _without_filler(piece)
    same = (when_is("process", *processes),) if processes else ()
    types = (_type_limit(piece), *_root_limits(piece))
    return (_group_limit(piece), *(replace(limit, when=(*same, *limit.when)) for limit in types))


def _group_limit(piece: Tested) -> Limit:
    tested = term(piece, "filler_group")
    needed = (unless("filler_type", "nm"),)
    row = next((row for row in GROUP_ROWS if tested in row.tested), None)
    if row is None:
        missing = Unrecorded("the filler group FM1 to FM6")
        return Limit("filler_group", missing, clause(T3), when=needed, reason="filler_group")
    because = f"tested {tested}: covers {', '.join(row.covers)}"
    return Limit(
        "filler_group", OneOf(row.covers), row.clause, because, needed, reason="filler_group", tested=tested or ""
    )


def _type_row(piece: Tested, tested: str | None) -> FillerRow | None:
    rows = COVERING_ROWS if term(piece, "process") == "111" else WIRE_ROWS
    return next((row for row in rows if tested in row.tested), None)


def _type_limit(piece: Tested) -> Limit:
    tested = term(piece, "filler_type")
    row = _type_row(piece, tested)
    if row is None:
        which = "a filler type that its table lists for this process" if tested else "the filler type"
        return Limit("filler_type", Unrecorded(which), clause(T5), reason="filler_type")
    covers = _with_no_filler(piece, row.covers)
    because = f"tested {tested}: covers {', '.join(covers)}"
    return Limit("filler_type", OneOf(covers), row.clause, because, reason="filler_type", tested=tested or "")


def _with_no_filler(piece: Tested, covers: tuple[str, ...]) -> tuple[str, ...]:
    return (*covers, "nm") if term(piece, "process") in AUTOGENOUS else covers


def _root_limits(piece: Tested) -> tuple[Limit, ...]:
    """The filler of a root run without backing; only a test in ss nb can cover one, so only it has this limit."""
    if term(piece, "weld_detail") != "ss_nb":
        return ()
    tested = term(piece, "root_filler_type") or term(piece, "filler_type")
    if tested in ("S", "M"):
        covers = _with_no_filler(piece, ("S", "M"))
        because = f"root tested with {tested}: solid and metal-cored cover each other in the root too"
        stated: tuple[When, ...] = (OPEN_ROOT, IfStated("root_filler_type", Free()))
        return (_root_limit(covers, ROOT_CORED, because, stated, tested),)
    if tested is None:
        return ()
    where = ROOT_COVERED if term(piece, "process") == "111" else ROOT_CORED
    because = f"root tested with {tested}, without backing: no other covering or core is covered in the root"
    return (_root_limit((tested,), where, because, (OPEN_ROOT,), tested),)


def _root_limit(covers: tuple[str, ...], where: Clause, because: str, when: tuple[When, ...], tested: str) -> Limit:
    return Limit("root_filler_type", OneOf(covers), where, because, when, reason="filler_type", tested=tested)


def _without_filler(piece: Tested) -> tuple[Limit, ...]:
    """A test without filler covers no filler, and the parent group of the test only."""
    process = terms(piece, "process")
    because = "tested without filler: covers welding without filler only"
    same = (when_is("process", *process),)
    groups = _parent_groups(piece)
    allowed = ParentGroups(groups) if groups else Unrecorded("the parent group, which decides where no filler is used")
    parent = f"tested without filler on parent group {', '.join(groups)}: covers the same group"
    return (
        Limit("filler_type", OneOf(("nm",)), NO_FILLER, because, same, reason="filler_type", tested="nm"),
        Limit("steels", allowed, PARENT_GROUP, parent if groups else "", same, reason="filler_group"),
    )


def _parent_groups(piece: Tested) -> tuple[str, ...]:
    value = piece.get("steels")
    if value is None:
        return ()
    pairs = [pair for pair in atoms(value) if isinstance(pair, SteelPair)]
    groups = [steel.main_group for pair in pairs for steel in pair]
    return tuple(dict.fromkeys(groups)) if all(groups) else ()
