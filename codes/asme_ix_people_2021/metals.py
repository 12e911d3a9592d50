"""ASME IX, QW-423 (P-numbers), QW-433 (F-numbers) and QW-402.4 (backing): materials of a welder's test as limits."""

from dataclasses import dataclass

from codes.asme_ix_people_2021.clauses import (
    BACKING,
    BACKING_SAW,
    F_NUMBERS,
    OLDER_SHEET,
    P_NUMBERS_2023,
    confirmed,
    doubtful,
    partly,
)
from codes.asme_ix_people_2021.switches import F5_F1
from codes.asme_ix_tables import f_number, p_row
from codes.aws_processes import SAW, letter_name
from codes.clauses import Clause
from codes.editions import Tested
from codes.limits import Limit, OneOf, when_is
from codes.pieces import term, terms, unrecorded
from codes.readings import Settings
from codes.terms import tokens
from codes.values import SteelPair, atoms

UNASSIGNED = "unassigned"
QW_423 = confirmed("QW-403.18, QW-423", P_NUMBERS_2023)
QW_423_COPPER = doubtful("QW-403.18, QW-423")
NOT_VERIFIED = "; the P-number of the test metal is not verified"
OPEN = ("ss_nb", "ss_gb", "ss_fb", "ci")
BACKED = ("ss_mb", "bs")
FULL = when_is("weld_type", "butt_cjp", "branch")


@dataclass(frozen=True, slots=True)
class PFamily:
    """P-numbers that cover each other, in any mix; `alone`: only the same number."""

    members: tuple[str, ...]
    clause: Clause
    alone: bool = False


def _numbers(*first_letters: str) -> tuple[str, ...]:
    return tuple(p for p in tokens("p_number") if p[1:].rstrip("ABCDEFGHIJK") in first_letters)


# Backing gas may not be left out on these even where the joint is backed (QW-408.8).
GAS_BOUND = ("P10I", *_numbers("51", "52", "53", "61", "62"))
FAMILIES = (
    PFamily(_numbers(*map(str, range(1, 16)), "34", *map(str, range(41, 50))), QW_423),
    PFamily(_numbers(*map(str, range(21, 27))), QW_423),
    PFamily(_numbers("51", "52", "53", "61", "62"), QW_423),
    PFamily(_numbers("31", "32", "33", "35"), QW_423_COPPER, alone=True),
)


@dataclass(frozen=True, slots=True)
class FRow:
    """F-numbers tested and covered: with backing, and without where the test was without."""

    tested: tuple[str, ...]
    backed: tuple[str, ...]
    open: tuple[str, ...]
    clause: Clause


def _group(*members: str) -> FRow:
    return FRow(members, members, members, partly("QW-404.15, QW-433", OLDER_SHEET))


_STEPS = partly("QW-404.15, QW-433", F_NUMBERS)
F_ROWS = (
    FRow(("F1",), ("F1",), ("F1",), _STEPS),
    FRow(("F2",), ("F1", "F2"), ("F2",), _STEPS),
    FRow(("F3",), ("F1", "F2", "F3"), ("F3",), _STEPS),
    FRow(("F4",), ("F1", "F2", "F3", "F4"), ("F4",), _STEPS),
    # An older sheet lets F-5 cover F-1 to F-4: the narrower row is taken.
    FRow(("F5",), ("F1", "F5"), ("F5",), doubtful("QW-404.15, QW-433", OLDER_SHEET)),
    _group("F6"),
    _group(*(f"F{n}" for n in range(21, 27))),
    *(_group(f"F{n}") for n in (31, 32, 33, 35, 36, 37)),
    _group("F34", *(f"F{n}" for n in range(41, 47))),
    _group(*(f"F{n}" for n in range(51, 57))),
    *(_group(f"F{n}") for n in (61, 71, 72)),
)


