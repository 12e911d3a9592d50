"""AWS D1.1:2020, Table 6.12: process, electrode group, progression, backing and electrodes, line by line."""

from codes.aws_d1_1_people_2020.clauses import (
    RADIOGRAPHY,
    TABLE_6_10_COPY,
    UPHILL,
    VARIABLES_PAGE,
    confirmed,
    doubtful,
    memory,
    partly,
)
from codes.aws_d1_1_people_2020.f_numbers import ROWS as GROUPS
from codes.aws_d1_1_people_2020.f_numbers import TABLE_6_13, smaw_group
from codes.aws_d1_1_people_2020.switches import FCAW, PROGRESSION_OTHERS
from codes.aws_positions import WITH_VERTICAL, parts_of
from codes.aws_processes import FCAW as FCAW_NAME
from codes.aws_processes import GMAW, MEMBERS, SELF_SHIELDED, letter_name
from codes.editions import Tested
from codes.limits import Free, Limit, Nothing, OneOf, when_is
from codes.pieces import term, terms, unrecorded
from codes.readings import Settings

PROCESS = partly("Table 6.12, line 1", VARIABLES_PAGE)
SHORT_ARC = memory("Table 6.12, line 1 (GMAW-S)")
F_LINE = partly("Table 6.12, line 2; Table 6.13", VARIABLES_PAGE)
PROGRESSION = confirmed("Table 6.12, line 5", UPHILL)
PROGRESSION_OTHER = doubtful("Table 6.12, line 5")
BACKING = partly("Table 6.12, line 6", VARIABLES_PAGE)
PLATE_PIPE = confirmed("Table 6.10, notes", TABLE_6_10_COPY)
TWO_SIDES = doubtful("Table 6.12, line 6")
ELECTRODES = partly("Table 6.12, line 7", VARIABLES_PAGE)

BACKED = ("ss_mb", "ss_fb", "bs")
EVERY_DETAIL = ("ss_nb", "ss_gb", *BACKED)
GOUGED = ("mechanical", "thermal")
OTHER_MODES = ("globular", "spray", "pulsed")
CJP = when_is("weld_type", "butt_cjp", "branch")


