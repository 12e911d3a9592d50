"""The packed form says what the plain one says, on every run where numpy is at hand."""

from decimal import Decimal as D

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

np = pytest.importorskip("numpy", reason="the packed form needs numpy (the extra 'fast')")

from codes.bulk import Compiled  # noqa: E402
from codes.check import check  # noqa: E402
from codes.verdict import Outcome  # noqa: E402
from joints.bulk_packed import Packed, masks_of, packed  # noqa: E402
from tests.codes.test_cover_and_bulk import POSITIONS, record, records  # noqa: E402

asked = st.tuples(
    st.sampled_from(("135", "136")),
    st.integers(0, 45_000),
    st.sampled_from((*POSITIONS, None)),
    st.sampled_from(("yes", "no", None)),
)


def coded(packed_sets, rows):
    terms = {
        "process": [row[0] for row in rows],
        "position": [row[2] for row in rows],
        "impact_required": [row[3] for row in rows],
    }
    return packed_sets.coded(terms, {"parent_t": np.array([row[1] for row in rows], np.int64)})


def plain(row):
    demand = {"process": row[0], "parent_t": D(row[1]) / 1000, "position": row[2], "impact_required": row[3]}
    return {name: value for name, value in demand.items() if value is not None}


@settings(deadline=None, max_examples=60)
@given(st.lists(records, min_size=1, max_size=70), st.lists(asked, min_size=1, max_size=8))
def test_packed_equals_the_explained_answer(sets, rows):
    form = Packed(sets)
    whole = coded(form, rows)
    different, which = whole.distinct()
    found = masks_of(form.covering(different)[which])
    assert masks_of(form.covering(whole)) == found
    assert form.counts(whole).tolist() == [mask.bit_count() for mask in found]
    compiled = Compiled(form.sets)
    for row, mask in zip(rows, found, strict=True):
        assert mask == compiled.masks(plain(row))[0]
        assert mask == sum(
            1 << i for i, one in enumerate(form.sets) if check(plain(row), one).outcome is Outcome.COVERED
        )


def test_a_limit_is_met_to_the_micrometre():
    form = Packed([record(3, 16, ["PA"])])
    rows = [("135", um, "PA", "no") for um in (2_999, 3_000, 16_000, 16_001)]
    assert form.counts(coded(form, rows)).tolist() == [0, 1, 1, 0]


def test_numbers_that_no_limit_tells_apart_are_asked_once():
    form = Packed([record(3, 16, ["PA"])])
    different, which = coded(form, [("135", um, "PA", "no") for um in (4_000, 5_500, 15_999, 16_000)]).distinct()
    assert different.size == 2 and which.tolist() == [0, 0, 0, 1]


def test_more_limit_sets_than_a_word_has_bits():
    form = Packed([record(3, 10 + i, ["PA"]) for i in range(130)])
    found = form.covering(coded(form, [("135", 100_000, "PA", "no")]))
    assert found.shape == (1, 3)
    assert masks_of(found) == [sum(1 << i for i in range(90, 130))]
    assert masks_of(packed([1 << 129], 3)) == [1 << 129]


@pytest.mark.parametrize("rows", (1, 4, 1024))
def test_tables_put_together_say_what_they_say_apart(rows, monkeypatch):
    monkeypatch.setattr("joints.bulk_packed.ROWS", rows)
    form = Packed([record(3 + i % 5, 10 + i, POSITIONS[i % 3 : i % 3 + 2]) for i in range(70)])
    asked = [
        ("135", um, position, said) for um in (2_999, 9_000, 40_000) for position in POSITIONS for said in ("yes", None)
    ]
    compiled = Compiled(form.sets)
    assert masks_of(form.covering(coded(form, asked))) == [compiled.masks(plain(row))[0] for row in asked]
