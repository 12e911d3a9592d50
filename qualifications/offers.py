"""What every certificate offers to a joint: its limits and its validity, ready to be checked. Two queries in all."""

import json
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from django.db.models import QuerySet
from django.utils.translation import gettext

from codes.editions import Tested
from codes.en_1090_2_2018 import revalidation_limits
from codes.limits import LimitSet
from codes.parse import BadField, parse_values
from codes.readings import DEFAULTS, Settings
from codes.validity import Validity
from codes.variables import label_of
from qualifications.models import Certificate
from qualifications.periods import edition_of, is_judged, validity


@dataclass(frozen=True, slots=True)
class CertificateOffer:
    """One certificate as values. Without limit sets it covers nothing; `problem` then says why."""

    certificate_id: int
    person_id: int
    person_name: str
    label: str
    kind: str
    sets: tuple[LimitSet, ...]
    validity: Validity
    code: str = ""
    number: str = ""
    supervisor_id: int | None = None
    site: str = ""
    processes: tuple[str, ...] = ()
    problem: str = ""
    plant_id: int | None = None


def certificate_offers(settings: Settings = DEFAULTS) -> tuple[CertificateOffer, ...]:
    """The offers of all certificates on file, by name of person. Validity is asked per date from each.

    They are kept between questions and worked out anew only where something changed (qualifications.reading).
    """
    from qualifications.reading import all_offers  # which reads by means of this module

    return all_offers(settings)


def offers_of(certificates: QuerySet[Certificate], settings: Settings = DEFAULTS) -> tuple[CertificateOffer, ...]:
    """The offers of the chosen certificates."""
    return tuple(offer(one, settings) for one in fetched(certificates))


def fetched(certificates: QuerySet[Certificate]) -> QuerySet[Certificate]:
    """The certificates with person and events: what `offer` and `validity` read, in two queries."""
    return certificates.select_related("person").prefetch_related("events")


def offer(
    certificate: Certificate, settings: Settings = DEFAULTS, events: Iterable[Any] | None = None
) -> CertificateOffer:
    """The offer of one certificate. `events`: its events, where they were read already."""
    sets, problem = limits(certificate, settings)
    sets = _with_gates(certificate, sets)
    person = certificate.person
    return CertificateOffer(
        certificate_id=certificate.pk,
        person_id=person.pk,
        person_name=person.name,
        label=label(certificate),
        kind=certificate.kind,
        sets=sets,
        validity=validity(certificate, settings, events=events),
        code=certificate.code,
        number=certificate.number,
        supervisor_id=person.supervisor_id,
        site=person.site,
        processes=processes(certificate),
        problem=problem,
        plant_id=person.plant_id,
    )


def _with_gates(certificate: Certificate, sets: tuple[LimitSet, ...]) -> tuple[LimitSet, ...]:
    """The limits with what EN 1090-2 makes of the certificate's option; it counts only for jobs to that standard."""
    known = edition_of(certificate.code)
    if not sets or known is None or known.key != "ISO 9606-1:2012":
        return sets
    facts = certificate.facts if isinstance(certificate.facts, dict) else {}
    return _gated(sets, certificate.option, str(facts.get("iso_3834") or ""))


@lru_cache(maxsize=8192)
def _gated(sets: tuple[LimitSet, ...], option: str, iso_3834: str) -> tuple[LimitSet, ...]:
    gates = revalidation_limits(option, iso_3834)
    return tuple(replace(one, limits=(*one.limits, *gates)) for one in sets)


def label(certificate: Certificate) -> str:
    """How the certificate is named beside its person. Example: "Ada Krol, 135-7 (ISO 9606-1:2012)"."""
    return f"{certificate.person.name}, {certificate.number} ({certificate.code})"


def limits(certificate: Certificate, settings: Settings = DEFAULTS) -> tuple[tuple[LimitSet, ...], str]:
    """The limit sets a certificate earns and, where there are none, the reason in words."""
    if not is_judged(certificate):
        return (), f"not judged: the register does not hold {certificate.code}"
    pieces = json.dumps(certificate.pieces, sort_keys=True)
    return _limits(certificate.code, pieces, tuple(sorted(settings.items())))


@lru_cache(maxsize=8192)
def _limits(code: str, pieces: str, settings: tuple[tuple[str, str], ...]) -> tuple[tuple[LimitSet, ...], str]:
    """Limits depend on nothing but these three, and many certificates state the same test: each is worked out once."""
    known = edition_of(code)
    if known is None:
        return (), f"not judged: the register does not hold {code}"
    try:
        return known.limit_sets(_typed(json.loads(pieces)), dict(settings)), ""
    except BadField as bad:
        return (), f"not judged: {label_of(bad.field)}: {bad.problem}"
    except (ValueError, KeyError) as problem:
        return (), f"not judged: {problem}"


def tested(certificate: Certificate) -> tuple[Tested, ...]:
    """The test pieces as typed values. Raises BadField naming piece and field."""
    return _typed(certificate.pieces)


def _typed(pieces: object) -> tuple[Tested, ...]:
    if not isinstance(pieces, list) or not pieces:
        raise BadField(gettext("pieces"), "the certificate states no test piece")
    return tuple(parse_values(piece) for piece in pieces)


def processes(certificate: Certificate) -> tuple[str, ...]:
    """The tested processes in order, each once; empty where none is stated."""
    pieces: Iterable[object] = certificate.pieces if isinstance(certificate.pieces, list) else ()
    said: dict[str, None] = {}
    for piece in pieces:
        stated = piece.get("process", "") if isinstance(piece, dict) else ""
        for one in stated if isinstance(stated, list) else [stated]:
            if one:
                said[str(one)] = None
    return tuple(said)
