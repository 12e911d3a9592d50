"""What a demand says in ISO terms or by name, said again in the terms of the US codes: never more than it says.

Positions where ISO 6947 and AWS agree (fillets in PC do not), the F-number of a filler's class, the P-number of
grades that a table holds. A value that is stated stays as it is; what cannot be told stays unstated.
"""

from collections.abc import Mapping

from codes.asme_ix_tables import f_number, p_row
from codes.aws_positions import from_iso
from codes.values import SteelPair, Value, atoms

UNASSIGNED = "unassigned"


def with_us_terms(values: Mapping[str, Value]) -> dict[str, Value]:
    """The values with AWS position, progression, F-number and P-number added where they follow from the others.

    Example: a butt weld in PF gains 3G and uphill, E7018 gains F4, A36 gains P1; a fillet in PC gains nothing.
    """
    found = _positions(values) | _f_numbers(values) | _p_numbers(values)
    return found | dict(values)


def _positions(values: Mapping[str, Value]) -> dict[str, Value]:
    weld = values.get("weld_type")
    if weld is None or "position" not in values or isinstance(weld, tuple):
        return {}
    pairs = [from_iso(str(atom), weld == "fillet") for atom in atoms(values["position"])]
    known = [pair for pair in pairs if pair is not None]
    if len(known) < len(pairs):
        return {}
    directions = dict.fromkeys(direction for _, direction in known if direction)
    said: dict[str, Value] = {"aws_position": _value([position for position, _ in known])}
    # A progression of one's own goes with positions of one's own.
    if "aws_position" in values:
        return {}
    return said | ({"progression": _value(list(directions))} if directions else {})


def _f_numbers(values: Mapping[str, Value]) -> dict[str, Value]:
    classes = [str(atom) for atom in atoms(values["filler_designation"])] if "filler_designation" in values else []
    numbers = [f_number(one) for one in classes]
    return {"f_number": _value(numbers)} if numbers and all(numbers) else {}


def _p_numbers(values: Mapping[str, Value]) -> dict[str, Value]:
    """Grades that the table does not hold are unassigned, which no test covers without evidence."""
    if "steels" not in values:
        return {}
    pairs = [atom for atom in atoms(values["steels"]) if isinstance(atom, SteelPair)]
    grades = [steel.grade for pair in pairs for steel in pair]
    if not grades or not all(grades):
        return {}
    rows = [p_row(grade) for grade in grades]
    return {"p_number": _value([row.p_number if row else UNASSIGNED for row in rows])}


def _value(found: list[str]) -> Value:
    once = tuple(dict.fromkeys(found))
    return once[0] if len(once) == 1 else once
