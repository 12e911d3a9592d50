"""Throats that one run does not give: the weld is then a multi-run weld, which asks for other people and procedures."""

from collections.abc import Iterator, Mapping
from decimal import ROUND_CEILING, Decimal

from codes.terms import both_names
from codes.values import number
from joints.demands import MECHANISED
from joints.weld_data.finding import PRACTICE, Finding
from joints.weld_data.registry import rule
from joints.weld_data.weld import Weld

# Process -> largest throat of one run [mm]: flat, horizontal (PB, PC), all others. Own rule, common practice.
_ROWS = """
111 5.5 4.5 5.5
114 7 6 6
121 9 6.5 0
125 9 6.5 0
131 5.5 5 4.5
135 7 6 6
136 7 6 7
138 7 6 6
141 3.5 3.5 3.5
"""
LARGEST: Mapping[str, tuple[Decimal, ...]] = {
    row.split()[0]: tuple(map(Decimal, row.split()[1:])) for row in _ROWS.strip().splitlines()
}
FLAT, HORIZONTAL = ("PA",), ("PB", "PC")
CARRIED, MACHINE_MORE = ("131", "135", "136", "138"), Decimal(1)
"""A wire that a machine carries evenly gives a larger run than one by hand [mm]; submerged arc is always carried."""
LONGEST = 500
"""Characters of a remark."""
SAYS_RUNS = ("run", "pass", "layer")


def largest_throat(process: str, position: str, machine: bool = False) -> Decimal | None:
    """The largest throat [mm] of one run; 0 where the process does not weld so; None for a process without a row.

    A position that is not stated counts as horizontal. Example: ("135", "PB") gives 6, carried by a machine 7.
    """
    row = LARGEST.get(process)
    if row is None:
        return None
    place = 0 if position in FLAT else 1 if position in HORIZONTAL or not position else 2
    return row[place] + (MACHINE_MORE if machine and process in CARRIED else 0)


@rule("Throat larger than one run gives")
def larger_than_one_run(weld: Weld) -> Iterator[Finding]:
    """The remark says so, with the least number of runs by area. Example: 135 in PB: a = 6 is one run, 6.1 are two."""
    throat, process = weld.throat, weld.joint.final_process
    station = weld.station_of("final")
    machine = station is not None and station.mechanisation in MECHANISED
    most = largest_throat(process, weld.joint.position, machine)
    said = weld.joint.remarks
    if not (weld.fillet and throat and most) or throat <= most or any(word in said.lower() for word in SAYS_RUNS):
        return
    runs = int(((throat / most) ** 2).to_integral_value(ROUND_CEILING))
    reason = (
        f"one run of {both_names('process', process)}{' in this position' if weld.joint.position else ''} gives a "
        f"throat of up to {number(most)} mm; "
        f"a = {number(throat)} mm takes at least {runs} runs by area"
    )
    remark = f"multi-run: at least {runs} runs"
    after = f"{said}; {remark}" if said else remark
    yield weld.find("remarks", reason, PRACTICE, {"remarks": after} if len(after) <= LONGEST else None)
