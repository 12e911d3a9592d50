"""EN 1090-2, 7.4.1, Table 12: which route of procedure qualification an execution class accepts."""

from collections.abc import Iterator
from decimal import Decimal

from codes.clauses import Clause, Mark
from codes.editions import Tested
from codes.en_1090_2_2018.facts import decimal, term
from codes.en_1090_2_2018.figures import QUALIFIED, Figures, Method, in_classes
from codes.en_1090_2_2018.steel_sets import Above, InGroups, UpTo, steels
from codes.en_1090_2_2018.switches import MACHINE_ROUTES, STANDARD_PROCEDURE_CAP
from codes.limits import Limit, Nothing, OneOf, Unrecorded, Within, when_is
from codes.readings import Settings
from codes.terms import term as words
from codes.values import Interval

HAND = ("manual", "partly_mechanised")
GATE = "qualification method: "
REASON = "qualification_method"
REF = "7.4.1, Table 12"

CONSUMABLES = Clause("ISO 15610:2023", "1", Mark.CONFIRMED, "scope on the AFNOR shop page")
CONSUMABLE_GROUPS = ("1.1", "8.1")
CONSUMABLE_T = Decimal(40)
CONSUMABLE_THROAT = Decimal(1)
# Route without a test of its own: no use where the joint asks for any of these.
CONSUMABLE_EXCLUDES = ("impact_required", "hardness_required", "heat_controlled", "pwht")


def method_limits(piece: Tested, figures: Figures, settings: Settings) -> Iterator[Limit]:
    """The classes that accept the record's route, and the route's own caps."""
    route = term(piece, "qualification_route")
    method = next((row for row in figures.methods if row.route == route), None)
    if method is None:
        yield Limit(
            "execution_class", Unrecorded("the qualification route"), figures.clause(REF, Mark.CONFIRMED), reason=REASON
        )
        return
    clause = figures.clause(REF, method.mark, method.source)
    yield _classes(piece, method, clause)
    yield from _level(piece, method, figures)
    yield from _hand_only(method, figures, clause, settings)
    yield from _cap(method, figures, clause, settings)
    if route == "none":
        yield from _unqualified(piece, clause)
    if route == "consumables":
        yield from _consumables()


def _name(method: Method) -> str:
    known = words("qualification_route", method.route)
    return known.iso or known.words


def _classes(piece: Tested, method: Method, clause: Clause) -> Limit:
    classes, needs = method.accepted, ""
    because = f"{GATE}{_name(method)} is accepted in {', '.join(classes)}"
    if method.with_leave:
        leave = term(piece, "allowed_by_specification")
        because += f", and in {', '.join(method.with_leave)} where the execution specification allows it"
        if leave == "yes":
            classes = (*classes, *method.with_leave)
        if leave is None:
            needs = "leave of the execution specification for this route"
    return Limit("execution_class", OneOf(classes), clause, because, reason=REASON, needs=needs, tested=_name(method))


def _level(piece: Tested, method: Method, figures: Figures) -> Iterator[Limit]:
    """ISO 15614-1 at level 2 only."""
    if method.route != "procedure_test" or not figures.level_2_only:
        return
    clause = figures.clause(REF, Mark.CONFIRMED, "German trade publisher and a French article: level 2 only")
    level = decimal(piece, "level")
    when = (in_classes(*QUALIFIED),)
    if level is None:
        yield Limit("execution_class", Unrecorded("the level of ISO 15614-1"), clause, when=when, reason="level")
    elif level < 2:
        because = f"{GATE}tested to level {level}; execution classes 2 to 4 accept ISO 15614-1 at level 2 only"
        yield Limit("execution_class", OneOf(("EXC1",)), clause, because, when, reason="level", tested=f"{level}")


def _hand_only(method: Method, figures: Figures, clause: Clause, settings: Settings) -> Iterator[Limit]:
    """Routes that do not serve a rig or a robot."""
    if not method.hand_only:
        return
    used: tuple[str, ...] = ()
    if not figures.hand_rule:
        if MACHINE_ROUTES.option(settings) == "wide":
            return
        used = (MACHINE_ROUTES.used(settings),)
        clause = figures.clause(REF, Mark.DOUBT, "not seen for 2018: a robot or rig is asked for a test of its own")
    because = f"{GATE}{_name(method)} serves welding by hand and with the torch in the hand only"
    when = (in_classes(*QUALIFIED),)
    yield Limit("mechanisation", OneOf(HAND), clause, because, when, used, REASON)


def _cap(method: Method, figures: Figures, clause: Clause, settings: Settings) -> Iterator[Limit]:
    """Routes that serve up to a grade."""
    if method.yield_cap is None:
        return
    cap = method.yield_cap
    used: tuple[str, ...] = ()
    if not figures.hand_rule:
        cap = Decimal(STANDARD_PROCEDURE_CAP.option(settings)[1:])
        used = (STANDARD_PROCEDURE_CAP.used(settings),)
        clause = figures.clause(REF, Mark.DOUBT, "2008: up to S355; a trade article on 2018 says up to S460")
    because = f"{GATE}{_name(method)} serves {UpTo(cap)}"
    when = (in_classes(*QUALIFIED), steels(Above(cap)))
    yield Limit("steels", UpTo(cap), clause, because, when, used, REASON)


def _unqualified(piece: Tested, clause: Clause) -> Iterator[Limit]:
    """In class 1 no qualification is asked for unless the specification names it."""
    specified = term(piece, "qualification_specified")
    when = (in_classes("EXC1"),)
    if specified is None:
        field = "whether the specification asks for qualified procedures in EXC1"
        yield Limit("execution_class", Unrecorded(field), clause, when=when, reason=REASON)
    elif specified == "yes":
        because = f"{GATE}the specification asks for a qualified procedure in EXC1 too"
        yield Limit("execution_class", Nothing(), clause, because, when, reason=REASON)


def _consumables() -> Iterator[Limit]:
    """The scope of ISO 15610 itself, as far as structural steel goes."""
    when = (in_classes(*QUALIFIED),)
    because = f"{GATE}ISO 15610 serves groups 1.1 and 8.1 to 40 mm, and no joint with requirements of its own"
    groups = InGroups(CONSUMABLE_GROUPS, both=True)
    yield Limit("steels", groups, CONSUMABLES, because, when, reason=REASON)
    thickness = Within(Interval(None, CONSUMABLE_T, "mm"))
    yield Limit("parent_t", thickness, CONSUMABLES, because, when, reason=REASON)
    throat = Within(Interval(CONSUMABLE_THROAT, None, "mm"))
    fillet = (*when, when_is("weld_type", "fillet"))
    yield Limit("throat_a", throat, CONSUMABLES, because, fillet, reason=REASON)
    for name in CONSUMABLE_EXCLUDES:
        yield Limit(name, OneOf(("no",)), CONSUMABLES, because, when, reason=REASON)
