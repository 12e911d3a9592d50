"""A counted coverage as JSON values, and back."""

from dataclasses import astuple
from decimal import Decimal
from typing import Any

from joints.margins import Room
from joints.matrix import AssemblyTally, Matrix, Named, Reason, Tally


def plain(found: Matrix) -> dict[str, Any]:
    """As JSON values."""
    return {
        "total": _counts(found.total),
        "assemblies": [[one.pk, one.mark, _counts(one.tally), _room(one.room), *one.tight] for one in found.assemblies],
        "reasons": [
            [one.key, one.count, [[said, [astuple(joint) for joint in joints]] for said, joints in one.said.items()]]
            for one in found.reasons
        ],
    }


def from_plain(said: dict[str, Any]) -> Matrix:
    """The coverage that was kept as JSON values."""
    assemblies = (
        AssemblyTally(pk, mark, Tally(*counts), _room_from(room), (tight, number))
        for pk, mark, counts, room, tight, number in said["assemblies"]
    )
    reasons = (
        Reason(key, count, {text: [Named(*joint) for joint in joints] for text, joints in named})
        for key, count, named in said["reasons"]
    )
    return Matrix(Tally(*said["total"]), tuple(assemblies), tuple(reasons))


def _counts(tally: Tally) -> list[int]:
    return [tally.covered, tally.outside, tally.not_stated]


def _room(room: Room | None) -> list[Any] | None:
    return None if room is None else [str(room.share), *astuple(room)[1:]]


def _room_from(said: list[Any] | None) -> Room | None:
    if said is None:
        return None
    # What was kept without US units ends with the phase.
    share, *words, in_us = [*said, ()] if isinstance(said[-1], str) else said
    return Room(Decimal(share), *words, tuple(in_us))
