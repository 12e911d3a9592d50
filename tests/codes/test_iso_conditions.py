"""ISO 15614-1, ISO 9606-1 and EN 1090-2: the conditions that decide which limit is drawn, on both sides."""

from decimal import Decimal as D

import pytest

from codes.editions import edition
from codes.en_1090_2_2018.steel_sets import Above, InGroups, Known, Low, Structural, UpTo
from codes.iso_9606_1_2012.combine import merge
from codes.iso_9606_1_2012.designation import DesignationError
from codes.iso_9606_1_2012.designation_writer import write
from codes.iso_9606_1_2012.joint import split_multi_process
from codes.iso_9606_1_2012.tested import parts
from codes.iso_15614_1_2017.rows import Bound, Row
from codes.iso_15614_1_2017.table_7 import THROAT_SINGLE_RUN
from codes.limits import LimitSet, Nothing
from codes.parse import parse_values
from codes.values import Interval, Steel, SteelPair, Value
from codes.verdict import Verdict
from tests.codes.procedure_cases import verdict_of
from tests.codes.test_iso_9606_1_2012_ranges import BUTT, FILLET, ask

ALL_MM = Interval(D(0), None, "mm", lo_open=True)


def asked(base: str, record: str = "", demand: str = "", settings: str = "") -> Verdict:
    return verdict_of({"base": base, "record": record, "demand": demand, "settings": settings})


def answer(verdict: Verdict, variable: str) -> str:
    """The worst answer about one variable."""
    found = [f.outcome for f in verdict.findings if f.variable == variable]
    return min(found, key=lambda outcome: outcome.rank).value if found else "silent"


