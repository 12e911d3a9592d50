"""What-ifs: a question that names a few variables only, answered as if every other one fitted. Never proof of cover.

"as tested" takes what the demand leaves out from the test piece and judges all of it. "not asked" does so too, and then
judges only the variables that the demand names: what neither the demand nor the record states is supposed to match.
"""

from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from codes.check import check, finding
from codes.door.question import Record
from codes.limits import Limit, LimitSet, Unrecorded
from codes.values import Value, atoms
from codes.verdict import Finding, Outcome, Verdict

AS_TESTED, NOT_ASKED = "as tested", "not asked"

# What a what-if supposes of a joint where neither the demand nor the test piece says otherwise.
SUPPOSED: Mapping[str, Value] = {
    "impact_required": "no",
    "hardness_required": "no",
    "pwht": "no",
    "post_heat": "no",
    "rotated": "no",
    "phase": "final",
    "over_primer": "no",
    "deep_penetration": "no",
    "heat_controlled": "no",
    "transverse_load": "no",
    "pressure_retaining": "no",
}

# What "not asked" supposes of a record to an ISO code that does not say otherwise.
SUPPOSED_OF_RECORD: Mapping[str, Value] = {
    "functional_knowledge": "yes",
    "arc_sensor": "no",
    "joint_sensor": "no",
    "max_run_t": Decimal(0),
}
BUTTS = ("butt_cjp", "butt_pjp")
# A treatment whose figures are stated was made.
SHOWN_BY = {
    "pwht": ("pwht_temperature", "pwht_minutes", "pwht_class"),
    "post_heat": ("post_heat_temperature", "post_heat_minutes"),
}


@dataclass(frozen=True, slots=True)
class WhatIf:
    """The demand as asked, and one of the two ways to read what it leaves out."""

    demand: Mapping[str, Value]
    mode: str

    def verdict(self, record: Record, limits: LimitSet) -> Verdict:
        """The verdict of the demand filled in from the test piece."""
        demand = filled(self.demand, record)
        if self.mode == AS_TESTED:
            return check(demand, limits)
        opened = self._opened(demand, limits)
        verdict = check(demand, opened)
        kept = self._kept(verdict.findings, _stated_in(record, self.demand)) or self._behind(demand, opened)
        if all(name in record.edition.recorded_only for name in self.demand) and not self._judges(opened):
            return Verdict(verdict.demand, Outcome.COVERED, (), verdict.label, verdict.standard)
        outcome = kept[0].outcome if kept else Outcome.NOT_STATED
        return Verdict(verdict.demand, outcome, kept, verdict.label, verdict.standard)

    def asked_limits(self, record: Record, limits: LimitSet) -> LimitSet | None:
        """The limits that judge what was asked, for windows over several records; None where the rest forbids it."""
        demand = filled(self.demand, record)
        kept: list[Limit] = []
        for limit in self._opened(demand, limits).limits:
            found = finding(demand, limit)
            if found is None or (self.mode == NOT_ASKED and isinstance(limit.allowed, Unrecorded)):
                continue
            if limit.variable in self.demand:
                when = tuple(one for one in limit.when if one.variable in self.demand)
                kept.append(replace(limit, when=when))
            elif _breaks(found) or (self.mode == AS_TESTED and found.outcome is not Outcome.COVERED):
                return None
        if all(limit.when for limit in kept):
            return None
        return replace(limits, limits=tuple(kept))

    def _opened(self, demand: Mapping[str, Value], limits: LimitSet) -> LimitSet:
        """The limits on what was asked, without the conditions that nothing stated can decide: they then count."""
        if self.mode == AS_TESTED:
            return limits
        return replace(limits, limits=tuple(self._open(demand, limit) for limit in limits.limits))

    def _open(self, demand: Mapping[str, Value], limit: Limit) -> Limit:
        if limit.variable not in self.demand:
            return limit
        known = tuple(one for one in limit.when if one.met_by(demand.get(one.variable)) is not None)
        return limit if len(known) == len(limit.when) else replace(limit, when=known)

    def _kept(self, findings: Sequence[Finding], tested: Container[str]) -> tuple[Finding, ...]:
        """What the demand names, and what it breaks elsewhere; a silent record matters where nothing else is judged."""
        kept = [f for f in findings if f.variable in self.demand or _breaks(f)]
        judged = [f for f in kept if not isinstance(f.limit, Unrecorded) or f.variable in tested]
        return tuple(judged or kept)

    def _judges(self, limits: LimitSet) -> bool:
        """True where a limit stands on what was asked; a variable that the code only records has none."""
        return any(limit.variable in self.demand for limit in limits.limits)

    def _behind(self, demand: Mapping[str, Value], limits: LimitSet) -> tuple[Finding, ...]:
        """What cannot be judged of the limits that count because of what was asked."""
        asking = [limit for limit in limits.limits if any(one.variable in self.demand for one in limit.when)]
        found = [finding(demand, limit) for limit in asking or limits.limits]
        return tuple(one for one in found if one is not None and one.outcome is Outcome.NOT_STATED)


def _breaks(found: Finding) -> bool:
    """True where what was asked lies outside by a variable that it does not name.

    A steel that is not named is the tested one, whatever AWS group the thickness asked about would put it in.
    """
    return found.outcome is Outcome.OUTSIDE and found.variable != "steels"


def _stated_in(record: Record, demand: Mapping[str, Value]) -> Container[str]:
    """The variables that the test piece of the process asked about states."""
    return _piece(record, demand).keys()


def _piece(record: Record, demand: Mapping[str, Value]) -> Mapping[str, Value]:
    """The test piece of the process asked about, else the first."""
    same = [piece for piece in record.pieces if piece.get("process") == demand.get("process")]
    return (same or list(record.pieces) or [{}])[0]


def filled(demand: Mapping[str, Value], record: Record) -> dict[str, Value]:
    """The demand, filled in from the test piece of the process asked about, then from `SUPPOSED`."""
    wanted = set(record.edition.demand)
    tested = _piece(record, demand)
    own = {name: value for name, value in tested.items() if name in wanted}
    shown = {name: value for name, value in _shown({**own, **demand}).items() if name in wanted}
    supposed = {name: value for name, value in SUPPOSED.items() if name in wanted}
    if "tack_length" in tested and "phase" in wanted:
        supposed["phase"] = "tack"
    return {**supposed, **own, **shown, **demand}


def supposed_record(record: Record) -> Record:
    """The record, filled in where it is silent on what every sound record to its ISO code has."""
    if not record.edition.key.startswith("ISO "):
        return record
    return replace(record, pieces=tuple(_supposed_piece(piece, record) for piece in record.pieces))


def _supposed_piece(piece: Mapping[str, Value], record: Record) -> dict[str, Value]:
    known = {field.name for field in record.edition.fields}
    supposed: dict[str, Value] = {**SUPPOSED_OF_RECORD, **_shown(piece)}
    if piece.get("weld_type") in BUTTS:
        supposed["joint_type"] = "butt"
    heats = [atom for atom in atoms(piece.get("heat_input", ())) if isinstance(atom, Decimal)]
    if len(heats) > 1:
        # Impact belongs to the position of the highest, hardness to that of the lowest heat input (8.4.2).
        supposed |= {"heat_input_impact": max(heats), "heat_input_hardness": min(heats)}
    return {name: value for name, value in supposed.items() if name in known} | dict(piece)


def _shown(stated: Mapping[str, Value]) -> dict[str, Value]:
    """The treatments whose figures are stated."""
    return {name: "yes" for name, figures in SHOWN_BY.items() if any(figure in stated for figure in figures)}
