"""Test pieces to ISO 15614-1 that its tables suggest for what uncovered joints need."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import product, zip_longest

from codes.check import outcome_of
from codes.editions import edition
from codes.readings import Settings
from codes.values import SteelPair, Value, atoms
from codes.verdict import Outcome
from joints.planning.needs import Need
from joints.planning.pieces import PROCEDURE_CODE, Piece, edges, piece
from joints.planning.telling import Each, telling, unheard

MULTI, SINGLE, FILLET = ("1", "2", "0.5"), ("1", "1.3", "1.1", "0.5"), ("1", "2", "1.2", "0.5")
"""Table 7 (several runs, one run) and Table 8: multiples of the tested thickness at which a range ends."""
FIXED = ("3", "12", "30")
"""Tested thicknesses at which the tables change rows."""
THROATS = ("1", "1.5", "0.75")
SHAPE = ("weld_type", "joint_type", "product", "weld_detail", "gouging", "diameter", "branch_angle")
BUTT = {"weld_type": "butt_cjp", "joint_type": "butt", "weld_detail": "ss_nb"}
FLAT_INSTEAD = {"PB": "PA", "PD": "PE"}
"""ISO 6947 has these positions for fillets and T-joints; a butt joint lies flat, or overhead, instead."""
PLACES = ("position", "impact_positions", "hardness_positions")
GROUP = ("process", "mechanisation", "pwht")
Values = dict[str, Value]


def procedure_pieces(needs: Sequence[Need], settings: Settings, each: Each = unheard) -> Iterator[Piece]:
    """All suggestions, of each group in turn, so that none goes short where there are too many: process, mechanisation
    and heat treatment are never covered by another. `each` is called again and again; what it raises ends it.
    """
    groups: dict[tuple[object, ...], list[Mapping[str, Value]]] = {}
    for need in needs:
        key = tuple(need.boxes[0].get(name) for name in GROUP)
        groups.setdefault(key, []).extend(need.boxes)
    groups_in_turn: list[Iterator[Piece]] = []
    for key, demands in groups.items():
        head = {name: value for name, value in zip(GROUP, key, strict=True) if value is not None}
        if len(head) == len(GROUP):
            groups_in_turn.append(_of_group(head, demands, settings, each))  # type: ignore[arg-type]
    for several in zip_longest(*groups_in_turn):
        yield from (one for one in several if one is not None)


def _of_group(head: Values, demands: Sequence[Mapping[str, Value]], settings: Settings, each: Each) -> Iterator[Piece]:
    steels = highest(demands, settings)
    level = max((d for demand in demands for d in _numbers(demand, "level")), default=Decimal(2))
    for shape, run, steel in product(_shapes(demands), _runs(demands), steels):
        places = _places(demands, shape)
        base = head | {"level": level} | shape | run | steel
        for size, place in product(_sizes(demands, base, places, settings, each), places):
            found = piece(PROCEDURE_CODE, "procedure", base | size | place, settings)
            if found is not None:
                yield found


def _shapes(demands: Sequence[Mapping[str, Value]]) -> list[Values]:
    """Each weld that is needed, and a butt joint from one side, which covers the most; where the position of the tests
    binds and has no butt joint, the same weld in a T-joint.
    """
    found = [{name: demand[name] for name in SHAPE if name in demand} for demand in demands]
    for shape in list(found):
        if shape.get("product") == "plate":
            found.append(shape | BUTT | {"gouging": "none"})
    if any(_binds(demand) and demand.get("position") in FLAT_INSTEAD for demand in demands):
        found += [shape | {"joint_type": "tee"} for shape in found if _is_butt_joint(shape)]
    for shape in found:
        if shape.get("weld_type") == "fillet":
            shape.pop("weld_detail", None)
            shape.pop("gouging", None)
    return _different(shape for shape in found if {"weld_type", "joint_type", "product"} <= shape.keys())


def _runs(demands: Sequence[Mapping[str, Value]]) -> list[Values]:
    return _different({"run_type": demand["run_type"]} for demand in demands)


def _sizes(
    demands: Sequence[Mapping[str, Value]], base: Values, places: Sequence[Values], settings: Settings, each: Each
) -> list[Values]:
    """Thickness at the rows' edges, with the throat where a single run limits it; of sizes that cover no more than
    others do, none. What a thickness covers depends neither on the throat, nor the other way round, nor on the
    position; on the impact tests it may.
    """
    thick, throats = size_values(demands, base)
    tests = {tuple((name, value) for name, value in one.items() if name not in PLACES): one for one in places}
    places = list(tests.values())
    others = [base | place | (throats[0] if throats else {}) for place in places]
    thick = telling(thick, others, demands, settings, each)
    at_first = [base | place | thick[0] for place in places] if thick else []
    throats = telling(throats, at_first, demands, settings, each) if thick else []
    return [t | a for t, a in product(thick, throats)] or thick


def size_values(demands: Sequence[Mapping[str, Value]], base: Values) -> tuple[list[Values], list[Values]]:
    """The thicknesses, and the throats of a fillet, that the tables suggest for the demands welded in as many runs."""
    alike = [demand for demand in demands if demand.get("run_type") == base["run_type"]]
    parts = [t for demand in alike for t in _numbers(demand, "parent_t")]
    fillet, single = base["weld_type"] == "fillet", base["run_type"] == "single_run"
    factors = FILLET if fillet else (*SINGLE, *FILLET) if single else (*MULTI, *FILLET)
    thick: list[Values] = [{"parent_t": t} for t in edges(set(parts), factors, FIXED)]
    if not fillet:
        return thick, []
    needed = {a for demand in alike for a in _numbers(demand, "throat_a")}
    throats = edges(needed, THROATS) if single else tuple(sorted(needed))[-1:]
    return thick, [{"throat_a": a} for a in throats]


def _places(demands: Sequence[Mapping[str, Value]], shape: Values) -> list[Values]:
    """Positions with the tests that the job requires; without a requirement any position serves all but down."""
    impact = any(demand.get("impact_required") == "yes" for demand in demands) and shape["weld_type"] != "fillet"
    hard = any(demand.get("hardness_required") == "yes" for demand in demands)
    tests: Values = {"impact_tested": _yes(impact), "hardness_tested": _yes(hard)}
    cold = [t for demand in demands for t in _numbers(demand, "impact_temperature")]
    tests |= {"impact_temperature": min(cold)} if impact and cold else {}
    wanted = [demand["position"] for demand in demands if "position" in demand]
    if _is_butt_joint(shape):
        wanted = [FLAT_INSTEAD.get(str(one), one) for one in wanted]
    found = [tests | {"position": one} for one in wanted]
    if impact and hard:
        places: Values = {"position": ("PF", "PC"), "impact_positions": "PF", "hardness_positions": "PC"}
        found.append(tests | places)
    return _different(found)


def _binds(demand: Mapping[str, Value]) -> bool:
    """True where the joint requires what was tested in some positions only."""
    return "yes" in (demand.get("impact_required"), demand.get("hardness_required"))


def _is_butt_joint(shape: Values) -> bool:
    return shape.get("joint_type") == "butt" and shape.get("product") == "plate"


def highest(demands: Sequence[Mapping[str, Value]], settings: Settings) -> list[Values]:
    """The steels needed that no other needed steel covers: the highest yield of each family."""
    pairs = list(dict.fromkeys(a for d in demands for a in atoms(d.get("steels", ())) if isinstance(a, SteelPair)))
    known = edition(PROCEDURE_CODE)
    limits = {
        pair: [
            one for one in known.limit_sets([{"steels": pair}], dict(settings))[0].limits if one.variable == "steels"
        ]
        for pair in pairs
    }

    def reaches(tested: SteelPair, wanted: SteelPair) -> bool:
        return all(outcome_of({"steels": wanted}, limit) is Outcome.COVERED for limit in limits[tested])

    kept: list[SteelPair] = []
    for pair in pairs:
        if any(reaches(other, pair) for other in kept):
            continue
        kept = [other for other in kept if not reaches(pair, other)] + [pair]
    return [{"steels": pair} for pair in kept]


def _numbers(demand: Mapping[str, Value], name: str) -> list[Decimal]:
    return [atom for atom in atoms(demand.get(name, ())) if isinstance(atom, Decimal)]


def _yes(said: bool) -> str:
    return "yes" if said else "no"


def _different(found: Iterable[Values]) -> list[Values]:
    return list({tuple(sorted(one.items(), key=lambda item: item[0])): one for one in found}.values())
