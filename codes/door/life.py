"""What a record states of its own life, as plain data: events and facts. Every message names the field."""

from collections.abc import Mapping

from codes.continuity import HAND, MACHINE
from codes.parse import BadField, Plain, parse_date, parse_value
from codes.validity import Event
from codes.values import Value
from codes.variables import VARIABLES, Kind

EVENT_KEYS = ("kind", "on", "by", "details")
USE = "use"


def of_the_test(piece: Mapping[str, Value]) -> dict[str, str]:
    """What the clocks that run on use ask of the test: process, transfer mode, employer."""
    said = {name: piece.get(name) for name in ("process", "transfer_mode")} | {"employer": piece.get("contractor")}
    return {name: value for name, value in said.items() if isinstance(value, str)}


def own_use(kind: str, piece: Mapping[str, Value]) -> dict[str, str]:
    """What a use that stands in a person's own record is taken to be where it says nothing else: a use of it."""
    mode = {"welder": HAND[0], "operator": MACHINE[0]}.get(kind)
    said = {name: piece.get(name) for name in ("process", "transfer_mode")}
    said["mechanisation"] = piece.get("mechanisation", mode)
    return {name: value for name, value in said.items() if isinstance(value, str)}


def facts_of(where: str, plain: Plain) -> dict[str, str]:
    """The facts as text, words of the trade as their tokens. Raises BadField."""
    return {name: _word(where, name, fact) for name, fact in mapping(where, plain).items()}


def events_of(where: str, plain: Plain, own: Mapping[str, str]) -> tuple[Event, ...]:
    """The events of a record. Raises BadField. `own`: what a use is of where it states no process of its own."""
    if not isinstance(plain, list):
        raise BadField(f"{where}.events", "must be a list")
    return tuple(_event(f"{where}.events[{i}]", one, own) for i, one in enumerate(plain))


def _event(where: str, plain: Plain, own: Mapping[str, str]) -> Event:
    data = mapping(where, plain)
    only(where, data, EVENT_KEYS)
    kind = data.get("kind")
    if not isinstance(kind, str) or not kind:
        raise BadField(f"{where}.kind", "must be stated, for example confirmation")
    details = facts_of(f"{where}.details", data.get("details", {}))
    if kind == USE:
        # The transfer mode of the test goes with the process of the test only.
        other = details.get("process", own.get("process")) != own.get("process")
        details = {name: value for name, value in own.items() if not (other and name == "transfer_mode")} | details
    return Event(kind=kind, on=parse_date(f"{where}.on", data.get("on")), by=str(data.get("by") or ""), details=details)


def _word(where: str, name: str, plain: Plain) -> str:
    """A fact as text. Example: process "SMAW" is "111", mechanisation "semiautomatic" is "partly_mechanised"."""
    variable = VARIABLES.get(name)
    if variable is not None and variable.kind is Kind.TERM and plain not in (None, ""):
        try:
            value = parse_value(variable, plain)
        except BadField as error:
            raise BadField(f"{where}.{name}", error.problem) from None
        return ",".join(str(one) for one in (value if isinstance(value, tuple) else (value,)))
    return _text(f"{where}.{name}", plain)


def _text(where: str, plain: Plain) -> str:
    if isinstance(plain, bool):
        return "yes" if plain else "no"
    if isinstance(plain, Mapping):
        raise BadField(where, "must be a word, a number or a list of them")
    if isinstance(plain, list):
        return ",".join(_text(where, one) for one in plain)
    return str(plain)


def mapping(where: str, plain: Plain) -> Mapping[str, Plain]:
    """The object that must stand here. Raises BadField."""
    if not isinstance(plain, Mapping):
        raise BadField(where, "must be an object")
    return plain


def only(where: str, data: Mapping[str, Plain], known: tuple[str, ...]) -> None:
    """Raises BadField for a key that is not known here."""
    for name in data:
        if name not in known:
            raise BadField(f"{where}.{name}", f"is not known here; known: {', '.join(known)}")
