"""A joint welded by several processes as one demand for each process, in the words of ISO 9606-1 Table 1."""

from collections.abc import Mapping
from decimal import Decimal

from codes.iso_9606_1_2012.tested import figures, terms
from codes.values import Value, atoms

SHARED_OUT = ("deposit_t", "filler_group", "filler_type", "transfer_mode")


def split_multi_process(demand: Mapping[str, Value]) -> tuple[dict[str, Value], ...]:
    """One demand per process, root first; a joint of one process gives one demand.

    `process` is a tuple in order of welding, or text with the processes between slashes or plus signs. Variables of
    the process (thickness, filler, transfer mode) are tuples of as many values, or one value for all; one thickness
    for several processes is that of the whole weld. Process 2 and later are welded on weld metal, so their detail is
    material backing. Every demand states `joint_processes` and, where it is known, `joint_deposit_t`.

    Raises ValueError where a variable states another number of values than there are processes.
    Example: process "141/111" with deposit_t (4, 8) gives 141 with 4 mm and 111 with 8 mm, both of 12 mm together.
    """
    processes = _processes(demand)
    if len(processes) < 2:
        return (_single(demand, processes),)
    total = figures(demand, "deposit_t")
    joint: dict[str, Value] = {"joint_processes": "/".join(processes)}
    if len(total) in (1, len(processes)):
        joint["joint_deposit_t"] = sum(total, Decimal(0))
    return tuple(_part(demand, processes, i) | joint for i in range(len(processes)))


def _processes(demand: Mapping[str, Value]) -> tuple[str, ...]:
    stated = terms(demand, "process")
    if len(stated) != 1:
        return stated
    return tuple(part.strip() for part in stated[0].replace("+", "/").split("/") if part.strip())


def _single(demand: Mapping[str, Value], processes: tuple[str, ...]) -> dict[str, Value]:
    if not processes:
        return dict(demand)
    found: dict[str, Value] = {"joint_processes": processes[0]}
    if "deposit_t" in demand:
        found["joint_deposit_t"] = demand["deposit_t"]
    return found | dict(demand) | {"process": processes[0]}


def _part(demand: Mapping[str, Value], processes: tuple[str, ...], index: int) -> dict[str, Value]:
    part = {name: value for name, value in demand.items() if name not in SHARED_OUT}
    part["process"] = processes[index]
    for name in SHARED_OUT:
        if name in demand:
            part |= _share(name, demand[name], index, len(processes))
    if index > 0:
        part.pop("root_filler_type", None)
        if "weld_detail" in part:
            part["weld_detail"] = "ss_mb"
    return part


def _share(name: str, value: Value, index: int, count: int) -> dict[str, Value]:
    values = atoms(value)
    if len(values) == count:
        return {name: values[index]}
    if len(values) == 1:
        return {} if name == "deposit_t" else {name: values[0]}
    raise ValueError(f"{name} states {len(values)} values for {count} processes; state one each, or one for all")
