"""AWS D1.1:2020, prequalified procedures: the case table, and the same table under the numbers of 2015."""

from collections.abc import Mapping

import pytest

from codes.aws_d1_1.book import BOOK_2015, BOOK_2020, Book
from codes.aws_d1_1_prequalified import limit_sets, prequalified
from codes.check import best
from codes.verdict import Verdict
from tests.codes import cases_of
from tests.codes.aws_cases import COMMON, KITS, changes, values

ROWS = cases_of.rows("aws_d1_1_prequalified")
WRITTEN: dict[str, object] = COMMON | {
    "contractor": "",
    "electrodes": "",
    "interpass_min": "",
    "interpass": "",
    "preheat": "50F",
    "in_makers_range": "yes",
    "impact_required": "no",
    "cyclic_load": "no",
    "weld_pass": "root",
    "root_pass_t": "1/4in",
    "fill_pass_t": "1/8in",
    "layer_width": "1/2in",
    "width_over_depth": "yes",
    "filler_diameter": "5/32in",
    "joint_detail": "B-U2a",
}
SMALL_WIRE = {"filler_diameter": "0.045in", "gas_mixture": "CO2"}
FILLET = {
    "weld_type": "fillet",
    "joint_type": "tee",
    "aws_position": "2F",
    "run_type": "single_run",
    "leg_z": "1/4in",
    "joint_detail": "",
    "groove_type": "",
    "groove_angle": "",
    "root_opening": "",
    "root_face": "",
    "weld_detail": "",
    "backing_material": "",
}
PJP = {
    "weld_type": "butt_pjp",
    "joint_type": "tee",
    "joint_detail": "BTC-P4",
    "groove_type": "single_bevel",
    "root_opening": 0,
    "root_face": "1/4in",
    "weld_detail": "ss_nb",
    "backing_material": "",
}
TIGHT_SAW = {"joint_detail": "B-L1-S", "parent_t": "3/8in", "groove_type": "square", "groove_angle": "",
             "root_opening": 0, "weld_detail": "bs", "gouging": "none", "backing_material": "none"}  # fmt: skip
FLAT = {"aws_position": "1F"}
BASES: dict[str, dict[str, object]] = {
    "SMAW fillet": WRITTEN | KITS["SMAW"] | FILLET,
    "SMAW groove": WRITTEN | KITS["SMAW"],
    "SMAW PJP": WRITTEN | KITS["SMAW"] | PJP,
    "GMAW fillet": WRITTEN | KITS["GMAW"] | SMALL_WIRE | FILLET,
    "GMAW groove": WRITTEN | KITS["GMAW"] | SMALL_WIRE,
    "FCAW fillet": WRITTEN | KITS["FCAW"] | FILLET,
    "FCAW groove": WRITTEN | KITS["FCAW"],
    "SAW fillet": WRITTEN | KITS["SAW"] | FILLET | FLAT,
    "SAW groove": WRITTEN | KITS["SAW"] | TIGHT_SAW,
}


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
