"""The answers of a day written into the model they came from, as a property set of our own at each weld.

Lines are added at the end of the data section; every other byte of the file stays. Sets that we wrote before are taken
away first, known by an identity that follows from that of the weld.
"""

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from django.utils.translation import gettext

from joints.day import Answered
from joints.imports.table import Refusal
from joints.matrix import plain_reason, reason_words
from joints.model_files.step import guid, instances, text

OWN_SET = "WeldRegister_Coverage"
REASONS_OF = {"procedure": "procedure", "person": "person", "place": "workstation or job"}


def written_back(data: bytes, found: Mapping[str, Any], answers: Iterable[Answered], ids: Mapping[int, str],
                 people: Mapping[int, str], on: date) -> bytes:  # fmt: skip
    """The model with the answers in it. `ids`: joint -> identity in the model; `people`: person -> name.

    Raises Refusal where the file has no end of its data section.
    """
    said = {ids[one.pk]: one for one in answers if one.pk in ids}
    spans = {number: (start, end) for number, start, end in instances(data)}
    ours = [held for weld in found["welds"] for held in weld["own_sets"] if _is_ours(weld, held)]
    gone = [step for held in ours for step in held["steps"]]
    kept = _without(data, [spans[step] for step in gone if step in spans])
    lines: list[str] = []
    number = max(spans, default=0)
    for weld in found["welds"]:
        one = said.get(weld["model_id"])
        if one is not None:
            lines += _lines(number, weld, values_of(one, people, on))
            number += len(values_of(one, people, on)) + 2
    at = kept.rfind(b"ENDSEC;")
    if at < 0:
        raise Refusal(gettext("The model has no end of its data section, so nothing can be written into it."))
    return kept[:at] + "".join(f"{line}\n" for line in lines).encode("ascii") + kept[at:]


def values_of(one: Answered, people: Mapping[int, str], on: date) -> list[tuple[str, str, str]]:
    """(name, kind of value, value) of the set of one weld."""
    result = one.result
    final, tack = (_names(phase.person_ids, people) for phase in (result.final, result.tack))
    reasons = dict.fromkeys(_reason(key) for key in result.reasons)
    return [
        ("Answer", "IFCLABEL", result.outcome.value),
        ("Procedures", "IFCTEXT", ", ".join(result.final.labels)),
        ("TackProcedures", "IFCTEXT", ", ".join(result.tack.labels)),
        ("People", "IFCTEXT", final),
        ("TackPeople", "IFCTEXT", tack),
        ("AskedOn", "IFCDATE", on.isoformat()),
        ("Reasons", "IFCTEXT", "; ".join(reasons)),
    ]


def _names(able: Iterable[int], people: Mapping[int, str]) -> str:
    return ", ".join(sorted(people[pk] for pk in able if pk in people))


def _reason(key: str) -> str:
    whom, _, what = plain_reason(key).partition(":")
    return f"{REASONS_OF.get(whom, whom)}: {reason_words(what)}"


def _is_ours(weld: Mapping[str, Any], held: Mapping[str, Any]) -> bool:
    return bool(held["guid"] == guid(weld["model_id"], OWN_SET))


def _without(data: bytes, spans: list[tuple[int, int]]) -> bytes:
    pieces, at = [], 0
    for start, end in sorted(spans):
        pieces.append(data[at:start])
        at = end
    return b"".join([*pieces, data[at:]])


def _lines(number: int, weld: Mapping[str, Any], values: list[tuple[str, str, str]]) -> list[str]:
    """The instances of one set: its properties, the set, its relation to the weld; the owner history is optional."""
    lines = []
    for name, kind, value in values:
        number += 1
        lines.append(f"#{number}=IFCPROPERTYSINGLEVALUE({text(name)},$,{kind}({text(value)}),$);")
    own = ",".join(f"#{number - len(values) + 1 + at}" for at in range(len(values)))
    identity = weld["model_id"]
    lines.append(f"#{number + 1}=IFCPROPERTYSET('{guid(identity, OWN_SET)}',$,{text(OWN_SET)},$,({own}));")
    relation = guid(identity, OWN_SET, "relation")
    lines.append(f"#{number + 2}=IFCRELDEFINESBYPROPERTIES('{relation}',$,$,$,(#{weld['step']}),#{number + 1});")
    return lines
