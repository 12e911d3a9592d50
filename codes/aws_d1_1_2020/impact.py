"""AWS D1.1, supplementary variables where Charpy (CVN) values are required [2015 Table 4.6].

A record that lacks only CVN tests needs one more plate for them, welded in the same way.
"""

from dataclasses import dataclass
from decimal import Decimal

from codes.aws_d1_1.base_metals import same_steel
from codes.aws_d1_1.book import CVN_FORUM, OWN, Rule, rule
from codes.aws_d1_1.piece import Piece, unrecorded
from codes.aws_d1_1.positions import VERTICAL, in_position
from codes.aws_d1_1.unit_sets import Degrees, Size, Units, ceiling_thousandth
from codes.aws_d1_1_2020.consumable import OfClass
from codes.aws_d1_1_2020.heat import heat_input_of
from codes.aws_d1_1_2020.metals import bands, group_of, group_readings, inside
from codes.aws_d1_1_2020.switches import GRADE_GROUPS, lenient
from codes.aws_d1_1_2020.tolerance import around, either_way
from codes.clauses import Clause, Mark
from codes.limits import Limit, OneOf, When, Within, when_is
from codes.values import Atom, Interval, Steel, SteelPair, number

TESTED = rule("CVN", Mark.PART, CVN_FORUM)
MEASURE = rule("heat input", Mark.OWN, OWN)
_SEEN = ("2", "6")
_LINES = {
    one: Rule("CVN", Mark.CONFIRMED, CVN_FORUM, one) if one in _SEEN else Rule("CVN", Mark.MEMORY, "from memory", one)
    for one in map(str, range(1, 15))
}

REQUIRED: tuple[When, ...] = (when_is("impact_required", "yes"),)
THIN, THIN_LEAST, LEAST = Size("1/4", "6"), Size("1/8", "3"), Size("5/8", "16")
HOTTER = Degrees(100, 55)
TIME = Decimal("0.8")
"""The test's holding time is at least this part of the production time."""
WEAVE = either_way(20)
MACHINE = when_is("mechanisation", "fully_mechanised", "automatic")


@dataclass(frozen=True, slots=True)
class OfGroups:
    """Steels of the tested AWS groups, at a thickness [mm] that stands for a band."""

    groups: tuple[str, ...]
    thickness: Decimal
    units: Units
    whatever_group: tuple[Steel, ...] = ()

    def admits(self, atom: Atom) -> bool:
        return isinstance(atom, SteelPair) and all(self._fits(steel) for steel in atom)

    def _fits(self, steel: Steel) -> bool:
        return self._group(steel) in self.groups or any(same_steel(steel, one) for one in self.whatever_group)

    def _group(self, steel: Steel) -> str:
        return group_of(steel, self.thickness, self.units)

    def unstated(self, atom: Atom) -> str:
        bare = isinstance(atom, SteelPair) and not all(steel.grade for steel in atom)
        return f"the grade of {atom} is not stated, AWS groups go by grade" if bare else ""

    def margin(self, atom: Atom) -> Decimal | None:
        return None

    def __str__(self) -> str:
        return f"steels of group {', '.join(self.groups)}"


def limits(piece: Piece) -> tuple[Limit, ...]:
    """What holds only where CVN values are required."""
    tested = piece.word("impact_tested")
    clause = TESTED.of(piece.book)
    if not tested:
        return (unrecorded("impact_required", clause, "whether CVN tests were made", REQUIRED, "impact"),)
    if tested == "no":
        because = "tested without CVN; one more plate for CVN closes the gap"
        return (Limit("impact_required", OneOf(("no",)), clause, because, REQUIRED, reason="impact"),)
    return (
        *_group(piece),
        *_thickness(piece),
        *_consumables(piece),
        *_vertical(piece),
        *_temperatures(piece),
        *_heat(piece),
        *_technique(piece),
    )


def _line(piece: Piece, number_: str) -> Clause:
    return _LINES[number_].of(piece.book)


