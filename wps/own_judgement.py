"""A judgement as a reader in US units sees it: judged in SI, only its figures are turned over."""

from dataclasses import replace

from codes.limits import Within
from codes.units import System
from codes.values import Interval
from codes.verdict import Outcome, Verdict
from register.own_units.findings import finding_in
from register.own_units.words import ranges_in, sentence_in
from wps.judgement import Allows, Gap, Judgement, ProcessJudgement, VariableView
from wps.own_figures import limit_in, said
from wps.words import piece_text


def judgement_in(judgement: Judgement, system: System) -> Judgement:
    """The judgement in the reader's units; no end of a range is shown wider than it is."""
    if system is System.SI:
        return judgement
    return replace(judgement, processes=tuple(_process(one, system) for one in judgement.processes))


def _process(process: ProcessJudgement, system: System) -> ProcessJudgement:
    return replace(
        process,
        variables=tuple(_view(one, process, system) for one in process.variables),
        gaps=tuple(_gap(one, system) for one in process.gaps),
        combined=tuple(
            replace(one, findings=tuple(finding_in(found, system) for found in one.findings))
            for one in process.combined
        ),
        system=system,
    )


def _view(view: VariableView, process: ProcessJudgement, system: System) -> VariableView:
    allows = tuple(
        Allows(one.record, limit_in(one.limit, system), finding_in(one.finding, system)) for one in view.allows
    )
    together = (found for one in process.combined for found in one.findings if found.variable == view.variable)
    findings = (*(one.finding for one in view.allows), *together)
    beside = tuple(span for found in findings for span in ranges_in(found.allowed))
    return replace(view, says=_says(view, allows, beside, system), allows=allows)


def _says(view: VariableView, allows: tuple[Allows, ...], beside: tuple[Interval, ...], system: System) -> str:
    """What the procedure says; where it misses, rounded away from the limit, so that it is seen to miss."""
    if view.value is None:
        return view.says
    if view.variable == "steels":
        return sentence_in(view.says, system, *beside)
    missed = (one.finding for one in allows if one.finding.outcome is Outcome.OUTSIDE)
    measured = [found.wanted for found in missed if isinstance(found.limit, Within)]
    return measured[0] if measured else said(view.variable, view.value, system)


def _gap(gap: Gap, system: System) -> Gap:
    nearest = None if gap.nearest is None else _verdict(gap.nearest, system)
    return replace(gap, nearest=nearest, text=piece_text(gap.cut, nearest, system) if gap.text else "")


def _verdict(verdict: Verdict, system: System) -> Verdict:
    return replace(verdict, findings=tuple(finding_in(one, system) for one in verdict.findings))
