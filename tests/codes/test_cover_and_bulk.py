"""Windows against several records, and many demands at once: both held to the explaining checker."""

from decimal import Decimal as D

from hypothesis import given
from hypothesis import strategies as st

from codes.bulk import Compiled
from codes.check import check
from codes.clauses import Clause, Mark
from codes.cover import is_covered, is_covered_together, may_cut, uncovered, widest
from codes.limits import Limit, LimitSet, OneOf, span, when_is
from codes.values import Interval, atoms
from codes.verdict import Outcome

CLAUSE = Clause("An invented standard:2026", "1.1", Mark.OWN)
POSITIONS = ("PA", "PB", "PC")


def record(lo, hi, positions, capped=None):
    limits = [
        Limit("process", OneOf(("135",)), CLAUSE),
        Limit("parent_t", span(D(lo), D(hi), "mm"), CLAUSE),
        Limit("position", OneOf(tuple(positions)), CLAUSE),
    ]
    if capped is not None:
        cap = span(None, D(capped), "mm")
        limits.append(Limit("parent_t", cap, CLAUSE, when=(when_is("impact_required", "yes"),)))
    return LimitSet(f"{lo}-{hi}", tuple(limits))


def window(lo, hi, positions, impact="no"):
    return {
        "process": "135",
        "parent_t": Interval(D(lo), D(hi), "mm"),
        "position": tuple(positions),
        "impact_required": impact,
    }


def test_two_records_that_meet_cover_the_whole_window():
    assert uncovered(window(3, 30, ["PA"]), [record(3, 16, ["PA"]), record(12, 30, ["PA"])]) == ()


def test_two_records_that_can_only_together_are_asked_both():
    """A window held by two records and by neither alone; a third that fails it whole changes nothing."""
    first, second, other = record(3, 16, ["PA"]), record(12, 30, ["PA"]), record(3, 30, ["PB"])
    asked = window(3, 30, ["PA"])
    assert is_covered(asked, [first, second]) and is_covered(asked, [second, first])
    assert is_covered(asked, [first, other, second])
    for few in ([first], [second], [other], [first, other], [], [first, record(17, 30, ["PA"])]):
        assert not is_covered(asked, few)
    assert is_covered(window(3, 16, ["PA"]), [first]) and is_covered(window(12, 16, ["PA"]), [first, second])


def test_the_gap_between_two_records_is_named_with_open_ends():
    (piece,) = uncovered(window(3, 30, ["PA"]), [record(3, 16, ["PA"]), record(18, 30, ["PA"])])
    assert piece.demand["parent_t"] == Interval(D(16), D(18), "mm", True, True)


def test_corners_inside_do_not_make_the_middle_covered():
    # Thin in PA by one record, thick in PB by the other: all corner values occur, thick in PA does not.
    sets = [record(3, 10, ["PA", "PB"]), record(10, 30, ["PB"])]
    (piece,) = uncovered(window(3, 30, ["PA", "PB"]), sets)
    assert piece.demand["position"] == "PA"
    assert piece.demand["parent_t"] == Interval(D(10), D(30), "mm", True, False)


def test_a_condition_cuts_the_window_too():
    sets = [record(3, 30, ["PA"], capped=12)]
    (piece,) = uncovered(window(3, 30, ["PA"], ("yes", "no")), sets)
    assert piece.demand["impact_required"] == "yes" and piece.demand["parent_t"].lo == D(12)


def test_what_the_window_does_not_state_is_never_covered():
    demand = window(3, 10, ["PA"])
    del demand["position"]
    (piece,) = uncovered(demand, [record(3, 16, POSITIONS)])
    assert piece.verdicts[0].outcome is Outcome.NOT_STATED


records = st.builds(
    lambda lo, size, positions, cap: record(lo, lo + size, positions, cap),
    st.integers(1, 20),
    st.integers(0, 20),
    st.lists(st.sampled_from(POSITIONS), min_size=1, max_size=3, unique=True),
    st.none() | st.integers(1, 20),
)
demands = st.fixed_dictionaries(
    {"process": st.sampled_from(("135", "136"))},
    optional={
        "parent_t": st.decimals(0, 45, places=1)
        | st.tuples(st.decimals(0, 45, places=0), st.decimals(0, 45, places=0)),
        "position": st.sampled_from(POSITIONS),
        "impact_required": st.sampled_from(("yes", "no")),
    },
)


