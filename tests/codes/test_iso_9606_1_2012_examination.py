"""ISO 9606-1:2012, Table 13: which tests a certificate still lacks."""

from decimal import Decimal as D

import pytest

from codes.iso_9606_1_2012.examination import missing_tests
from codes.values import Value

BUTT: dict[str, Value] = {"process": "111", "weld_type": "butt_cjp", "product": "plate", "deposit_t": D(10)}
FILLET: dict[str, Value] = {"process": "111", "weld_type": "fillet", "product": "plate", "parent_t": D(10)}
PIPE: dict[str, Value] = {"product": "pipe", "diameter": D(25)}


def lacking(tested: dict[str, Value], **results: str) -> list[str]:
    """The tests lacking; a result named here is accepted unless it says otherwise."""
    return [missing.test for missing in missing_tests(tested, results)]


def ok(*names: str) -> dict[str, str]:
    return dict.fromkeys(names, "accepted")


BENT = {"bend": "accepted", "bend_root": "2", "bend_face": "2"}


@pytest.mark.parametrize(
    ("tested", "results"),
    [
        (BUTT, ok("vt", "rt")),
        (BUTT, ok("vt", "fracture")),
        (BUTT, ok("vt") | BENT),
        (BUTT | {"deposit_t": D(8)}, ok("vt", "ut")),
        (BUTT | {"deposit_t": D(12)}, ok("vt", "bend") | {"bend_side": "4"}),
        (BUTT | {"process": "135"}, ok("vt", "rt", "bend")),
        (BUTT | {"process": "135"}, ok("vt", "rt", "fracture")),
        (BUTT | {"process": "135"}, ok("vt") | BENT),
        (BUTT | {"process": "136"}, ok("vt", "rt")),
        (BUTT | {"process": "135"} | PIPE, ok("vt", "rt", "notched_tensile")),
        (BUTT | PIPE, ok("vt", "notched_tensile")),
        (FILLET, ok("vt", "fracture")),
        (FILLET | PIPE, ok("vt", "rt")),
        (BUTT | {"weld_type": "branch"} | PIPE, ok("vt", "rt")),
        (BUTT | {"supplementary_fillet": "yes"}, ok("vt", "rt", "supplementary_vt", "supplementary_fracture")),
    ],
)
def test_complete(tested: dict[str, Value], results: dict[str, str]) -> None:
    assert missing_tests(tested, results) == ()


@pytest.mark.parametrize(
    ("tested", "results", "words"),
    [
        (BUTT, ok("rt"), "visual test"),
        (BUTT, ok("vt"), "RT, UT, bend or fracture"),
        (BUTT | {"deposit_t": D("7.9")}, ok("vt", "ut"), "RT, bend or fracture"),
        ({"process": "111", "weld_type": "butt_cjp", "product": "plate"}, ok("vt", "ut"), "RT, bend or fracture"),
        (BUTT | {"process": ("141", "135"), "deposit_t": (D(3), D(9))}, ok("vt", "rt"), "two specimens"),
        (BUTT | {"process": "131"}, ok("vt", "ut"), "two specimens"),
        (BUTT | {"process": "138"}, ok("vt", "rt"), "two specimens"),
        (BUTT | {"process": "311"}, ok("vt", "rt"), "two specimens"),
        (BUTT, ok("vt", "bend"), "2 root and 2 face"),
        (BUTT, ok("vt", "bend") | {"bend_root": "2", "bend_face": "1"}, "2 root and 2 face"),
        (BUTT | {"deposit_t": D("11.9")}, ok("vt", "bend") | {"bend_side": "4"}, "2 root and 2 face"),
        (BUTT | {"deposit_t": D(12)}, ok("vt", "bend") | {"bend_side": "3"}, "or 4 side bends"),
        (BUTT | PIPE | {"diameter": D("25.1")}, ok("vt", "notched_tensile"), "RT, UT, bend or fracture"),
        (FILLET, ok("fracture"), "visual test"),
        (FILLET, ok("vt", "rt"), "fracture test"),
        (FILLET | PIPE, ok("vt"), "fracture test or RT"),
        (BUTT | {"supplementary_fillet": "yes"}, ok("vt", "rt", "supplementary_vt"), "supplementary fillet"),
        (BUTT, ok("vt", "rt") | {"ut": "rejected"}, "ultrasonic test"),
        (BUTT, ok("vt") | {"rt": "not performed"}, "RT, UT, bend or fracture"),
    ],
)
def test_lacking(tested: dict[str, Value], results: dict[str, str], words: str) -> None:
    found = missing_tests(tested, results)
    assert len(found) == 1
    assert words in found[0].test
    assert found[0].because and found[0].clause.source


def test_nothing_on_file_lacks_everything() -> None:
    assert len(lacking(BUTT | {"supplementary_fillet": "yes"})) == 4