def _group(piece: Piece) -> tuple[Limit, ...]:
    pairs, t = piece.pairs(), piece.least("parent_t")
    if not pairs:
        return ()  # asked for already
    groups = tuple(dict.fromkeys(group_of(steel, t, piece.units) for steel in pairs[0]))
    found = []
    same = tuple(pairs[0]) if lenient(GRADE_GROUPS, piece.settings) else ()
    readings = group_readings(piece)
    for band in bands(piece.units):
        when = (*REQUIRED, When("parent_t", Within(band)))
        allowed = OfGroups(groups, inside(band), piece.units, same)
        because = f"tested {allowed}"
        found.append(Limit("steels", allowed, _line(piece, "1"), because, when, readings, reason="base_metal"))
    return tuple(found)


def _thickness(piece: Piece) -> tuple[Limit, ...]:
    t = piece.least("parent_t")
    if t is None:
        return ()
    clause = _line(piece, "2")
    thin = t < piece.mm(THIN)
    least = piece.mm(THIN_LEAST) if thin else min(t, piece.mm(LEAST))
    words = f"{THIN_LEAST} and over" if thin else f"the lesser of T and {LEAST}, and over"
    because = f"tested T = {piece.said(t)} with CVN: {words}"
    span = Within(Interval(least, None, "mm"))
    return (Limit("parent_t", span, clause, because, REQUIRED, reason="thickness_with_impact"),)


def _consumables(piece: Piece) -> tuple[Limit, ...]:
    submerged = piece.family == "SAW"
    found: list[Limit] = []
    if piece.filler is not None:
        clause = _line(piece, "4" if submerged else "3")
        because = f"tested {piece.filler.name} with CVN"
        found.append(
            Limit("filler_designation", OfClass(piece.filler), clause, because, REQUIRED, reason="filler_class")
        )
    if submerged:
        tested = piece.word("flux_recrushed")
        clause = _line(piece, "5")
        if not tested:
            found.append(unrecorded("flux_recrushed", clause, when=REQUIRED))
        elif tested == "no":
            found.append(Limit("flux_recrushed", OneOf(("no",)), clause, "tested with virgin flux", REQUIRED))
    found.extend(_as_tested(piece, "current_type", "10", REQUIRED))
    found.extend(_count(piece))
    return tuple(found)


def _count(piece: Piece) -> tuple[Limit, ...]:
    tested = piece.least("electrodes")
    if tested is None:
        return ()
    span = Within(Interval(tested, tested)) if tested == 1 else Within(Interval(Decimal(2), None))
    because = f"tested with {number(tested)}"
    return (Limit("electrodes", span, _line(piece, "14"), because, REQUIRED),)


def _as_tested(piece: Piece, name: str, line: str, when: tuple[When, ...]) -> tuple[Limit, ...]:
    tested = piece.words(name)
    if not tested:
        return (unrecorded(name, _line(piece, line), when=when),)
    return (Limit(name, OneOf(tested), _line(piece, line), f"tested {', '.join(tested)}", when),)


def _vertical(piece: Piece) -> tuple[Limit, ...]:
    """Line 6: to vertical up needs a CVN test made so. Which plate gave the values counts, not which was welded."""
    clause = _line(piece, "6")
    when = (*REQUIRED, in_position(VERTICAL))
    positions, progression = piece.words("aws_position"), piece.words("progression")
    stated = piece.word("impact_vertical_up")
    if not stated and positions in (("3G",), ("3F",)) and len(progression) == 1:
        stated = "yes" if progression[0] == "uphill" else "no"
    if stated == "yes":
        return ()
    if not stated:
        field = "whether the CVN plate was welded vertical up"
        uphill = (*when, when_is("progression", "uphill"))
        return (unrecorded("progression", clause, field, uphill, "impact_position"),)
    because = "the CVN plate was not welded vertical up"
    return (Limit("progression", OneOf(("downhill",)), clause, because, when, reason="impact_position"),)