@pytest.mark.parametrize(
    ("base", "record", "demand", "variable", "expected"),
    [
        # 8.4.11: 20 degrees either way of a recorded range: 40 degrees leave one temperature, more none.
        (
            "butt 135",
            "pwht=yes; pwht_temperature=560..600; pwht_minutes=60",
            "pwht_temperature=580",
            "pwht_temperature",
            "covered",
        ),
        (
            "butt 135",
            "pwht=yes; pwht_temperature=560..600; pwht_minutes=60",
            "pwht_temperature=580.1",
            "pwht_temperature",
            "outside",
        ),
        (
            "butt 135",
            "pwht=yes; pwht_temperature=560..600.1; pwht_minutes=60",
            "pwht_temperature=580.05",
            "pwht_temperature",
            "outside",
        ),
        # 8.5.2: an oddly mixed gas (Z) is known by its parts; where it states some, the others were not in it.
        ("butt 135", "gas=Z; gas_co2=", "gas=Z; gas_co2=18", "gas_co2", "not stated"),
        ("butt 135", "gas=Z; gas_co2=18", "gas_o2=0.1", "gas_o2", "covered"),
        ("butt 135", "gas=Z; gas_co2=18", "gas_o2=0.2", "gas_o2", "outside"),
        # A trace of 0.1 % is no component that was tested.
        ("butt 135", "gas=M24; gas_co2=10; gas_o2=0.1", "gas_o2=0.1", "gas_o2", "not stated"),
        ("butt 135", "gas=M24; gas_co2=10; gas_o2=0.2", "gas_o2=0.2", "gas_o2", "covered"),
        ("butt 141", "gas=I1; gas_he=0.1", "gas_he=0.1", "gas_he", "covered"),
        ("butt 141", "gas=I1; gas_he=0.1", "gas_he=0.2", "gas_he", "outside"),
        # 8.5.2 and 8.5.3: carbon dioxide moves by 10 % of its share in metal arc welding, helium in TIG welding.
        ("butt 135", "gas_co2=20", "gas_co2=22", "gas_co2", "covered"),
        ("butt 135", "gas_co2=20", "gas_co2=22.1", "gas_co2", "outside"),
        ("butt 141", "gas=I3; gas_he=50", "gas_he=55", "gas_he", "covered"),
        ("butt 141", "gas=I3; gas_he=50", "gas_he=55.1", "gas_he", "outside"),
        # 8.5.6: an open root says whether gas was behind it; with a backing bar nothing is asked.
        ("butt 141", "weld_detail=ss_nb; backing_gas=", "backing_gas=I1", "backing_gas", "not stated"),
        ("butt 141", "weld_detail=; backing_gas=", "weld_detail=ss_nb; backing_gas=I1", "backing_gas", "not stated"),
        ("butt 141", "weld_detail=ss_gb; backing_gas=", "backing_gas=I1", "backing_gas", "not stated"),
        ("butt 141", "weld_detail=ss_mb; backing_gas=", "weld_detail=ss_nb; backing_gas=I1", "backing_gas", "covered"),
        ("butt 141", "weld_detail=ss_nb; backing_gas=I1", "backing_gas=N1", "backing_gas", "outside"),
        # 8.4.3: a T-joint and a joint of another kind cover themselves.
        ("butt 135", "joint_type=corner", "joint_type=corner", "joint_type", "covered"),
        ("butt 135", "joint_type=corner", "joint_type=butt", "joint_type", "outside"),
        ("butt 135", "joint_type=corner", "joint_type=tee", "joint_type", "outside"),
        ("butt 135", "joint_type=butt", "joint_type=butt", "joint_type", "covered"),
        ("butt 135", "joint_type=tee", "joint_type=butt", "joint_type", "outside"),
        # 8.4.3 at level 1: a consumable insert covers itself.
        ("butt 141", "level=1; weld_detail=ci", "level=1; weld_detail=ci", "weld_detail", "covered"),
        ("butt 141", "level=1; weld_detail=ci", "level=1; weld_detail=ss_nb", "weld_detail", "outside"),
        ("butt 141", "level=1; weld_detail=ss_nb", "level=1; weld_detail=ci", "weld_detail", "outside"),
        # Level 1: butt tests cover each other and fillets; build-up covers itself.
        ("butt 135", "level=1; weld_type=butt_pjp", "level=1; weld_type=butt_cjp", "weld_type", "covered"),
        ("butt 135", "level=1; weld_type=butt_cjp", "level=1; weld_type=fillet", "weld_type", "covered"),
        ("butt 135", "level=1; weld_type=buildup", "level=1; weld_type=butt_cjp", "weld_type", "outside"),
        ("butt 135", "level=1; weld_type=buildup", "level=1; weld_type=buildup", "weld_type", "covered"),
        ("fillet 135", "level=1", "level=1; weld_type=butt_cjp", "weld_type", "outside"),
        # 8.4.2: downward is covered by a test downward only, where impact properties are asked for at the extremes too.
        (
            "butt 135",
            "position=PF|PC; impact_tested=yes; hardness_tested=yes; impact_positions=PF; hardness_positions=PC",
            "position=PA; impact_required=yes; hardness_required=yes",
            "position",
            "covered",
        ),
        (
            "butt 135",
            "position=PF|PC; impact_tested=yes; hardness_tested=yes; impact_positions=PF; hardness_positions=PC",
            "position=PG; impact_required=yes; hardness_required=yes",
            "position",
            "outside",
        ),
        (
            "butt 135",
            "position=PF|PC|PG; impact_tested=yes; hardness_tested=yes; impact_positions=PF|PG; "
            "hardness_positions=PC|PG",
            "position=PG; impact_required=yes; hardness_required=yes",
            "position",
            "covered",
        ),
        (
            "butt 135",
            "position=PF|PC; impact_tested=yes; hardness_tested=yes; impact_positions=PF; hardness_positions=PC; "
            "extreme_positions=no",
            "position=PA; impact_required=yes; hardness_required=yes",
            "position",
            "outside",
        ),
        (
            "butt 135",
            "position=PA|PE; impact_tested=yes; hardness_tested=yes; impact_positions=PA; hardness_positions=PE; "
            "extreme_positions=yes",
            "position=PF; impact_required=yes; hardness_required=yes",
            "position",
            "covered",
        ),
        (
            "butt 135",
            "position=PA; impact_tested=yes; hardness_tested=yes; extreme_positions=yes",
            "position=PF; impact_required=yes; hardness_required=yes",
            "position",
            "outside",
        ),
        (
            "butt 135",
            "product=pipe; diameter=200; position=PH; impact_tested=yes; hardness_tested=yes",
            "position=PC; impact_required=yes; hardness_required=yes",
            "position",
            "covered",
        ),
    ],
)
def test_a_condition_of_a_procedure_test(base: str, record: str, demand: str, variable: str, expected: str) -> None:
    """ISO 15614-1:2017; clauses beside the rows."""
    verdict = asked(base, record, demand)
    assert answer(verdict, variable) == expected, [f.sentence for f in verdict.findings if f.variable == variable]


