"""Welders' test records that others published, as facts: the range they state is reproduced, or the gap explained.

A hand-out, a training page or an example in a program is test data, never a source of a rule. Persons and firms are
left out. Every record names the title and publisher of its source.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal as D

import pytest

from codes.check import best, check
from codes.editions import UnknownEdition, edition
from codes.iso_9606_1_2012.designation import DesignationError, OtherEdition, parse, write
from codes.limits import Free, LimitSet, OneOf, Within
from codes.readings import DEFAULTS
from codes.terms import tokens
from codes.values import Value
from codes.variables import VARIABLES
from codes.verdict import Outcome

HANDOUT = ("DIN EN ISO 9606-1:2013-12 Prüfung von Schweißern, Bezeichnungsbeispiele", "scribd.com, document 582621637")
OPEN_HARDWARE = ("Open Know-How Specification, field welder-certification", "Open Source Ecology Germany / OPEN-NEXT")
GUIDE = ("Leitfaden, section 2.4, page A53 (sample pages, 2013)", "issuu.com, account getworx")
EXPLAINED = ("Erläuterungen zur Prüfung nach DIN EN 287-1 (2011-11)", "scribd.com, document 229930012")
CERTO = ("Oznaczenie egzaminu spawacza zgodnie z normą PN-EN ISO 9606", "certo.pl")
AKADEMIA = ("Oznaczenia egzaminu spawacza", "akademiabhp.com")
PERMITS = ("Tillstånd för svetsare", "ilm.pl")
PROGRAM = ("example line in a CV-generator program", "public git repository, name unknown")


@dataclass(frozen=True)
class Record:
    """A published line, what is stated beside it, and the range its source prints."""

    line: str
    source: tuple[str, str]
    also: dict[str, Value] = field(default_factory=dict)
    terms: dict[str, set[str]] = field(default_factory=dict)
    ranges: dict[str, tuple[D, D | None]] = field(default_factory=dict)


JUDGED = {
    "fillet 135": Record(
        "EN ISO 9606-1 135 P FW FM1 S t10 PB ml",
        HANDOUT,
        also={"transfer_mode": "spray"},
        terms={
            "process": {"135", "138"},
            "transfer_mode": {"globular", "spray", "pulsed"},
            "weld_type": {"fillet"},
            "filler_group": {"FM1", "FM2"},
            "filler_type": {"S", "M"},
            "position": {"PA", "PB"},
            "run_type": {"single_run", "multi_run"},
        },
        ranges={"parent_t": (D(3), None)},
    ),
    "butt 136": Record(
        "EN ISO 9606-1 136 P BW FM1 B s15 PE ss nb",
        HANDOUT,
        # The hand-out prints 3 mm without upper limit, which the code ties to three layers.
        also={"transfer_mode": "dip", "layers": D(3)},
        terms={
            "process": {"136"},
            "transfer_mode": {"dip", "globular", "spray", "pulsed"},
            "weld_type": {"butt_cjp", "butt_pjp"},
            "filler_group": {"FM1", "FM2"},
            "filler_type": {"B", "R", "P", "V", "W", "Y", "Z"},
            "root_filler_type": {"B"},
            "position": {"PA", "PC", "PE"},
            "weld_detail": {"ss_nb", "ss_mb", "bs", "ss_gb", "ss_fb"},
        },
        ranges={"deposit_t": (D(3), None)},
    ),
    "pipe 141": Record(
        "EN ISO 9606-1 141 T BW FM3 S s3,6 D60,3 PH ss nb",
        HANDOUT,
        terms={"process": {"141", "142", "143", "145"}},
    ),
    # The source prints PB, FM1 and ml as well: what was tested, not its range (Tables 10, 3 and 12 give more).
    "open hardware": Record("EN ISO 9606-1 135 P FW FM1 S t10 PB ml", OPEN_HARDWARE, ranges={"parent_t": (D(3), None)}),
}


def limits_of(record: Record) -> LimitSet:
    """The one limit set of a record."""
    [limits] = edition("EN ISO 9606-1:2013").limit_sets([dict(parse(record.line).tested) | record.also], DEFAULTS)
    return limits


def allowed_terms(limits: LimitSet, name: str) -> set[str]:
    """The terms that every limit of a variable allows, conditions of pipe and branch aside."""
    every = set(tokens(VARIABLES[name].vocabulary))
    for limit in limits.limits:
        only_branch = any(when.allowed == OneOf(("branch",)) and not when.negate for when in limit.when)
        unconditional = all(when.variable not in ("product", "rotated") for when in limit.when) and not only_branch
        if limit.variable == name and unconditional and isinstance(limit.allowed, OneOf):
            every &= set(limit.allowed.terms)
        elif limit.variable == name and unconditional:
            assert isinstance(limit.allowed, Free)
    return every


@pytest.mark.parametrize(("key", "name"), [(key, name) for key, record in JUDGED.items() for name in record.terms])
def test_the_stated_terms_come_out(key: str, name: str) -> None:
    assert allowed_terms(limits_of(JUDGED[key]), name) == JUDGED[key].terms[name]


@pytest.mark.parametrize(("key", "name"), [(key, name) for key, record in JUDGED.items() for name in record.ranges])
def test_the_stated_ranges_come_out(key: str, name: str) -> None:
    [limit] = [limit for limit in limits_of(JUDGED[key]).limits if limit.variable == name]
    assert isinstance(limit.allowed, Within)
    assert (limit.allowed.interval.lo, limit.allowed.interval.hi) == JUDGED[key].ranges[name]


PIPE: dict[str, Value] = {"product": "pipe", "mechanisation": "partly_mechanised", "root_filler_type": "B"}


def on_pipe(key: str, diameter: str, position: str, rotated: str) -> Outcome:
    """A pipe joint that otherwise equals the test."""
    record = JUDGED[key]
    demand = dict(parse(record.line).tested) | record.also | PIPE
    demand |= {"diameter": D(diameter), "position": position, "rotated": rotated}
    return check(demand, limits_of(record)).outcome


@pytest.mark.parametrize("key", ["fillet 135", "butt 136"])
@pytest.mark.parametrize(
    ("diameter", "rotated", "outcome"),
    [
        ("75", "yes", Outcome.COVERED),
        ("74.9", "yes", Outcome.OUTSIDE),
        ("500", "no", Outcome.COVERED),
        ("499.9", "no", Outcome.OUTSIDE),
    ],
)
def test_the_stated_pipe_diameters_come_out(key: str, diameter: str, rotated: str, outcome: Outcome) -> None:
    """The fillet example prints D >= 75 alone: that is the rotated pipe; a fixed one needs 500 mm (5.3)."""
    assert on_pipe(key, diameter, "PA", rotated) is outcome


def test_the_pipe_line_of_the_butt_example_is_a_slip() -> None:
    """It prints PF for D >= 500, while its own position line and Table 9 give PA, PC and PE to a test in PE."""
    assert on_pipe("butt 136", "500", "PE", "no") is Outcome.COVERED
    assert on_pipe("butt 136", "500", "PF", "no") is Outcome.OUTSIDE


def test_without_the_number_of_layers_the_butt_example_ends_at_30_mm() -> None:
    """Table 6 leaves 12 mm and more without upper limit for three layers or more; the line does not state layers."""
    [limits] = edition("ISO 9606-1").limit_sets([parse(JUDGED["butt 136"].line).tested], DEFAULTS)
    [limit] = [limit for limit in limits.limits if limit.variable == "deposit_t"]
    assert str(limit.allowed) == "3 to 30 mm"


DESIGNATIONS = [
    ("PN-EN ISO 9606-1 135-D P FW FM1 S t10 PF ml", CERTO, "135 P FW FM1 S t10 PF ml", {"PA", "PB", "PF"}),
    ("PN-EN ISO 9606-1 136 P FW FM1 R t10 PF ml", CERTO, "136 P FW FM1 R t10 PF ml", {"PA", "PB", "PF"}),
    ("PN-EN ISO 9606-1 141 P BW FM5 S s4.0 PF ss gb", CERTO, "141 P BW FM5 S s4 PF ss gb", {"PA", "PF"}),
    (
        "PN-EN ISO 9606-1 141 T BW FM1 S s4.0 D89 H-L045 ss nb",
        CERTO,
        "141 T BW FM1 S s4 D89 H-L045 ss nb",
        {"PA", "PC", "PE", "PF", "PH", "H-L045"},
    ),
    ("PN-EN ISO 9606-1 311 P BW FM1 S s4 PA ss nb rw", CERTO, "311 P BW FM1 S s4 PA ss nb rw", {"PA"}),
]


@pytest.mark.parametrize(("line", "source", "written", "positions"), DESIGNATIONS)
def test_designation_lines_are_read_and_give_a_range(
    line: str, source: tuple[str, str], written: str, positions: Iterable[str]
) -> None:
    found = parse(line)
    assert not found.warnings and all(source)
    assert write(found.tested) == f"ISO 9606-1 {written}"
    [limits] = edition("EN ISO 9606-1").limit_sets([found.tested], DEFAULTS)
    assert allowed_terms(limits, "position") == set(positions)


def test_a_butt_weld_with_t_and_ml_is_questioned() -> None:
    """certo.pl prints it so: the details contradict the butt weld, and neither side nor backing is stated."""
    found = parse("PN-EN ISO 9606-1 111 P BW FM1 B t12 PF ml")
    assert len(found.warnings) == 3
    joint = dict(found.tested) | {"mechanisation": "manual", "weld_detail": "ss_mb"}
    assert best(joint, edition("ISO 9606-1").limit_sets([found.tested], DEFAULTS)).outcome is Outcome.NOT_STATED


def test_a_butt_weld_in_a_fillet_position_is_refused() -> None:
    """Malformed line from a program's example: PB is a fillet-weld position."""
    with pytest.raises(DesignationError, match='"PB": PB is a fillet-weld position') as refused:
        parse("NEN-EN-ISO 9606-1 135 P BW FM1 S t10 PB ss nb")
    assert not isinstance(refused.value, OtherEdition) and all(PROGRAM)


