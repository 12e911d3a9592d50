"""The lines of findings are kept by all that a finding says, and by the language."""

from dataclasses import replace

from django.template import Context, Template
from django.utils.translation import override

from codes.clauses import Clause, Mark
from codes.verdict import Finding, Outcome
from register.templatetags.register_base import _kept_row

CLAUSE = Clause("EN X:2020", "1", Mark.OWN)
ONE = Finding("t", "Thickness <mm>", Outcome.COVERED, "12 mm", "3 to 24 mm", CLAUSE)


def rows(*findings: Finding) -> str:
    return Template("{% load register_base %}{% finding_rows findings %}").render(Context({"findings": findings}))


def test_equal_findings_are_made_once_and_others_are_others() -> None:
    _kept_row.cache_clear()
    both = rows(ONE, replace(ONE))
    assert both.count("<tr") == 2 and "Thickness &lt;mm&gt;" in both
    assert (_kept_row.cache_info().hits, _kept_row.cache_info().misses) == (1, 1)
    assert "is-outside" in rows(replace(ONE, outcome=Outcome.OUTSIDE))
    assert "doubtful" in rows(replace(ONE, clause=replace(CLAUSE, mark=Mark.DOUBT)))
    with override("de"):
        rows(ONE)
    assert _kept_row.cache_info().misses == 4


def test_a_finding_that_cannot_be_a_key_is_shown_all_the_same() -> None:
    assert "<tr" in rows(replace(ONE, readings=["strict"]))  # type: ignore[arg-type]


def test_a_finding_says_once_what_is_unknown() -> None:
    unknown = "unknown: the record does not state micro section made"
    one = Finding("steels", "Parent materials", Outcome.NOT_STATED, "", unknown, CLAUSE, missing=unknown)
    assert rows(one).count("unknown: the record") == 1
