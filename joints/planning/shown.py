"""A plan as a page or a file shows it, and as JSON values to be kept: joints by their keys, pieces in words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from joints.planning.pieces import Fact
from joints.planning.plan import Bought, Part, Plan

Keys = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class PieceShown:
    """One chosen piece. `facts`: what is welded; `alone`: joints of which it alone covers a part."""

    code: str
    facts: tuple[Fact, ...]
    extras: tuple[str, ...]
    joints: Keys
    alone: int

    @property
    def words(self) -> str:
        """In one line. Example: "Process: 135 · MAG; Weld type: fillet weld; Position: PB · 2F"."""
        return "; ".join(fact.words for fact in self.facts)


@dataclass(frozen=True, slots=True)
class PartShown:
    """The pieces of one kind, how sure it is that no fewer do, and of how many they were chosen."""

    kind: str
    bought: tuple[PieceShown, ...]
    proof: str
    suggested: int
    cut_off: bool


@dataclass(frozen=True, slots=True)
class BlockedShown:
    """Joints that no piece helps, under one reason."""

    why: str
    joints: Keys


@dataclass(frozen=True, slots=True)
class PlanShown:
    """The whole answer; `nearest`: joint -> why not today, phase by phase."""

    sentence: str
    parts: tuple[PartShown, ...]
    blocked: tuple[BlockedShown, ...]
    nearest: dict[int, tuple[str, ...]]
    open: int


def shown(plan: Plan) -> PlanShown:
    """What is shown of a plan."""
    blocked = tuple(BlockedShown(one.why, tuple(one.joints)) for one in plan.blocked)
    nearest = {joint: tuple(why) for joint, why in plan.nearest.items()}
    return PlanShown(plan.sentence, tuple(map(_part, plan.parts)), blocked, nearest, len(plan.open))


def _part(part: Part) -> PartShown:
    pieces = tuple(map(_piece, part.bought))
    return PartShown(part.kind, pieces, part.cover.sentence, part.suggested, part.cut_off)


def _piece(one: Bought) -> PieceShown:
    return PieceShown(one.piece.code, tuple(one.piece.facts), one.extras, one.joints, one.alone)


def plain(found: PlanShown) -> dict[str, Any]:
    """As JSON values. Why joints are not covered is the same for many of them: each sentence is written once."""
    lines = {line: at for at, line in enumerate(dict.fromkeys(_lines(found)))}
    return {
        "sentence": found.sentence,
        "parts": [
            {
                "kind": part.kind,
                "bought": [[one.code, one.facts, one.extras, one.joints, one.alone] for one in part.bought],
                "proof": part.proof,
                "suggested": part.suggested,
                "cut_off": part.cut_off,
            }
            for part in found.parts
        ],
        "blocked": [[one.why, one.joints] for one in found.blocked],
        "lines": list(lines),
        "nearest": [[joint, [lines[line] for line in why]] for joint, why in found.nearest.items()],
        "open": found.open,
    }


def _lines(found: PlanShown) -> Iterator[str]:
    return (line for why in found.nearest.values() for line in why)


def from_plain(said: dict[str, Any]) -> PlanShown:
    """The plan that was kept as JSON values."""
    lines = said["lines"]
    parts = (
        PartShown(one["kind"], tuple(map(_read, one["bought"])), one["proof"], one["suggested"], one["cut_off"])
        for one in said["parts"]
    )
    blocked = (BlockedShown(why, tuple(joints)) for why, joints in said["blocked"])
    nearest = {joint: tuple(lines[at] for at in why) for joint, why in said["nearest"]}
    return PlanShown(said["sentence"], tuple(parts), tuple(blocked), nearest, said["open"])


def _read(said: Sequence[Any]) -> PieceShown:
    code, facts, extras, joints, alone = said
    return PieceShown(code, tuple(Fact(*fact) for fact in facts), tuple(extras), tuple(joints), alone)