def process_limits(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """The process by its AWS letters; short-circuiting GMAW is a process of its own."""
    tested = term(piece, "process")
    name = letter_name(tested)
    if not name or tested is None:
        return (unrecorded("process", PROCESS, field="a process that AWS has letters for"),)
    numbers, used = _cored(tested, settings) if name == FCAW_NAME else (MEMBERS[name], ())
    because = f"tested {tested} · {name}: covers {', '.join(numbers)}"
    limit = Limit("process", OneOf(numbers), PROCESS, because, readings=used, reason="process", tested=tested)
    return (limit, *(_mode_limits(piece) if name == GMAW else ()))


def _cored(tested: str, settings: Settings) -> tuple[tuple[str, ...], tuple[str, ...]]:
    numbers = MEMBERS[FCAW_NAME]
    if FCAW.option(settings) == "separate":
        self_shielded = tested in SELF_SHIELDED
        numbers = tuple(n for n in numbers if (n in SELF_SHIELDED) is self_shielded)
    return numbers, (FCAW.used(settings),)


def _mode_limits(piece: Tested) -> tuple[Limit, ...]:
    mode = term(piece, "transfer_mode")
    when = (when_is("process", *MEMBERS[GMAW]),)
    if mode is None:
        return (unrecorded("transfer_mode", SHORT_ARC, "process", when=when),)
    if mode == "dip" and term(piece, "soundness_test") == "volumetric":
        because = "tested GMAW-S by radiography: only bend tests qualify short-circuiting transfer"
        return (Limit("process", Nothing(), RADIOGRAPHY, because, reason="process", tested=mode),)
    covers = ("dip",) if mode == "dip" else OTHER_MODES
    because = f"tested {mode}: short-circuiting transfer (GMAW-S) is a process of its own"
    return (Limit("transfer_mode", OneOf(covers), SHORT_ARC, because, when, reason="process", tested=mode),)


def f_number_limits(piece: Tested) -> tuple[Limit, ...]:
    """Covered electrodes: the same group or a lower one. Example: F4 covers F1 to F4, F3 not F4."""
    if term(piece, "process") != "111":
        return ()
    tested = term(piece, "f_number") or smaw_group(term(piece, "filler_designation") or "")
    row = next((row for row in GROUPS if row.group == tested), None)
    if row is None:
        return (unrecorded("f_number", TABLE_6_13, field="the electrode's F-number (F1 to F4) or class"),)
    because = f"tested {tested}: no electrode of a higher group"
    return (Limit("f_number", OneOf(row.covers), F_LINE, because, reason="f_number", tested=tested),)


def progression_limits(piece: Tested, settings: Settings, person: str = "welder") -> tuple[Limit, ...]:
    """Uphill and downhill each need their own test, wherever the weld contains a vertical part."""
    if "V" not in parts_of(terms(piece, "aws_position")):
        return ()
    others = person != "welder"
    where = PROGRESSION_OTHER if others else PROGRESSION
    used = (PROGRESSION_OTHERS.used(settings),) if others else ()
    if others and PROGRESSION_OTHERS.option(settings) == "welders":
        return (Limit("progression", Free(), where, "binds welders only", readings=used),)
    when = (when_is("aws_position", *WITH_VERTICAL),)
    tested = terms(piece, "progression")
    if not tested:
        return (unrecorded("progression", where, "progression", when=when),)
    because = f"tested {' and '.join(tested)}: uphill does not cover downhill, nor downhill uphill"
    said = ", ".join(tested)
    return (Limit("progression", OneOf(tested), where, because, when, used, reason="progression", tested=said),)


def backing_limits(piece: Tested) -> tuple[Limit, ...]:
    """Tested with backing: no joint without. Welding from both sides counts as backing where it is gouged."""
    tested = term(piece, "weld_detail")
    if tested is None or tested == "ci":
        return (
            unrecorded("weld_detail", BACKING, "backing", when=(CJP,), field="backing, or welding from both sides"),
        )
    if tested in ("ss_nb", "ss_gb"):
        because = "tested from one side without backing: covers every joint with or without"
        return (_detail(EVERY_DETAIL, because, tested),)
    gouged = term(piece, "gouging")
    if tested == "bs" and gouged is None:
        return (unrecorded("gouging", BACKING, "backing", when=(CJP,), field="whether the root was gouged"),)
    if tested == "bs" and gouged == "none":
        because = "tested from both sides without gouging: no open root from one side"
        limit = Limit("weld_detail", OneOf(BACKED), TWO_SIDES, because, (CJP,), reason="backing", tested=tested)
        return (limit,)
    because = "tested with backing or backgouged: no joint without either"
    return (_detail(BACKED, because, tested), _gouging())


def _detail(covers: tuple[str, ...], because: str, tested: str) -> Limit:
    return Limit("weld_detail", OneOf(covers), BACKING, because, (CJP,), reason="backing", tested=tested)


def _gouging() -> Limit:
    when = (CJP, when_is("weld_detail", "bs"))
    because = "welded from both sides: counts as backed only where the root is gouged"
    return Limit("gouging", OneOf(GOUGED), BACKING, because, when, reason="backing")


def plate_backing_on_pipe() -> tuple[Limit, ...]:
    """Plate tests serve pipe and box tubing with backing or gouging only, whatever the test had."""
    when = (when_is("weld_type", "butt_cjp"), when_is("product", "pipe"))
    because = "tested on plate: pipe and box tubing only with backing or backgouging"
    return (
        Limit("weld_detail", OneOf(BACKED), PLATE_PIPE, because, when, reason="backing"),
        Limit("gouging", OneOf(GOUGED), PLATE_PIPE, because, (*when, when_is("weld_detail", "bs")), reason="backing"),
    )


def electrode_limits(piece: Tested) -> tuple[Limit, ...]:
    """Operators: a test with one electrode does not cover several; the reverse it does."""
    tested = term(piece, "wire_system")
    if tested is None:
        return (unrecorded("wire_system", ELECTRODES, "electrodes", field="one electrode or several"),)
    if tested != "single":
        because = "tested with several electrodes: covers one as well"
        return (Limit("wire_system", Free(), ELECTRODES, because, reason="electrodes", tested=tested),)
    because = "tested with one electrode: not several"
    return (Limit("wire_system", OneOf(("single",)), ELECTRODES, because, reason="electrodes", tested=tested),)