@given(st.lists(records, min_size=1, max_size=6), st.lists(demands, min_size=1, max_size=8))
def test_bulk_equals_the_explained_answer(sets, asked):
    compiled = Compiled(sets)
    for demand in asked:
        covered, outside = compiled.masks(demand)
        for i, limits in enumerate(sets):
            outcome = check(demand, limits).outcome
            assert bool(covered >> i & 1) is (outcome is Outcome.COVERED)
            assert bool(outside >> i & 1) is (outcome is Outcome.OUTSIDE)


@given(
    st.lists(records, min_size=1, max_size=4),
    st.integers(1, 20),
    st.integers(1, 20),
    st.lists(st.sampled_from(POSITIONS), min_size=1, max_size=3, unique=True),
    st.sampled_from(("yes", "no")),
)
def test_box_cover_agrees_with_every_point_of_a_half_millimetre_grid(sets, lo, size, positions, impact):
    box = window(lo, lo + size, positions, impact)
    pieces = uncovered(box, sets)
    for half in range(2 * lo, 2 * (lo + size) + 1):
        for position in positions:
            point = box | {"parent_t": D(half) / 2, "position": position}
            covered = any(check(point, limits).outcome is Outcome.COVERED for limits in sets)
            in_pieces = any(
                piece.demand["parent_t"].holds(point["parent_t"]) and position in atoms(piece.demand["position"])
                for piece in pieces
            )
            assert covered is not in_pieces


def test_what_is_uncovered_everywhere_is_told_once():
    """PE is covered at no thickness; two records cut the thickness in two, and the widest piece joins it again."""
    sets = [record(3, 12, ["PA"]), record(12, 30, ["PA", "PB"])]
    asked = window(3, 30, ["PA", "PE"])
    pieces = uncovered(asked, sets)
    assert len(pieces) > 1
    (piece,) = widest(asked, pieces, sets)
    assert (piece.demand["position"], piece.demand["parent_t"]) == ("PE", asked["parent_t"])


def test_a_widest_piece_holds_no_covered_point():
    """Thick in PA stays a part: thin in PA is covered, and so is thick in PB."""
    sets = [record(3, 10, ["PA", "PB"]), record(10, 30, ["PB"])]
    asked = window(3, 30, ["PA", "PB"])
    (piece,) = widest(asked, uncovered(asked, sets), sets)
    assert piece.demand["position"] == "PA"
    assert piece.demand["parent_t"] == Interval(D(10), D(30), "mm", True, False)


def test_two_reasons_are_two_pieces_and_not_their_products():
    sets = [record(3, 12, ["PA"]), record(10, 20, ["PA"])]
    asked = window(3, 30, ["PA", "PE"])
    told = widest(asked, uncovered(asked, sets), sets)
    assert [(p.demand["position"], str(p.demand["parent_t"])) for p in told] == [
        ("PE", "3 to 30 mm"),
        (("PA", "PE"), "above 20 to 30 mm"),
    ]


@given(st.lists(records, max_size=4), st.integers(1, 20), st.integers(0, 20), st.sampled_from(("yes", "no")))
def test_covered_without_a_word_is_nothing_left_uncovered(sets, lo, size, impact):
    for positions in (["PA"], ["PA", "PB"], "PA"):
        box = window(lo, lo + size, positions, impact)
        assert is_covered(box, sets) is (uncovered(box, sets) == ())


@given(st.lists(records, max_size=4), st.integers(1, 20), st.integers(0, 20), st.sampled_from(("yes", "no")))
def test_covered_together_by_what_is_known_to_fail_is_nothing_left_uncovered(sets, lo, size, impact):
    for positions in (["PA"], ["PA", "PB"], "PA"):
        box = window(lo, lo + size, positions, impact)
        failing = [{f.variable for f in check(box, one).findings if f.outcome is not Outcome.COVERED} for one in sets]
        # As in bulk: a set that fails what cannot be divided is not asked.
        able = [
            (one, names)
            for one, names in zip(sets, failing, strict=True)
            if not any(limit.variable in names and not may_cut(box, limit) for limit in one.limits)
        ]
        assert is_covered_together(box, *([pair[n] for pair in able] for n in (0, 1))) is (uncovered(box, sets) == ())


def test_bulk_names_the_variables_that_fail_and_no_other():
    compiled = Compiled([record(3, 16, ["PA"]), record(3, 12, ["PA"])])
    at_the_edge = {"process": "135", "parent_t": D(16), "position": "PA", "impact_required": "no"}
    assert compiled.failing(at_the_edge) == [("parent_t", 0b10, 0)]
    assert compiled.failing(at_the_edge | {"parent_t": D("16.1")}) == [("parent_t", 0b11, 0)]
    del at_the_edge["position"]
    assert compiled.failing(at_the_edge) == [("parent_t", 0b10, 0), ("position", 0, 0b11)]
