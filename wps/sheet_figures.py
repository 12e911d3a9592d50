"""Values as a sheet prints them: terms by both names, figures in the reader's units, limits rounded inwards."""

from collections.abc import Iterable
from decimal import Decimal

from codes.terms import both_names, term
from codes.units import System, amount_in, at_least, at_most, figure_in, interval_in
from codes.values import Atom, Interval, Steel, SteelPair, Value, atoms
from codes.variables import VARIABLES, Kind, Variable, unit_of

LEAST = frozenset({"preheat", "capping_preheat", "interpass_min", "post_heat_temperature"})
MOST = frozenset({"interpass"})
"""Variables whose one figure is a limit: it says min or max on the sheet."""
IN_WORDS = frozenset({"product", "run_type", "transfer_mode", "gouging"})
"""Terms whose words say more to a welder than their symbols."""
WITH_WORDS = frozenset({"gas", "backing_gas", "weld_detail"})
"""Terms of which the words are printed behind the names."""
NOTHING = "none"
"""Its words alone: "none (no gas)" would say it twice."""


def said_in(name: str, value: Value, system: System) -> str:
    """A value of a variable. Example: parent_t 6 to 24 mm in US units is "0.237 to 0.944 in"."""
    variable = VARIABLES.get(name)
    parts = [_atom(name, variable, atom, system) for atom in atoms(value)]
    # A steel has commas of its own.
    mark = "; " if any(isinstance(atom, SteelPair) for atom in atoms(value)) else ", "
    return mark.join(dict.fromkeys(parts))


def _atom(name: str, variable: Variable | None, atom: Atom, system: System) -> str:
    if isinstance(atom, SteelPair):
        return pair_in(atom, system)
    if isinstance(atom, Interval):
        return str(interval_in(atom, unit_of(name), system))
    if isinstance(atom, Decimal):
        return _figure(name, atom, system)
    if variable is not None and variable.kind is Kind.TERM:
        return _term(name, variable.vocabulary, atom)
    return atom


def _term(name: str, vocabulary: str, token: str) -> str:
    one = term(vocabulary, token)
    if name in IN_WORDS or (name in WITH_WORDS and token == NOTHING):
        return one.words
    # "T-joint · T-joint" says nothing twice, nor does "manual · manual welding".
    iso, aws = one.iso.casefold(), one.aws.casefold()
    names = one.iso if one.iso and (aws in iso or iso in aws) else both_names(vocabulary, token)
    if name not in WITH_WORDS or one.words.casefold() in names.casefold():
        return names
    share = " %" if vocabulary == "gas" and one.words[-1].isdigit() else ""
    return f"{names} ({one.words}{share})"


def _figure(name: str, figure: Decimal, system: System) -> str:
    unit = unit_of(name)
    if name in LEAST:
        return f"min {at_least(figure, unit, system)}"
    if name in MOST:
        return f"max {at_most(figure, unit, system)}"
    return amount_in(figure, unit, system)


def steel_in(steel: Steel, system: System) -> str:
    """Grade, group and yield strength. Example: "S355J2+N, group 1.2, 355 MPa"."""
    strength = "" if steel.yield_mpa is None else amount_in(steel.yield_mpa, "MPa", system)
    return ", ".join(part for part in (steel.grade, steel.group_said, strength) if part)


def pair_in(pair: SteelPair, system: System) -> str:
    """Both parent materials, once where they are the same."""
    said = [steel_in(steel, system) or "not stated" for steel in pair]
    return said[0] if said[0] == said[1] else " to ".join(said)


def span_in(lo: Decimal | None, hi: Decimal | None, unit: str, system: System) -> str:
    """The range of a run, unit left to the head of the column. Example: 220, 260 gives "220–260"."""
    if lo is None and hi is None:
        return ""
    shown = interval_in(Interval(lo, hi), unit, system)
    ends = [None if end is None else figure_in(end, "", System.SI) for end in (shown.lo, shown.hi)]
    if ends[0] is None or ends[1] is None:
        return f"max {ends[1]}" if ends[0] is None else f"min {ends[0]}"
    return ends[0] if ends[0] == ends[1] else f"{ends[0]}–{ends[1]}"


def together(parts: Iterable[tuple[str, str]]) -> str:
    """What several processes state: once where all say the same, otherwise each that states something by its name.

    Example: [("135 · GMAW", "PA"), ("141 · GTAW", "PB")] gives "135 · GMAW: PA; 141 · GTAW: PB".
    """
    every = list(parts)
    if len({said for _, said in every}) <= 1:
        return every[0][1] if every else ""
    return "; ".join(f"{name}: {said}" for name, said in every if said)
