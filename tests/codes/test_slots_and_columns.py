"""Numbers that no limit tells apart, many rows judged at once, and counts of masks: each held to the plain way."""

from decimal import Decimal as D

from hypothesis import given
from hypothesis import strategies as st

from codes.check import covers, outcome_of
from codes.clauses import Clause, Mark
from codes.columns import Columns, Sorted, merged
from codes.limits import Free, Limit, LimitSet, OneOf, Within, when_is
from codes.masks import Counts, Runs, any_of, bits
from codes.slots import Slots
from codes.values import Interval
from codes.verdict import Outcome

CLAUSE = Clause("An invented standard:2026", "1.1", Mark.OWN)
masks = st.lists(st.integers(0, 2**40 - 1), max_size=12)


def limit(lo, hi, lo_open=False, hi_open=False, when=()):
    interval = Interval(D(lo) if lo is not None else None, D(hi) if hi is not None else None, "mm", lo_open, hi_open)
    return Limit("parent_t", Within(interval), CLAUSE, when=when)


def test_an_end_has_a_slot_of_its_own() -> None:
    slots = Slots().joined([limit(3, 30)])
    below, at, above = (slots.of("parent_t", D(t)) for t in ("2.999", "3", "3.001"))
    assert len({below, at, above}) == 3
    assert slots.of("parent_t", D("29.999")) == above
    assert slots.of("parent_t", D("30")) != above != slots.of("parent_t", D("30.001"))


def test_an_end_between_two_micrometres_parts_them() -> None:
    """Twelve tenths of 20.8333 mm: no whole micrometre lies on the end."""
    slots = Slots().joined([limit(3, "24.99996")])
    assert slots.of("parent_t", D("24.999")) != slots.of("parent_t", D("25"))
    assert slots.of("parent_t", D("25")) == slots.of("parent_t", D("26"))


def test_a_value_that_is_no_whole_micrometre_stands_for_itself() -> None:
    slots = Slots().joined([limit(3, 30)])
    assert slots.of("parent_t", D("3.0004")) == D("3.0004")


def test_two_thicknesses_are_one_value_whatever_their_order() -> None:
    slots = Slots().joined([limit(3, 30)])
    assert slots.of("parent_t", (D(12), D(31))) == slots.of("parent_t", (D(40), D(8)))
    assert slots.of("parent_t", (D(12), D(20))) != slots.of("parent_t", D(12))


ends = st.decimals(0, 20, places=2)
limits = st.builds(
    lambda a, b, lo_open, hi_open: limit(min(a, b), max(a, b) + 1, lo_open, hi_open),
    ends, ends, st.booleans(), st.booleans(),
)  # fmt: skip


@given(st.lists(limits, min_size=1, max_size=6), ends, ends)
def test_the_same_slot_has_the_same_answer(some, first, second) -> None:
    slots = Slots().joined(some)
    if slots.of("parent_t", first) == slots.of("parent_t", second):
        for one in some:
            assert outcome_of({"parent_t": first}, one) is outcome_of({"parent_t": second}, one)


@given(st.lists(limits, min_size=1, max_size=6), ends, st.sampled_from(("fillet", "butt_cjp", None)))
def test_columns_say_what_each_limit_says(some, thickness, weld) -> None:
    conditional = [limit(3, 12, when=(when_is("weld_type", "fillet"),))]
    rows = [[one, *conditional] for one in some]
    demand = {"parent_t": thickness} | ({"weld_type": weld} if weld else {})
    columns = Columns(Sorted((1 << i, limits) for i, limits in enumerate(rows)))
    judged = columns.judged(demand, {name: hash(value) for name, value in demand.items()})
    found = merged(judged.failing).get("parent_t", (0, 0))
    for i, row in enumerate(rows):
        outcomes = {outcome_of(demand, one) for one in row}
        assert bool(found[0] >> i & 1) is (Outcome.OUTSIDE in outcomes)
        assert bool(found[1] >> i & 1) is (Outcome.NOT_STATED in outcomes)
        assert bool(judged.bad >> i & 1) is bool(outcomes & {Outcome.OUTSIDE, Outcome.NOT_STATED})