@pytest.mark.parametrize(("lo", "hi", "given"), [("1", "1", "5 mm"), ("1", "0.999", ""), ("0.5", "2", "2.5 to 10 mm")])
def test_a_range_of_one_figure_is_a_range(lo: str, hi: str, given: str) -> None:
    """Where the ends of a row meet, that one figure is covered; where they cross, nothing is."""
    found = Row(ALL_MM, Bound(D(lo)), Bound(D(hi))).at(D(5))
    assert str(found) == given if given else isinstance(found, Nothing)


def test_the_throat_of_a_single_run_counts_from_the_smallest() -> None:
    """ISO 15614-1:2017, 8.3.2.3 (0.75 a to 1.5 a): a throat under 1 mm has the row too, nought has none."""
    (row,) = THROAT_SINGLE_RUN
    assert [row.serves.holds(D(a)) for a in ("0", "0.01", "0.9", "1", "200")] == [False, True, True, True, True]


PLATE = parse_values(
    {
        "process": "135",
        "product": "plate",
        "weld_type": "butt_cjp",
        "filler_group": "FM1",
        "filler_type": "S",
        "deposit_t": "10",
        "position": "PA",
        "weld_detail": "ss_nb",
    }
)


def test_a_designation_says_what_the_record_states_and_misses_what_it_does_not() -> None:
    """ISO 9606-1:2012, clause 11."""
    assert write(PLATE) == "ISO 9606-1 135 P BW FM1 S s10 PA ss nb"
    for name in ("product", "weld_type", "filler_group"):
        with pytest.raises(DesignationError):
            write({key: value for key, value in PLATE.items() if key != name})
    two: dict[str, Value] = PLATE | {"deposit_t": (D(4), D(6)), "process": ("141", "135")}
    assert "s10(4/6)" in write(two)


def test_without_filler_the_group_is_that_of_the_steel() -> None:
    """ISO 9606-1:2012, clause 11: no filler metal, so the material group of the test piece stands in its place."""
    steels = SteelPair(Steel("1.2", D(355)), Steel("1.2", D(355)))
    bare = {key: value for key, value in PLATE.items() if key != "filler_group"} | {"process": "141"}
    assert "1.2 nm" in write(bare | {"filler_type": "nm", "steels": steels})
    for missing in (parse_values({"filler_type": "S"}) | {"steels": steels}, parse_values({"filler_type": "nm"})):
        with pytest.raises(DesignationError):
            write(bare | missing)


def test_only_a_stated_detail_becomes_that_of_weld_metal() -> None:
    """ISO 9606-1:2012, Table 1: the second process lies on weld metal; what is not stated stays so."""
    stated = parse_values({"process": ["141", "111"], "deposit_t": ["4", "8"], "weld_detail": "ss_nb"})
    for split in (parts, split_multi_process):
        assert [part.get("weld_detail") for part in split(stated)] == ["ss_nb", "ss_mb"]
        silent = {name: value for name, value in stated.items() if name != "weld_detail"}
        assert [part.get("weld_detail") for part in split(silent)] == [None, None]


def test_layers_and_thickness_of_the_whole_are_not_those_of_a_process() -> None:
    """ISO 9606-1:2012, 5.7: one figure for two processes is that of the joint; a filler for two serves both."""
    found = parts(parse_values({"process": ["141", "111"], "deposit_t": "12", "layers": "4", "filler_group": "FM1"}))
    assert [(p.get("deposit_t"), p.get("layers"), p.get("filler_group")) for p in found] == [(None, None, "FM1")] * 2


def test_a_position_that_the_product_cannot_have_is_named() -> None:
    """ISO 9606-1:2012, Table 10: PF is a position of plate, PH its like on pipe."""
    tested = FILLET | {"product": "pipe", "diameter": D(200), "position": ("PB", "PF")}
    (found,) = [f for f in ask(tested, position="PB").findings if f.variable == "position"]
    assert "fillet weld on pipe can have (PF is none)" in found.missing


def test_two_pieces_that_give_the_same_are_told_by_the_first() -> None:
    """ISO 9606-1:2012, 5.7: 15 and 20 mm in three layers both give 3 mm and more; 8 and 10 mm are told by both."""
    code = edition("ISO 9606-1:2012")
    for sizes, pieces in ((("15", "20"), 1), (("8", "10"), 2)):
        sets = [code.limit_sets([BUTT | {"deposit_t": D(s), "layers": D(3)}], {})[0] for s in sizes]
        together = merge(sets, "deposit_t")
        assert together is not None
        (found,) = [one for one in together.limits if one.variable == "deposit_t"]
        assert found.because.count("; ") == pieces - 1, found.because


