"""Tags and filters of the pages of procedures: figures, ranges, and which variables a table shows."""

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Any

from django import template

from codes import terms
from codes.limits import Within
from codes.units import CONVERSIONS, System, amount_in, difference_in, interval_in, unit_in
from codes.values import Interval, Value, number
from codes.variables import unit_of
from codes.verdict import Finding
from register.judged_words import told_term
from register.templatetags.register_base import without_word
from wps import side_by_side
from wps.judgement import Judgement, ProcessJudgement
from wps.models import ProcedureRevision
from wps.sheet_figures import said_in, span_in
from wps.sheet_links import is_us
from wps.window import AnyOf

register = template.Library()


@register.filter
def after_word(judgement: Judgement) -> str:
    """The sentence of a judgement without its first word, which `answer` prints with the shape."""
    text = without_word(judgement.outcome, judgement.sentence).removeprefix(":").strip()
    return text[:1].upper() + text[1:]


register.filter("lines", side_by_side.lines)
register.filter("judged", side_by_side.judged)
register.filter("only_stated", side_by_side.only_stated)
register.filter("only_limited", side_by_side.only_limited)


@register.simple_tag
def us_said(process: ProcessJudgement, variable: str, value: Value | None) -> str:
    """A value in US units where the procedure is written in them and the reader reads SI; else nothing."""
    if value is None or not _also_us(process) or unit_of(variable) not in CONVERSIONS:
        return ""
    return said_in(variable, value, System.US)


@register.simple_tag
def us_allowed(process: ProcessJudgement, finding: Finding) -> str:
    """The allowed range in US units, for `us_said`'s readers, each end rounded inwards."""
    spans = [finding.limit.interval] if isinstance(finding.limit, Within) else []
    spans = list(finding.limit.intervals) if isinstance(finding.limit, AnyOf) else spans
    shown = [us_said(process, finding.variable, one) for one in spans if one.lo is not None or one.hi is not None]
    return " or ".join(filter(None, shown))


@register.simple_tag
def us_margin(process: ProcessJudgement, finding: Finding) -> str:
    """The size of a margin in US units, for `us_said`'s readers: room rounded down, a miss up.

    Example: 3.175 mm to spare is "0.125 in", 14 °C is "25 °F", a miss of 0.01 mm is "0.001 in".
    """
    if not finding.margin or not _also_us(process) or finding.unit not in CONVERSIONS:
        return ""
    rounding = ROUND_CEILING if finding.margin < 0 else ROUND_FLOOR
    return difference_in(abs(finding.margin), finding.unit, System.US, rounding)


def _also_us(process: ProcessJudgement) -> bool:
    return process.system is System.SI and process.demand.get("unit_system") == System.US.value


@register.simple_tag(takes_context=True)
def us_span(context: Any, revision: ProcedureRevision, lo: Decimal | None, hi: Decimal | None, unit: str) -> str:
    """A range of a run in US units where the procedure is written in them and the reader reads SI.

    Example: "10–14 in/min".
    """
    if context.get("system") is System.US or not is_us(revision) or (lo is None and hi is None):
        return ""
    return f"{span_in(lo, hi, unit, System.US)} {unit_in(unit, System.US)}"


@register.filter
def both_names(token: str, vocabulary: str) -> str:
    """ISO and AWS name of a term. `{{ run.process|both_names:"process" }}`."""
    return told_term(terms.both_names(vocabulary, token))


@register.filter
def figure(value: Any) -> str:
    """A figure without the trailing zeros of its column."""
    return number(value) if isinstance(value, Decimal) else str(value)


@register.simple_tag(takes_context=True)
def span(context: Any, lo: Decimal | None, hi: Decimal | None, unit: str = "") -> str:
    """A range in the reader's figures, its ends rounded inwards: "200–240", "200" where both are equal."""
    if lo is None and hi is None:
        return "–"
    system = context.get("system") or System.SI
    shown = interval_in(Interval(lo, hi), unit, system)
    ends = [number(end) for end in dict.fromkeys((shown.lo, shown.hi)) if end is not None]
    if lo is None or hi is None:
        return f"from {ends[0]}" if hi is None else f"up to {ends[0]}"
    return "–".join(ends)


@register.simple_tag(takes_context=True)
def size(context: Any, value: Decimal, unit: str) -> str:
    """A size with its unit, to the nearest step. Example: 1.2 mm is "0.047 in"."""
    return amount_in(value, unit, context.get("system") or System.SI)