def test_a_row_fills_in_what_the_demand_leaves_open_and_nothing_else() -> None:
    rows = [(1, [Limit("gas", OneOf(("M21",)), CLAUSE)]), (2, [Limit("gas", OneOf(("M21",)), CLAUSE)])]
    columns = Columns(Sorted(rows), lambda process: [({"gas": "M21"}, 0b01), ({"gas": "C1"}, 0b10)])
    assert columns.judged({"process": "135"}, {"process": 1}).bad == 0b10
    assert columns.judged({"process": "135", "gas": "M21"}, {"process": 1, "gas": 2}).bad == 0


@given(masks, st.integers(1, 2**40 - 1))
def test_counts_are_counts(some, among) -> None:
    counts = Counts(some)
    by_bit = {i: sum(mask >> i & 1 for mask in some) for i in bits(among)}
    assert all(counts.of(i) == number for i, number in by_bit.items())
    fewest = min(by_bit.values())
    assert bits(counts.least(among)) == [i for i, number in by_bit.items() if number == fewest]


def test_bits_and_all_bits() -> None:
    assert bits(0b1011) == [0, 1, 3]
    assert any_of([0b1, 0b100]) == 0b101
    assert Counts().least(0b110) == 0b110


@given(st.lists(st.integers(1, 6), min_size=1, max_size=8), st.integers(0, 2**48 - 1), masks, masks)
def test_runs_are_asked_at_once_what_each_would_say(lengths, mask, some, more) -> None:
    runs, counts = Runs(lengths), (Counts(some), Counts(more))
    places = [bits(rows) for rows in runs.rows]
    assert [place for run in places for place in run] == list(range(sum(lengths)))
    held = runs.any(mask)
    assert bits(held) == [run[-1] for run in places if any(mask >> place & 1 for place in run)]
    assert bits(runs.whole(held)) == [place for run in places if held >> run[-1] & 1 for place in run]
    nearest = [min(run, key=lambda place: (*(one.of(place) for one in counts), place)) for run in places]
    assert bits(runs.least(counts)) == nearest


def told(columns: Columns, known: dict[object, int], **demand) -> tuple[int, int]:
    """Refusing and speaking rows; every value stands for itself."""
    codes = {name: known.setdefault((name, value), len(known)) for name, value in demand.items()}
    judged = columns.judged(demand, codes)
    return judged.bad, judged.speaks


def test_what_rows_fill_in_hangs_on_the_process_and_gives_way_to_the_demand() -> None:
    butt, fillet = {"weld_type": "butt_cjp"}, {"weld_type": "fillet"}
    rows = {"135": [(butt, 0b01), (fillet, 0b10)], "141": [(fillet, 0b01), (butt, 0b10)]}
    limits = Sorted([(0b11, [limit(3, 24, when=(when_is("weld_type", "butt_cjp"),))])])
    columns, known = Columns(limits, lambda process: rows[str(process)]), {}
    for process, bad in (("135", 0b01), ("141", 0b10), ("135", 0b01)):
        assert told(columns, known, process=process, parent_t=D(30)) == (bad, bad)
        assert told(columns, known, process=process, parent_t=D(24)) == (0, bad)
        assert told(columns, known, process=process, parent_t=D(30), weld_type="butt_cjp") == (0b11, 0b11)
        assert told(columns, known, process=process, parent_t=D(30), weld_type="fillet") == (0, 0)
    plain = Columns(limits)
    assert told(plain, known, process="135", parent_t=D(30)) == (0b11, 0b11)


def test_a_variable_that_does_not_count_and_one_that_is_free() -> None:
    known: dict[object, int] = {}
    limits = Sorted([(0b1, [limit(3, 24)])])
    assert told(Columns(limits, counts=lambda name, demand: name != "parent_t"), known, parent_t=D(30)) == (0, 0)
    assert told(Columns(limits, counts=lambda name, demand: name == "parent_t"), known, parent_t=D(30)) == (1, 1)
    free = Limit("parent_t", Free(), CLAUSE)
    assert not list(Sorted([(0b1, [free])]).limits)
    assert list(Sorted([(0b1, [free])], free=True).limits) == [free]
    assert not covers({}, LimitSet("nothing", ())) and covers({}, LimitSet("free", (free,)))