def _temperatures(piece: Piece) -> tuple[Limit, ...]:
    found: list[Limit] = []
    hottest = piece.most("interpass")
    clause = _line(piece, "7")
    if hottest is None:
        found.append(unrecorded("interpass", clause, "the highest interpass temperature", REQUIRED))
    else:
        most = hottest + HOTTER.celsius(piece.units)
        most = ceiling_thousandth(most) if piece.units is Units.US else most
        because = f"tested up to {piece.said(hottest, '°C')}, hotter by {HOTTER} at most"
        found.append(Limit("interpass", Within(Interval(None, most, "°C")), clause, because, REQUIRED))
    if piece.word("pwht") == "yes":
        found.extend(_treatment(piece))
    return tuple(found)


def _treatment(piece: Piece) -> tuple[Limit, ...]:
    clause = _line(piece, "8")
    degrees, minutes = piece.numbers("pwht_temperature"), piece.most("pwht_minutes")
    if not degrees or minutes is None:
        return (unrecorded("pwht_temperature", clause, "temperature and time of the heat treatment", REQUIRED),)
    most = minutes / TIME
    because = f"tested {number(minutes)} min, at least 80 % of the production time"
    return (
        Limit("pwht_temperature", Within(Interval(min(degrees), max(degrees), "°C")), clause, "as tested", REQUIRED),
        Limit("pwht_minutes", Within(Interval(None, most, "min")), clause, because, REQUIRED),
    )


def _heat(piece: Piece) -> tuple[Limit, ...]:
    """Line 9: no more heat input than tested, worked out in the same way and without an arc efficiency."""
    clause, tested = _line(piece, "9"), heat_input_of(piece)
    if tested is None:
        return (unrecorded("heat_input", clause, when=REQUIRED),)
    said = piece.said(tested, "kJ/mm")
    most = Within(Interval(None, tested, "kJ/mm"))
    found = [Limit("heat_input", most, clause, f"tested {said}, no increase", REQUIRED, tested=said)]
    how = MEASURE.of(piece.book)
    measure = "arc energy: D1.1 knows no arc efficiency"
    found.append(Limit("heat_measure", OneOf(("arc_energy",)), how, measure, REQUIRED, assumed="arc_energy"))
    if piece.family in ("SMAW", "SAW"):
        return tuple(found)
    method = piece.words("heat_method") or ("conventional",)
    controlled = (*REQUIRED, when_is("waveform_controlled", "yes"))
    because = f"tested by the {method[0]} method; waveform-controlled welding is compared on instantaneous energy"
    allowed = OneOf(("instantaneous",) if "instantaneous" in method else ())
    needs = "both heat inputs from instantaneous energy or power"
    found.append(Limit("heat_method", allowed, how, because, controlled, reason="heat_input", needs=needs))
    return tuple(found)


def _technique(piece: Piece) -> tuple[Limit, ...]:
    """Lines 11 to 13: stringer to weave (vertical), multiple to single pass, oscillation of a machine."""
    found: list[Limit] = []
    weave = piece.word("weave")
    vertical = (*REQUIRED, in_position(VERTICAL))
    if not weave:
        found.append(unrecorded("weave", _line(piece, "11"), when=vertical))
    elif weave == "stringer":
        found.append(Limit("weave", OneOf(("stringer",)), _line(piece, "11"), "tested as stringer", vertical))
    if "multi_run" in piece.words("run_type"):
        because = "tested with several passes a side"
        found.append(Limit("run_type", OneOf(("multi_run",)), _line(piece, "12"), because, REQUIRED))
    elif not piece.word("run_type"):
        found.append(unrecorded("run_type", _line(piece, "12"), when=REQUIRED))
    for name in ("weave_width", "weave_frequency", "weave_dwell"):
        if piece.numbers(name):
            found.append(around(piece, name, WEAVE, _line(piece, "13"), (*REQUIRED, MACHINE)))
    return tuple(found)