@pytest.mark.parametrize(
    ("root", "fill", "most"), [("3", "4", "from 3 mm"), ("2", "4", "3 to 40 mm"), ("", "4", "3 to 40 mm")]
)
def test_the_record_with_fewer_layers_counts_for_a_joint_of_two(root: str, fill: str, most: str) -> None:
    """ISO 9606-1:2012, Tables 1 and 6: no upper limit from 12 mm in three layers; one that states none has none."""
    pieces = [BUTT | {"process": "141", "transfer_mode": "", "deposit_t": D(8)}, BUTT | {"deposit_t": D(12)}]
    for piece, layers in zip(pieces, (root, fill), strict=True):
        piece["layers"] = D(layers or 0)
    pieces = [{k: v for k, v in piece.items() if v not in ("", D(0))} for piece in pieces]
    sets = edition("ISO 9606-1:2012").limit_sets(pieces, {})
    found = {str(one.allowed) for limits in sets for one in limits.limits if one.variable == "joint_deposit_t"}
    assert most in found, found


def test_pipes_at_45_degrees_have_no_row_of_fillets() -> None:
    """ISO 9606-1:2012, Table 10: neither upward nor downward, alone or together."""
    for positions in ("H-L045", "J-L045", ("H-L045", "J-L045")):
        tested = FILLET | {"product": "pipe", "diameter": D(200), "position": positions}
        verdict = ask(tested, position="PB")
        assert "position" in verdict.reasons
        assert any("no row of Table 10" in f.because for f in verdict.findings if f.variable == "position"), positions


def test_two_pieces_keep_an_end_that_only_one_of_them_has() -> None:
    """ISO 9606-1:2012, 5.1: smallest lower to largest upper limit; where one has no upper limit, neither has both."""
    code = edition("ISO 9606-1:2012")
    for layers, most in ((D(3), "from 3 mm"), (D(1), "3 to 30 mm")):
        sets = [
            code.limit_sets([BUTT | {"deposit_t": s, "layers": n}], {})[0] for s, n in ((D(8), D(1)), (D(15), layers))
        ]
        together = merge(sets, "deposit_t")
        assert isinstance(together, LimitSet)
        (found,) = {str(one.allowed) for one in together.limits if one.variable == "deposit_t"}
        assert found == most


@pytest.mark.parametrize(
    ("steel", "low", "structural", "known"),
    [
        (Steel("1.2", None), True, True, False),
        (Steel("1.3", None), False, True, False),
        (Steel("1.4", None), True, True, False),
        (Steel("3.1", D(690)), False, True, True),
        (Steel("8.1", D(200)), False, False, True),
        (Steel("", D(360)), True, True, True),
        (Steel("", D("360.1")), False, True, True),
        (Steel("", None), False, False, False),
    ],
)
def test_which_steels_are_low_structural_and_known(steel: Steel, low: bool, structural: bool, known: bool) -> None:
    """EN 1090-2:2018, Table 14 lower rows S235 to S355: by group, and by yield where no group is stated."""
    sure = Steel("1.1", D(235))
    for pair in (SteelPair(steel, sure), SteelPair(sure, steel)):
        assert (Low().holds(pair), Structural().holds(pair), Known().holds(pair)) == (low, structural, known)


@pytest.mark.parametrize(
    ("mpa", "up_to", "above", "from_it"),
    [
        ("459.9", True, False, False),
        ("460", True, False, True),
        ("460.1", False, True, True),
        (None, False, False, False),
    ],
)
def test_grades_up_to_above_and_from(mpa: str | None, up_to: bool, above: bool, from_it: bool) -> None:
    """EN 1090-2:2018, 7.4.1: a grade that is capped is in, above it is out; cruciform tests start from the grade."""
    pair = SteelPair(Steel("", D(mpa) if mpa else None), Steel("1.1", D(235)))
    sets = (UpTo(D(460)), Above(D(460)), Above(D(460), included=True))
    assert tuple(one.holds(pair) for one in sets) == (up_to, above, from_it)
    assert InGroups(("1.1",)).holds(pair) and not InGroups(("1.1",), both=True).holds(pair)


def test_the_way_of_asking_makes_no_difference() -> None:
    """The base joint of every process is covered by its own record."""
    for base in ("butt 135", "fillet 135", "butt 111", "butt 141", "butt 121", "butt 15", "butt 311"):
        assert asked(base).outcome.value == "covered", base
