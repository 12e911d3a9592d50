"""From the plain test pieces of a record to typed values, and to the limits that they earn."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache

from django.utils.translation import gettext

from codes.editions import Edition, Tested, edition
from codes.limits import LimitSet
from codes.parse import BadField, Plain, parse_values
from codes.readings import DEFAULTS, Settings
from codes.together import Together, together
from codes.values import Value

KEPT = 2048
"""Records whose limits are kept ready; a shop has a few hundred."""


def field_names(known: Edition) -> tuple[str, ...]:
    """The variables that a record of this edition may state."""
    return (*(field.name for field in known.fields), *known.recorded_only)


def tested_pieces(code: str, pieces: Plain, level: int | None = None) -> tuple[Tested, ...]:
    """The test pieces as values. Raises UnknownEdition, and BadField that names the piece and the field."""
    known = edition(code)
    if not isinstance(pieces, list) or not pieces:
        raise BadField(gettext("test pieces"), "the record states no test piece; enter at least one")
    return tuple(_piece(known, at, piece, level) for at, piece in enumerate(pieces, start=1))


def _piece(known: Edition, at: int, piece: Plain, level: int | None) -> Tested:
    if not isinstance(piece, Mapping):
        raise BadField(gettext("piece %(at)s") % {"at": at}, "must be a mapping of variables")
    names = field_names(known)
    try:
        values: dict[str, Value] = parse_values(piece, names)
    except BadField as problem:
        raise BadField(
            gettext("piece %(at)s, %(field)s") % {"at": at, "field": problem.field}, problem.problem
        ) from None
    # The level heads the record; the code's rules read it from each piece.
    if level is not None and "level" in names:
        values.setdefault("level", Decimal(level))
    return values


def earned(
    number: str, code: str, pieces: Sequence[Plain], level: int | None, settings: Settings = DEFAULTS
) -> tuple[LimitSet, ...]:
    """The limit sets of a record, each labelled with the record's number. Raises as `tested_pieces`."""
    return _earned(number, code, json.dumps(pieces, sort_keys=True), level, tuple(sorted(settings.items())))


@lru_cache(maxsize=KEPT)
def _earned(
    number: str, code: str, pieces: str, level: int | None, settings: tuple[tuple[str, str], ...]
) -> tuple[LimitSet, ...]:
    found = edition(code).limit_sets(tested_pieces(code, json.loads(pieces), level), dict(settings))
    many = len(found) > 1
    return tuple(
        replace(limits, label=f"{number}, {limits.label}" if many and limits.label else number) for limits in found
    )


Pieces = tuple[str, str, int | None]
"""Number of a record, its pieces as sorted JSON, its level."""


def earned_together(
    code: str, records: Sequence[tuple[str, Sequence[Plain], int | None]], settings: Settings = DEFAULTS
) -> tuple[Together, ...]:
    """What records (number, pieces, level) of one edition earn two by two and neither alone. Raises as `earned`."""
    if len(records) < 2 or edition(code).combine is None:
        return ()
    each = tuple((number, json.dumps(pieces, sort_keys=True), level) for number, pieces, level in records)
    return _earned_together(code, each, tuple(sorted(settings.items())))


@lru_cache(maxsize=KEPT)
def _earned_together(
    code: str, records: tuple[Pieces, ...], settings: tuple[tuple[str, str], ...]
) -> tuple[Together, ...]:
    read = [(number, tested_pieces(code, json.loads(pieces), level)) for number, pieces, level in records]
    return tuple(together(edition(code), read, dict(settings)))
