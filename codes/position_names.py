"""Names of a welding position by both systems, for the kind of weld that is meant."""

from codes.aws_positions import from_iso
from codes.terms import both_names

GROOVES = frozenset({"butt_cjp", "butt_pjp", "branch"})
WAYS = {"uphill": " up", "downhill": " down"}


def position_name(token: str, weld_types: frozenset[str]) -> str:
    """Both names, that of AWS for the weld meant: a fillet in PA is 1F, a butt weld 1G; both where it may be either.

    Example: ("PF", {"fillet"}) gives "PF · 3F up". A fillet in PC has no name in AWS that says the same, nor has a
    butt weld in PB or PD: 2F and 4F are fillets.
    """
    fillet = weld_types == {"fillet"}
    if not fillet and not (weld_types and weld_types <= GROOVES):
        return both_names("position", token)
    found = from_iso(token, fillet)
    if found is None:
        return token
    name, way = found
    return f"{token} · {name}{WAYS.get(way, '')}"


def position_of(token: str, weld_type: str) -> str:
    """The same for one weld; `weld_type` is "" where it is not stated. Example: ("PA", "fillet") gives "PA · 1F"."""
    return position_name(token, frozenset({weld_type} - {""}))
