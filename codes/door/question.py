"""A question as plain data to typed values. Every message names the field."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from codes.door.life import events_of, facts_of, mapping, of_the_test, only, own_use
from codes.door.us_forms import US_CODES, in_iso_words, spelled_out
from codes.editions import Edition, UnknownEdition, edition
from codes.own_grades import of_plain, own_grades
from codes.parse import BadField, Plain, parse_date, parse_values
from codes.readings import Settings
from codes.steels import Grade, with_grades
from codes.us_terms import with_us_terms
from codes.validity import ValidityInput
from codes.values import Value
from codes.variables import VARIABLES

UNSTATED_CHOICES = ("not stated", "as tested", "not asked")
RECORD_KEYS = (
    "kind",
    "code",
    "label",
    "tested",
    "tested_on",
    "results_on",
    "option",
    "printed_until",
    "facts",
    "events",
)
QUESTION_KEYS = ("id", "record", "records", "demand", "on", "settings", "unstated", "steel_grades")
KIND_WORDS = {
    "wpqr": "procedure",
    "pqr": "procedure",
    "welding operator": "operator",
    "weld setter": "operator",
    "tack welder": "tack_welder",
}
PREQUALIFIED = "prequalified"
ISO_TERMS = "ASME IX"
"""US code whose procedures are kept in ISO terms of position and gas."""


@dataclass(frozen=True, slots=True)
class Record:
    """A record as asked about: edition, kind, test pieces, and what it states of its life (None: nothing).

    `where` is its place in the question, for messages.
    """

    edition: Edition
    kind: str
    label: str
    pieces: tuple[dict[str, Value], ...]
    life: ValidityInput | None
    where: str = "record"


@dataclass(frozen=True, slots=True)
class Question:
    """A question ready to be answered. `unstated`: what becomes of variables that the demand leaves out.

    "not stated" answers as for a real joint. The other two are what-ifs, never proof: "as tested" takes them from
    the test piece, "not asked" does that too and then judges only the variables that the demand names.
    """

    ident: str
    records: tuple[Record, ...]
    demand: dict[str, Value]
    on: date | None
    settings: Settings
    unstated: str


def read_question(plain: Plain) -> Question:
    """The question of a JSON object. Raises BadField naming the field and the remedy."""
    data = mapping("question", plain)
    only("question", data, QUESTION_KEYS)
    own = _own_grades(data)
    records = _records(data, own)
    unstated = data.get("unstated", UNSTATED_CHOICES[0])
    if unstated not in UNSTATED_CHOICES:
        raise BadField("unstated", f"must be one of: {', '.join(UNSTATED_CHOICES)}")
    on = data.get("on")
    demand = _demand(data, records, own)
    if not demand and on is None:
        raise BadField("demand", "state what is demanded, or a date in `on`, or both")
    return Question(
        ident=str(data.get("id", "")),
        records=records,
        demand=demand,
        on=None if on is None else parse_date("on", on),
        settings=_settings(data, records),
        unstated=str(unstated),
    )


def _own_grades(data: Mapping[str, Plain]) -> tuple[Grade, ...]:
    try:
        return own_grades(of_plain(data.get("steel_grades", [])))
    except ValueError as error:
        raise BadField("steel_grades", str(error)) from None


def _demand(data: Mapping[str, Plain], records: tuple[Record, ...], own: tuple[Grade, ...]) -> dict[str, Value]:
    """The demand, with grades looked up, and said again in US terms where a record is judged by them.

    Without one a prequalified procedure is asked whether what it writes is prequalified.
    """
    plain = mapping("demand", data.get("demand", {}))
    wanted = {name for record in records for name in record.edition.demand}
    if any(record.edition.key.startswith(US_CODES) for record in records):
        plain = spelled_out(plain)
    if any(record.edition.key.startswith(ISO_TERMS) for record in records):
        plain = in_iso_words(plain, wanted)
    stated = with_grades(parse_values(plain), additions=own)
    if not stated and [record.kind for record in records] == [PREQUALIFIED] and len(records[0].pieces) == 1:
        stated = dict(records[0].pieces[0])
    return stated | {name: value for name, value in with_us_terms(stated).items() if name in wanted}


def _records(data: Mapping[str, Plain], own: tuple[Grade, ...]) -> tuple[Record, ...]:
    if ("record" in data) == ("records" in data):
        raise BadField("record", "state either `record` or a list of `records`")
    if "record" in data:
        return (_record("record", data["record"], own),)
    many = data["records"]
    if not isinstance(many, list) or not many:
        raise BadField("records", "must be a list of at least one record")
    return tuple(_record(f"records[{i}]", one, own) for i, one in enumerate(many))


def _record(where: str, plain: Plain, own: tuple[Grade, ...]) -> Record:
    data = mapping(where, plain)
    known = _of_kind(_edition(where, data), data)
    # Tested variables may stand in `tested` or directly in the record.
    flat = {name: value for name, value in data.items() if name in VARIABLES}
    only(where, {name: value for name, value in data.items() if name not in flat}, RECORD_KEYS)
    word = str(data.get("kind") or known.kinds[0])
    kind = KIND_WORDS.get(word.casefold(), word)
    if kind not in known.kinds:
        raise BadField(f"{where}.kind", f"{known.key} has records of kind {', '.join(known.kinds)}, not {kind}")
    pieces = _pieces(f"{where}.tested", data.get("tested", {}), flat, known, own)
    return Record(known, kind, str(data.get("label") or known.key), pieces, _life(where, data, kind, pieces[0]), where)


def _edition(where: str, data: Mapping[str, Plain]) -> Edition:
    code = data.get("code")
    if not isinstance(code, str) or not code.strip():
        raise BadField(f"{where}.code", 'name the code and edition, for example "ISO 9606-1:2012"')
    try:
        return edition(code)
    except UnknownEdition as error:
        raise BadField(f"{where}.code", str(error)) from None


def _of_kind(known: Edition, data: Mapping[str, Plain]) -> Edition:
    """The edition's own book of the kind asked for, where a code parts its people from its procedures.

    Example: code "AWS D1.1:2020" and kind "welder" are "AWS D1.1:2020 welder".
    """
    word = str(data.get("kind") or "").casefold()
    kind = KIND_WORDS.get(word, word)
    if not kind or kind in known.kinds:
        return known
    try:
        return edition(f"{known.key} {kind.replace('_', ' ')}")
    except UnknownEdition:
        return known


def _pieces(
    where: str, plain: Plain, flat: dict[str, Plain], known: Edition, own: tuple[Grade, ...]
) -> tuple[dict[str, Value], ...]:
    plain_pieces = plain if isinstance(plain, list) else [plain]
    if not plain_pieces:
        raise BadField(where, "states no test piece")
    names = [field.name for field in known.fields] + list(known.recorded_only)
    pieces = []
    for i, one in enumerate(plain_pieces):
        inner = f"{where}[{i}]" if isinstance(plain, list) else where
        try:
            stated = flat | dict(mapping(inner, one))
            if known.key.startswith(US_CODES):
                stated = spelled_out(stated)
            if known.key.startswith(ISO_TERMS):
                stated = in_iso_words(stated, names)
            pieces.append(with_grades(parse_values(stated, names), tested=True, additions=own))
        except BadField as error:
            where_in = error.field if error.field == inner else f"{inner}.{error.field}"
            raise BadField(where_in, error.problem) from None
    return tuple(pieces)


def _life(where: str, data: Mapping[str, Plain], kind: str, piece: Mapping[str, Value]) -> ValidityInput | None:
    if data.get("tested_on") is None:
        for name in ("events", "results_on", "option", "printed_until"):
            if data.get(name):
                raise BadField(f"{where}.tested_on", f"must be stated where {name} is")
        return None
    facts = of_the_test(piece) | facts_of(f"{where}.facts", data.get("facts", {}))
    return ValidityInput(
        tested_on=parse_date(f"{where}.tested_on", data["tested_on"]),
        option=str(data.get("option") or ""),
        results_on=_optional_date(f"{where}.results_on", data.get("results_on")),
        printed_until=_optional_date(f"{where}.printed_until", data.get("printed_until")),
        events=events_of(where, data.get("events", []), own_use(kind, piece)),
        facts=facts,
    )


def _settings(data: Mapping[str, Plain], records: tuple[Record, ...]) -> Settings:
    plain = mapping("settings", data.get("settings", {}))
    switches = {switch.key: switch for record in records for switch in record.edition.switches}
    for key, option in plain.items():
        if key not in switches:
            raise BadField(
                f"settings.{key}", f"is not a reading of these codes; known: {', '.join(switches) or 'none'}"
            )
        if option not in switches[key].options:
            raise BadField(f"settings.{key}", f"must be one of: {', '.join(switches[key].options)}")
    return {key: str(option) for key, option in plain.items()}


def _optional_date(where: str, plain: Plain) -> date | None:
    return None if plain is None or plain == "" else parse_date(where, plain)