RECORDED_NOT_JUDGED = [
    # The same test as the first record under the older standard, with another range: D from 150 mm, parent groups.
    ("EN 287-1 135 P FW 1.1 S t10 PB ml", "EN 287-1:2011", GUIDE),
    ("DIN EN 287-1 111 T BW 1.2 RB t05.0 D120.0 PH ss nb", "EN 287-1:2011", EXPLAINED),
    ("PN-EN 287-1 111 P BW 1.1 R t10.0 PF ss, nb", "EN 287-1", AKADEMIA),
    ("PN-EN 287-1 311 T BW 1.1 S t4.0 D50 H-LO45 ss, nb", "EN 287-1", AKADEMIA),
    ("PN-EN 287-1 135 T BW 1.1 S t5.0 D150 PA ss, nb", "EN 287-1", AKADEMIA),
    ("EN287-1 141 T BW W02 wm t4 D80 H-L045 ss nb", "EN 287-1:1992", PERMITS),
    ("EN287-1 135 P FW W01 wm a5 PB PF", "EN 287-1:1992", PERMITS),
    ("PN-EN ISO 9606-2 131 P BW 22 S t8 PE ss nb", "ISO 9606-2", CERTO),
    ("PN-EN ISO 9606-2 141 P FW 22 S t6 PF sl", "ISO 9606-2", CERTO),
]


@pytest.mark.parametrize(("line", "code", "source"), RECORDED_NOT_JUDGED)
def test_other_standards_are_recorded_not_judged(line: str, code: str, source: tuple[str, str]) -> None:
    """The register says that it does not hold them, and never lends them the ranges of ISO 9606-1:2012."""
    with pytest.raises(OtherEdition, match="does not judge this one"):
        parse(line)
    with pytest.raises(UnknownEdition, match="the register does not hold") as unknown:
        edition(code)
    assert "ISO 9606-1:2012" in str(unknown.value) and all(source)


@pytest.mark.parametrize("line", [line for line, code, _ in RECORDED_NOT_JUDGED if code.endswith("1992")])
def test_the_style_of_1992_is_told_apart(line: str) -> None:
    with pytest.raises(OtherEdition, match="edition of 1992"):
        parse(line)
