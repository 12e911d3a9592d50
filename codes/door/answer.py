"""The answer to a question, as plain data that JSON can hold."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from codes.check import Demand, best, nearness, outcome_of
from codes.cover import Piece, uncovered, widest
from codes.door.question import UNSTATED_CHOICES, Question, Record
from codes.door.shortened import allowed_in_short, in_short, value_in_short, verdict_in_short
from codes.door.what_if import NOT_ASKED, WhatIf, supposed_record
from codes.iso_9606_1_2012.joint import split_multi_process
from codes.limits import Limit, LimitSet, Within
from codes.parse import BadField, Plain, to_plain
from codes.together import together
from codes.validity import State, Validity
from codes.values import atoms, number
from codes.variables import label_of
from codes.verdict import Finding, Outcome, Verdict
from codes.words import lower_first

Answer = dict[str, Plain]
WHAT_IF = {"as tested": "taken as tested", "not asked": "taken as tested and not judged"}


def answer(question: Question) -> Answer:
    """Limits earned, verdict and findings of one question. Raises BadField where nothing can be answered."""
    parts = [_Judged(record, question) for record in question.records]
    outcomes: list[Outcome] = []
    result: Answer = {"id": question.ident} if question.ident else {}
    result["records"] = [part.plain() for part in parts]
    usable = [part for part in parts if part.validity_outcome in (None, Outcome.COVERED)]
    if question.demand:
        # Of several records only those valid on the day may cover; where none is, the nearest is still explained.
        verdict, pieces = _joint_verdict(question, usable or parts)
        verdict = verdict_in_short(verdict)
        outcomes.append(verdict.outcome)
        result["verdict"] = _verdict_to_plain(verdict)
        result["findings"] = [_finding_to_plain(found) for found in verdict.findings]
        result["uncovered"] = [{name: to_plain(value) for name, value in piece.demand.items()} for piece in pieces]
        result["uncovered_in_words"] = list(_in_words(question.demand, pieces, parts))
    states = [part.validity_outcome for part in parts if part.validity_outcome is not None]
    if states and not usable:
        outcomes.append(max(states, key=lambda o: o.rank))
    elif states and not question.demand:
        outcomes.append(Outcome.COVERED)
    if not outcomes:
        raise BadField("on", "these records have no validity to ask about; state a demand")
    outcome = min(outcomes, key=lambda o: o.rank)
    head: Answer = {"outcome": outcome.value, "sentence": _sentence(result, parts), "reasons": _reasons(result, parts)}
    if question.unstated != UNSTATED_CHOICES[0]:
        head["what_if"] = f"what the demand leaves out was {WHAT_IF[question.unstated]}; this is no proof of cover"
    return head | result


class _Judged:
    """A record with its limit sets and, where a date is asked about and the code has a clock, its state."""

    def __init__(self, record: Record, question: Question) -> None:
        self.record = record
        self.pieces = (supposed_record(record) if question.unstated == NOT_ASKED else record).pieces
        try:
            self.sets = record.edition.limit_sets(self.pieces, question.settings)
        except BadField as error:
            raise BadField(f"{record.where}.tested.{error.field}", error.problem) from None
        self.on = question.on
        self.validity: Validity | None = None
        self.missing = ""
        clock = record.edition.periods
        if question.on is not None and clock is not None:
            if record.life is None:
                self.missing = "the record does not state tested_on, so its validity cannot be known"
            else:
                self.validity = clock(record.life, question.settings)

    @property
    def state(self) -> State | None:
        return self.validity.state(self.on) if self.validity is not None and self.on is not None else None

    @property
    def validity_outcome(self) -> Outcome | None:
        if self.missing:
            return Outcome.NOT_STATED
        state = self.state
        if state is None:
            return None
        if state.missing and not state.valid:
            return Outcome.NOT_STATED
        return Outcome.COVERED if state.valid else Outcome.OUTSIDE

    def plain(self) -> Answer:
        return {
            "label": self.record.label,
            "kind": self.record.kind,
            "code": self.record.edition.key,
            "limits": [
                {"set": limits.label, "limits": [limit_to_plain(limit) for limit in limits.limits]}
                for limits in self.sets
            ],
            "validity": self._validity(),
        }

    def _validity(self) -> Plain:
        if self.missing:
            return {"valid": False, "reason": "missing_data", "because": self.missing}
        state = self.state
        if state is None or self.validity is None:
            return None
        return {
            "on": _day(state.on),
            "valid": state.valid,
            "reason": state.reason,
            "because": state.because,
            "clause": str(state.clause),
            "mark": state.clause.mark.value,
            "until": _day(state.until),
            "missing": state.missing,
            "dues": [{"act": due.act, "by": _day(due.by), "clause": str(due.clause)} for due in state.dues],
            "periods": [
                {"start": _day(p.start), "end": _day(p.end), "opened": p.opened, "ending": p.ending.because}
                for p in self.validity.periods
            ],
        }


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _joint_verdict(question: Question, parts: Sequence[_Judged]) -> tuple[Verdict, tuple[Piece, ...]]:
    """The verdict of a joint; welded by several processes in one order, it is covered where each of them is."""
    order = question.demand.get("joint_processes")
    processes = atoms(question.demand.get("process", ()))
    if len(processes) < 2 or order != "/".join(map(str, processes)):
        return _verdict(question, parts)
    try:
        shares = split_multi_process(question.demand)
    except ValueError as error:
        raise BadField("demand.process", str(error)) from None
    found = [_verdict(replace(question, demand=share), parts) for share in shares]
    findings = tuple(sorted((f for verdict, _ in found for f in verdict.findings), key=lambda f: f.outcome.rank))
    worst = min((verdict for verdict, _ in found), key=lambda verdict: verdict.outcome.rank)
    return replace(worst, findings=findings), tuple(piece for _, pieces in found for piece in pieces)


def _in_words(demand: Demand, pieces: Sequence[Piece], parts: Sequence[_Judged]) -> Iterator[str]:
    """The parts of a window that no record covers, in few pieces. Example: "parent thickness above 24 to 30 mm"."""
    sets = [limits for part in parts for limits in part.sets]
    for piece in widest(demand, pieces, sets):
        cut = {name: value for name, value in piece.demand.items() if demand.get(name) != value}
        if cut:
            said = ((lower_first(label_of(name)), value_in_short(name, value)) for name, value in cut.items())
            yield " with ".join(f"{name} {value}" for name, value in said)


def _verdict(question: Question, parts: Sequence[_Judged]) -> tuple[Verdict, tuple[Piece, ...]]:
    """The nearest verdict, covered where the records together cover every point of the demand."""
    own = [(part.record, limits) for part in parts for limits in part.sets]
    pairs = _candidates(question, [*own, *_together(question, parts)])
    if question.unstated != UNSTATED_CHOICES[0]:
        asked = WhatIf(question.demand, question.unstated)
        nearest = min((asked.verdict(record, limits) for record, limits in pairs), key=nearness)
        reduced = [asked.asked_limits(record, limits) for record, limits in pairs]
        sets = [limits for limits in reduced if limits is not None]
    else:
        sets = [limits for _, limits in pairs]
        nearest = best(question.demand, sets)
    if nearest.outcome is Outcome.COVERED or len(sets) < 2:
        return nearest, ()
    pieces = uncovered(question.demand, sets)
    if pieces:
        return nearest, pieces
    # Covered piece by piece: no single record covers the whole window, all records together cover every point.
    return Verdict(question.demand, Outcome.COVERED, (), "the records together", nearest.standard), ()


def _together(question: Question, parts: Sequence[_Judged]) -> Iterator[tuple[Record, LimitSet]]:
    """What records of one edition earn together and none alone, where the code lets them (ASME IX, QW-200.4)."""
    for edition in {part.record.edition.key: part.record.edition for part in parts}.values():
        own = [part for part in parts if part.record.edition.key == edition.key]
        for found in together(edition, [(part.record.label, part.pieces) for part in own], question.settings):
            both = [own[at] for at in found.records]
            pieces = tuple(piece for part in both for piece in part.pieces)
            label = " with ".join(part.record.label for part in both)
            yield replace(both[0].record, label=label, pieces=pieces), found.limits


def _candidates(question: Question, pairs: list[tuple[Record, LimitSet]]) -> list[tuple[Record, LimitSet]]:
    """The limit sets that serve the process and the weld asked about, where the record has any: no other comes nearer.

    A record of a procedure whose process is another is no candidate beside one that serves it.
    """
    for name in ("process", "weld_type"):
        serving = [pair for pair in pairs if not _refuses(pair[1], name, question.demand)]
        if name == "process" and serving and all(record.kind == "procedure" for record, _ in pairs):
            pairs = serving
        able = [record for record, _ in serving]
        pairs = [pair for pair in pairs if pair in serving or pair[0] not in able]
    return pairs


def _refuses(limits: LimitSet, name: str, demand: Demand) -> bool:
    own = (limit for limit in limits.limits if limit.variable == name)
    return any(outcome_of(demand, limit) is Outcome.OUTSIDE for limit in own)


def _sentence(result: Answer, parts: Sequence[_Judged]) -> str:
    """The answer in words: what decides it stands first. Covered by a record that does not count is not "Covered"."""
    judged: list[str] = []
    verdict = result.get("verdict")
    lapsed = bool(parts) and all(part.validity_outcome not in (None, Outcome.COVERED) for part in parts)
    within = lapsed and isinstance(verdict, dict) and verdict["outcome"] == Outcome.COVERED.value
    if within:
        judged.append("By its limits alone the demand would be covered.")
    elif isinstance(verdict, dict):
        judged.append(str(verdict["sentence"]))
    if words := result.get("uncovered_in_words"):
        judged.append(f"No record covers: {'; '.join(words)}.")  # type: ignore[arg-type]
    lives = _lives(parts)
    return " ".join([*lives, *judged] if within else [*judged, *lives])


def _lives(parts: Sequence[_Judged]) -> list[str]:
    """Of each record that has a clock whether it is valid on the day."""
    sentences: list[str] = []
    for part in parts:
        state = part.state
        if part.missing:
            sentences.append(f"{part.record.label}: {part.missing}.")
        elif state is not None and not state.valid:
            sentences.append(f"{part.record.label} is not valid on {state.on}: {state.because} ({state.clause}).")
        elif state is not None:
            until = f"until {state.until}" if state.until else "without end"
            sentences.append(f"{part.record.label} is valid on {state.on}, {until}.")
    return sentences


def _reasons(result: Answer, parts: Sequence[_Judged]) -> list[str]:
    verdict = result.get("verdict")
    reasons = list(verdict["reasons"]) if isinstance(verdict, dict) else []
    for part in parts:
        state = part.state
        if part.missing:
            reasons.append("missing_data")
        elif state is not None and not state.valid:
            reasons.append(state.reason)
    return list(dict.fromkeys(reasons))


def _verdict_to_plain(verdict: Verdict) -> Answer:
    return {
        "outcome": verdict.outcome.value,
        "sentence": verdict.sentence,
        "record": verdict.label,
        "reasons": list(verdict.reasons),
        "readings": list(verdict.readings),
        "not_fully_confirmed": list(verdict.unconfirmed),
    }


def _finding_to_plain(found: Finding) -> Answer:
    return {
        "variable": found.variable,
        "outcome": found.outcome.value,
        "wanted": found.wanted,
        "allowed": found.allowed,
        "clause": str(found.clause),
        "mark": found.mark.value,
        "source": found.clause.source,
        "because": found.because,
        "tested": found.tested,
        "margin": None if found.margin is None else number(found.margin),
        "unit": found.unit,
        "reason": found.reason,
        "missing": found.missing,
        "needs": found.needs,
        "readings": list(found.readings),
        "sentence": found.sentence,
    }


def limit_to_plain(limit: Limit) -> Answer:
    """One limit as plain data; an interval also as numbers."""
    return {
        "variable": limit.variable,
        "allowed": allowed_in_short(limit),
        "range": to_plain(limit.allowed.interval) if isinstance(limit.allowed, Within) else None,
        "terms": list(getattr(limit.allowed, "terms", ())) or None,
        "when": [str(when) for when in limit.when],
        "clause": str(limit.clause),
        "mark": limit.clause.mark.value,
        "because": in_short(limit.because),
        "readings": list(limit.readings),
    }
