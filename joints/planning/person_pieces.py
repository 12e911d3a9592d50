"""Test pieces for people: ISO 9606-1 for hands, ISO 14732 for machines, that their tables suggest."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import product

from codes.iso_14732_2013.fields import FIELDS as OPERATOR_FIELDS
from codes.readings import Settings
from codes.values import Value, atoms
from joints.planning.needs import Need
from joints.planning.pieces import OPERATOR, OPERATOR_CODE, WELDER_CODE, Piece, edges, kind_wanted, piece

FILLER = ("filler_group", "filler_type", "root_filler_type", "transfer_mode")
THICK = {"deposit_t": Decimal(12), "layers": Decimal(3)}
"""Table 6: from 12 mm in three layers there is no upper limit."""
DETAILS = ("ss_nb",)
Values = dict[str, Value]
Boxes = Sequence[Mapping[str, Value]]


def person_pieces(needs: Sequence[Need], settings: Settings) -> Iterator[Piece]:
    """All suggestions, process by process."""
    groups: dict[tuple[str, str], list[Mapping[str, Value]]] = {}
    for need in needs:
        for box in need.boxes:
            kind = kind_wanted(box)
            if kind and box.get("process"):
                groups.setdefault((kind, str(box["process"])), []).append(box)
    for (kind, process), boxes in groups.items():
        code = OPERATOR_CODE if kind == OPERATOR else WELDER_CODE
        make = _operators if kind == OPERATOR else _welders
        for values in make(boxes):
            found = piece(code, kind, {"process": process} | values, settings)
            if found is not None:
                yield found


def _operators(boxes: Boxes) -> Iterable[Values]:
    """As the machine is set for the weld; a multi-run test, knowledge of the unit tested with it."""
    names = [field.name for field in OPERATOR_FIELDS]
    told: Values = {"run_type": "multi_run", "operator_method": "test_piece", "functional_knowledge": "yes"}
    return _different({name: box[name] for name in names if name in box} | told for box in boxes)


def _welders(boxes: Boxes) -> Iterator[Values]:
    fillers = _different({name: box[name] for name in FILLER if name in box} for box in boxes)
    products = _different(_product(box) for box in boxes if "product" in box)
    for filler, made in product(fillers, products):
        for weld, place in product([*_butts(boxes), *_fillets(boxes)], _positions(boxes)):
            yield filler | made | weld | place


def _product(box: Mapping[str, Value]) -> Values:
    return {name: box[name] for name in ("product", "diameter") if name in box}


def _positions(boxes: Boxes) -> list[Values]:
    """Each position that is needed, and those of Tables 9 and 10 that reach furthest."""
    needed = dict.fromkeys(position for box in boxes for position in atoms(box.get("position", ())))
    more = ("PC", "PD", "PE", "PF") if needed else ()
    return [{"position": one} for one in dict.fromkeys((*needed, *more))]


def _butts(boxes: Boxes) -> list[Values]:
    """Butt welds at the edges of Table 6, in the detail needed or in that which covers all."""
    mine = [box for box in boxes if str(box.get("weld_type", "")).startswith(("butt", "branch"))]
    needed = {t for box in mine for t in atoms(box.get("deposit_t", ())) if isinstance(t, Decimal)}
    details = dict.fromkeys([*(box["weld_detail"] for box in mine if "weld_detail" in box), *DETAILS])
    sizes: list[Values] = [{"deposit_t": s} for s in edges(needed, ("1", "2")) if s < 12] + [THICK] if mine else []
    welds: list[Values] = [{"weld_type": "butt_cjp", "weld_detail": d} | s for d, s in product(details, sizes)]
    fillets = any(box.get("weld_type") == "fillet" for box in boxes)
    combined: Values = {"weld_detail": "ss_mb", "combined_piece": "yes", "parent_t": Decimal(12)}
    return welds + ([{"weld_type": "butt_cjp"} | combined | THICK] if fillets and mine else [])


def _fillets(boxes: Boxes) -> list[Values]:
    """Fillet welds: Table 8 has no upper end from 3 mm; several runs cover one run too (Table 12)."""
    mine = [box for box in boxes if box.get("weld_type") == "fillet"]
    thin = [t for box in mine for t in atoms(box.get("parent_t", ())) if isinstance(t, Decimal) and t < 3]
    sizes = [*edges(set(thin), ("1", "2")), Decimal(10)]
    runs = dict.fromkeys(str(box["run_type"]) for box in mine if "run_type" in box)
    return [{"weld_type": "fillet", "parent_t": t, "run_type": run} for t, run in product(sizes, runs)]


def _different(found: Iterable[Values]) -> list[Values]:
    return list({tuple(sorted(one.items(), key=lambda item: item[0])): one for one in found}.values())
