"""AWS D1.1:2020, prequalified procedures: the case table, and the same table under the numbers of 2015."""

from collections.abc import Mapping

import pytest

from codes.aws_d1_1.book import BOOK_2015, BOOK_2020, Book
from codes.aws_d1_1_prequalified import limit_sets, prequalified
from codes.check import best
from codes.verdict import Verdict
from tests.codes import cases_of
from tests.codes.aws_cases import changes, values
from tests.codes.aws_written import BASES

ROWS = cases_of.rows("aws_d1_1_prequalified")


def verdict_of(row: Mapping[str, str], book: Book = BOOK_2020) -> Verdict:
    written = BASES[row["base"]] | changes(row["wps"])
    settings = {f"aws_d1_1_prequalified_{key}": option for key, option in changes(row["settings"]).items()}
    if not row["job"]:
        return prequalified(values(written), book, settings)
    return best(values(written | changes(row["job"])), limit_sets([values(written)], settings, book))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
@pytest.mark.parametrize("book", [BOOK_2020, BOOK_2015], ids=lambda book: book.standard)
def test_the_answer_and_its_reason(book: Book, row: dict[str, str]) -> None:
    verdict = verdict_of(row, book)
    assert verdict.outcome.value == row["expect"], verdict.sentence
    if row["reason"]:
        decided = {found.reason for found in verdict.worst if found.outcome is verdict.outcome}
        assert decided == {row["reason"]}, verdict.sentence


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_every_finding_names_clause_and_source(row: dict[str, str]) -> None:
    for finding in verdict_of(row).findings:
        assert finding.clause.standard == "AWS D1.1:2020"
        assert finding.clause.ref
        assert finding.clause.source


def test_what_is_written_is_said_in_words() -> None:
    """AWS D1.1:2020, Table 5.2: no token of a term reaches the reader."""
    written = [values(base) for base in BASES.values()]
    limits = [limit for one in written for found in limit_sets([one], {}, BOOK_2020) for limit in found.limits]
    said = {limit.because for limit in limits if limit.because.startswith("written ")}
    assert {"written constant voltage"} <= said
    assert not {"written cv", "written cc"} & said