def tested_p_numbers(piece: Tested) -> tuple[tuple[str, ...], bool]:
    """The P-numbers of the test, stated or looked up by grade, and whether all look-ups are verified."""
    stated = terms(piece, "p_number")
    if stated:
        return stated, True
    pairs = [atom for atom in atoms(piece.get("steels") or ()) if isinstance(atom, SteelPair)]
    grades = [steel.grade for pair in pairs for steel in pair]
    rows = [p_row(grade) for grade in grades] if all(grades) else []
    found = dict.fromkeys(row.p_number if row else UNASSIGNED for row in rows)
    return tuple(found), all(row.verified for row in rows if row)


def p_number_limits(piece: Tested) -> tuple[Limit, ...]:
    """Example: P-1 covers every steel and nickel alloy, in any mix; P-31 covers P-31 only."""
    tested, verified = tested_p_numbers(piece)
    if not tested:
        return (unrecorded("p_number", QW_423, field="the P-number of the test metal"),)
    families = [family for family in FAMILIES if set(family.members) & set(tested)]
    covers = dict.fromkeys(p for f in families for p in (tested if f.alone else f.members))
    known = tuple(p for p in covers if p != UNASSIGNED)
    where = next((f.clause for f in families if f.alone), QW_423)
    because = f"tested {' and '.join(tested)}{'' if verified else NOT_VERIFIED}"
    evidence = "proof that the unassigned metal is like one that is covered (the same grade, or the same chemistry)"
    said = ", ".join(tested)
    on_unassigned = (when_is("p_number", UNASSIGNED),)
    return (
        Limit("p_number", OneOf((*known, UNASSIGNED)), where, because, reason="p_number", tested=said),
        Limit("p_number", OneOf(known), QW_423, because, on_unassigned, reason="p_number", needs=evidence),
    )


def f_number_limits(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """Example: F-4 without backing covers F-1 to F-4 with backing, and F-4 without."""
    tested = term(piece, "f_number") or f_number(term(piece, "filler_designation") or "")
    row = next((row for row in F_ROWS if tested in row.tested), None)
    if row is None:
        return (unrecorded("f_number", _STEPS, field="the F-number or class of the filler"),)
    used = (F5_F1.used(settings),) if tested == "F5" else ()
    backed = row.backed
    if tested == "F5" and F5_F1.option(settings) == "no":
        backed = ("F5",)
    because = f"tested {tested}: with backing {', '.join(backed)}"
    limit = Limit("f_number", OneOf(backed), row.clause, because, (), used, reason="f_number", tested=tested)
    if detail_of(piece) not in OPEN:
        return (limit,)
    without = f"tested {tested} without backing: without backing {', '.join(row.open)}"
    when = (FULL, when_is("weld_detail", *OPEN))
    return (limit, Limit("f_number", OneOf(row.open), row.clause, without, when, used, "f_number", tested=tested))


def detail_of(piece: Tested) -> str | None:
    """Sides and backing of the test; whoever filled over another process's root had weld metal as backing."""
    # Fillets and partial penetration count as with backing.
    if term(piece, "place") == "fill" or term(piece, "weld_type") in ("butt_pjp", "fillet"):
        return "ss_mb"
    return term(piece, "weld_detail")


def backing_limits(piece: Tested) -> tuple[Limit, ...]:
    """Tested with backing (welded from both sides counts): no full-penetration joint without."""
    where = BACKING_SAW if letter_name(term(piece, "process")) == SAW else BACKING
    tested = detail_of(piece)
    if tested is None:
        return (unrecorded("weld_detail", where, "backing", when=(FULL,), field="backing, or none"),)
    without = tested in OPEN
    covers = (*OPEN, *BACKED) if without else BACKED
    because = "tested with backing: no full-penetration joint from one side without"
    if without:
        because = "tested without backing: covers joints with and without"
    return (Limit("weld_detail", OneOf(covers), where, because, (FULL,), reason="backing", tested=tested),)
