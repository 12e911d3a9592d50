"""A register of a size that no demonstration has: procedures, certificates and joints varied from the demo's own.

Every record and certificate earns its limits from its own edition, as it would on file; only thickness, size, position
and validity are varied. Import inside a scratch database that holds the demonstration.
"""

import random
from collections.abc import Iterator, Sequence
from copy import copy
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

THICK = (6, 8, 8, 10, 10, 10, 12, 12, 15, 15, 16, 18, 20, 20, 22, 25, 28, 30, 35, 40)
TESTED = ("6", "8", "10", "12", "15", "18", "20", "25", "30", "40")
THROATS = ("3", "3.5", "4", "5", "6", "7", "8", "10", "12")
POSITIONS = ("PA", "PB", "PB", "PB", "PC", "PD", "PF", "PF", "PE")
OTHER = 0.15
"""Joints that lie in another position than the one they are modelled on."""


def procedures(number: int, on: date, chance: random.Random) -> tuple[Any, ...]:
    """Approved procedures, each with records of its own."""
    from wps.models import TestRecord
    from wps.offers import procedure_offers

    base = [offer for offer in procedure_offers(on) if offer.records and offer.records[0].record_id]
    tests = TestRecord.objects.in_bulk()
    return tuple(_procedure(n, base[n % len(base)], tests, chance) for n in range(number))


def _procedure(n: int, offer: Any, tests: dict[int, Any], chance: random.Random) -> Any:
    from codes.limits import Limit, Within
    from codes.values import Interval

    low = Decimal(chance.choice((3, 4, 5, 6, 8)))
    high = Decimal(chance.choice((12, 16, 20, 24, 30, 40, 50)))

    def narrowed(limit: Limit) -> Limit:
        if limit.variable == "parent_t" and isinstance(limit.allowed, Within):
            return replace(limit, allowed=Within(Interval(low, high, "mm")))
        return limit

    window = replace(offer.window, limits=tuple(map(narrowed, offer.window.limits)))
    records = tuple(
        replace(one, record_id=10 * n + i + 1, sets=_sets(tests[one.record_id], chance))
        for i, one in enumerate(offer.records)
    )
    return replace(offer, revision_id=n + 1, procedure_id=n + 1, label=f"WPS {n + 1:04} rev A", window=window,
                   records=records)  # fmt: skip


def _sets(record: Any, chance: random.Random) -> Any:
    varied = copy(record)
    varied.pieces = [_varied(piece, chance) for piece in record.pieces]
    return varied.limit_sets()


def _varied(piece: dict[str, Any], chance: random.Random) -> dict[str, Any]:
    new = {"parent_t": chance.choice(TESTED), "deposit_t": chance.choice(TESTED), "throat_a": chance.choice(THROATS)}
    return {**piece, **{name: value for name, value in new.items() if name in piece}}


def certificates(number: int, on: date, chance: random.Random) -> tuple[Any, ...]:
    """Certificates of a third as many people, four of five valid on the day."""
    from qualifications.models import Certificate
    from qualifications.offers import certificate_offers, limits

    held = {offer.certificate_id: offer for offer in certificate_offers()}
    base = [one for one in Certificate.objects.order_by("pk") if held[one.pk].sets]
    return tuple(_certificate(n, base[n % len(base)], held, on, chance, limits) for n in range(number))


def _certificate(n: int, one: Any, held: dict[int, Any], on: date, chance: random.Random, limits: Any) -> Any:
    from codes.validity import Validity

    varied = copy(one)
    varied.pieces = [_welded(piece, chance) for piece in one.pieces]
    sets, problem = limits(varied)
    offer = held[one.pk]
    last = offer.validity.periods[-1]
    end = on + timedelta(days=chance.randrange(-60, 240))
    valid = Validity((replace(last, start=end - timedelta(days=900), end=end),), offer.validity.before)
    return replace(offer, certificate_id=n + 1, person_id=n // 3 + 1, person_name=f"Person {n // 3 + 1:04}",
                   label=f"Person {n // 3 + 1:04}, {n + 1}", sets=sets or offer.sets, validity=valid,
                   problem=problem)  # fmt: skip


def _welded(piece: dict[str, Any], chance: random.Random) -> dict[str, Any]:
    found = _varied(piece, chance)
    return {**found, "position": chance.choice(("PB", "PF", "PD"))} if found.get("weld_type") == "fillet" else found


def joint_rows(pool: int, chance: random.Random) -> list[tuple[Any, ...]]:
    """So many different joints, as the answers read them, after the pattern of the demo's own."""
    from joints.day import ASKED
    from joints.models import Joint

    pattern = list(Joint.objects.order_by("pk").values(*ASKED))
    found: dict[tuple[Any, ...], None] = {}
    while len(found) < pool:
        row = dict(pattern[len(found) % len(pattern)])
        for name in ("t1_mm", "t2_mm"):
            row[name] = Decimal(chance.choice(THICK)) if row[name] is not None else None
        if row["throat_mm"] is not None:
            row["throat_mm"] += Decimal(chance.choice(("0", "0", "0.5", "1")))
        if row["position"] and chance.random() < OTHER:
            row["position"] = chance.choice(POSITIONS)
        found[tuple(row[name] for name in ASKED)] = None
    return list(found)


def many(rows: Sequence[tuple[Any, ...]], number: int, chance: random.Random) -> Iterator[tuple[Any, ...]]:
    """Joints by number and assembly that ask what the rows ask; some rows far oftener than others."""
    weights = [1 / (rank + 1) ** 0.7 for rank in range(len(rows))]
    picked = [*range(len(rows)), *chance.choices(range(len(rows)), weights, k=number - len(rows))]
    for pk, index in enumerate(picked):
        yield (pk, str(pk), pk // 40, "B", *rows[index])
