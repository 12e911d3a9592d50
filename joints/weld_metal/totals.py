"""Weld metal of many joints: each by the first procedure that covers it on the day, and their sums."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from django.db.models import QuerySet

from joints.day import Day
from joints.models import Joint
from joints.sizes import welded_length, welds_of
from joints.weld_metal.amounts import Amounts, Recipe, Sizes, amounts
from joints.weld_metal.recipes import recipe_of
from wps.models import ProcedureRevision

NO_PROCEDURE = Recipe(label="")


@dataclass(frozen=True, slots=True)
class JointMetal:
    """One joint: what it takes, and by which procedure that is reckoned."""

    joint: Joint
    recipe: Recipe
    found: Amounts

    @property
    def length(self) -> Decimal | None:
        """What is welded of the joint [mm]: of an intermittent weld its elements alone, of both sides the two welds."""
        sizes = sizes_of(self.joint)
        return None if sizes.length is None else sizes.length * sizes.welds


@dataclass(frozen=True, slots=True)
class Sum:
    """A sum over joints; `known` of `of` joints are in it. Where some are left out, it is a least."""

    value: Decimal
    known: int
    of: int

    @property
    def whole(self) -> bool:
        """True where no joint is left out."""
        return self.known == self.of


@dataclass(frozen=True, slots=True)
class Totals:
    """The sums of an assembly or a job. `filler` is never less than `deposited`. `fillers`: kg to buy by
    designation, of the joints whose filler is known; `gases`: l by gas.
    """

    deposited: Sum
    filler: Sum
    arc_minutes: Sum
    gas: Sum
    fillers: tuple[tuple[str, Decimal], ...]
    gases: tuple[tuple[str, Decimal], ...]
    reasons: tuple[tuple[str, int], ...]


def metal_of(joints: QuerySet[Joint], day: Day) -> list[JointMetal]:
    """What each joint takes, in the order of the query."""
    rows = list(joints.select_related("assembly"))
    answers = {one.pk: one.result.final for one in day.answers(joints)}
    labels = {answers[joint.pk].labels[0] for joint in rows if answers[joint.pk].labels}
    held = _revisions(day, labels)
    recipes: dict[tuple[str, str], Recipe] = {}
    found = []
    for joint in rows:
        # These are procedures that cover, also where nobody is there yet to weld by them.
        label = next(iter(answers[joint.pk].labels), "")
        process = joint.final_process.partition("+")[2] or joint.final_process
        key = label, process
        if label in held and key not in recipes:
            recipes[key] = recipe_of(held[label], process)
        recipe = recipes.get(key, NO_PROCEDURE)
        found.append(JointMetal(joint, recipe, amounts(sizes_of(joint), recipe)))
    return found


def _revisions(day: Day, labels: Iterable[str]) -> dict[str, ProcedureRevision]:
    wanted = set(labels)
    keys = {offer.revision_id: offer.label for offer in day.procedures if offer.label in wanted}
    rows = ProcedureRevision.objects.filter(pk__in=keys).select_related("procedure").prefetch_related("runs")
    return {keys[row.pk]: row for row in rows}


def sizes_of(joint: Joint) -> Sizes:
    """What a joint states; of two parts the thinner one is filled."""
    both = [t for t in (joint.t1_mm, joint.t2_mm) if t is not None]
    length = welded_length(joint.length_mm, joint.intermittent, joint.element_length_mm, joint.element_gap_mm)
    found = Sizes(
        joint.weld_type, length, joint.throat_mm, joint.leg_mm, min(both, default=None), joint.penetration_mm,
        welds=welds_of(joint.weld_type, joint.weld_detail),
    )  # fmt: skip
    if length is None and joint.length_mm is not None:
        return replace(found, unknown="the elements of the intermittent weld are not stated")
    return found


def totals(metal: list[JointMetal]) -> Totals:
    """The sums, and why joints are left out of them, the commonest reason first."""
    each = [one.found for one in metal]
    reasons: dict[str, int] = {}
    for one in each:
        for reason in one.missing:
            reasons[reason] = reasons.get(reason, 0) + 1
    return Totals(
        _sum(one.deposited for one in each),
        _filler(each),
        _sum(one.arc_minutes for one in each),
        _sum(one.gas for one in each),
        _by((one.recipe.filler, one.found.filler) for one in metal),
        _by((one.recipe.gas, one.found.gas) for one in metal),
        tuple(sorted(reasons.items(), key=lambda item: (-item[1], item[0]))),
    )


def _sum(values: Iterable[Decimal | None]) -> Sum:
    every = list(values)
    known = [value for value in every if value is not None]
    return Sum(sum(known, Decimal(0)), len(known), len(every))


def _filler(each: list[Amounts]) -> Sum:
    """Filler to buy. Where its efficiency is not known, a joint takes what it deposits at the least."""
    known = _sum(one.filler for one in each)
    others = (one.deposited for one in each if one.filler is None and one.deposited is not None)
    return replace(known, value=sum(others, known.value))


def _by(pairs: Iterator[tuple[str, Decimal | None]]) -> tuple[tuple[str, Decimal], ...]:
    found: dict[str, Decimal] = {}
    for name, value in pairs:
        if value is not None:
            found[name or "not stated"] = found.get(name or "not stated", Decimal(0)) + value
    return tuple(sorted(found.items()))
