"""One question, three ways, in one run: how many procedures and certificates, valid that day, cover each demand?

The packed check of the register, the same as a join in DuckDB (deduplicated, tables loaded), and a bare AND over the
same words, which is the least that any packed check must do. Eight variables and the date; the counts must agree.
"""

import random
import time
from collections.abc import Callable, Iterator
from decimal import Decimal
from typing import Any

JOINTS, CERTIFICATES, PROCEDURES = 1_000_000, 5000, 1000
TODAY = 20_000
"""The day asked about, as a number."""
PROCESSES, MECHANISATIONS, WELDS = ("111", "135", "136", "138", "121"), ("manual", "partly", "auto"), ("fillet", "butt")
POSITIONS = ("PA", "PB", "PC", "PD", "PE", "PF", "PG", "PH")
MATERIALS = ("FM1", "FM2", "FM5")
THICK = tuple(range(5_000, 41_000, 1_000))
THROATS = tuple(range(3_000, 13_000, 500))
DUCKDB_TIMES, BARE_TIMES = 5, 15


def rows() -> Iterator[dict[str, Any]]:
    try:
        import duckdb
        import numpy  # noqa: F401
    except ImportError as missing:
        yield row(f"packed check against a join: skipped, {missing.name} is not installed (requirements-bench.txt)")
        return
    taken: dict[str, float] = {}
    for what, number in (("certificates", CERTIFICATES), ("procedures", PROCEDURES)):
        yield from _against(what, number, duckdb, taken)
    part = taken["packed"] / taken["join"] * DUCKDB_TIMES
    yield row("compiled check of both, in fifths of the joins", part, "x", DUCKDB_TIMES, limit=1.0)
    part = taken["packed, processor"] / taken["join, processor"] * DUCKDB_TIMES
    yield row("the same, time of the processor", part, "x", DUCKDB_TIMES)
    yield row("compiled check of both, in times the bare AND", taken["packed"] / taken["bare"], "x", BARE_TIMES,
              limit=BARE_TIMES)  # fmt: skip


def row(what: str, value: float = 0.0, unit: str = "", count: int = 0, limit: float | None = None) -> dict[str, Any]:
    """A row of the table of the coverage benchmark."""
    return {"what": what, "count": count, "taken": float(value), "unit": unit, "limit_taken": limit}


def _against(what: str, number: int, duckdb: Any, whole: dict[str, float]) -> Iterator[dict[str, Any]]:
    """One kind of limit sets; the times are added to those of the whole question."""
    import numpy as np

    from joints.bulk_packed import Packed

    chance = random.Random(number)
    held = [_held(chance) for _ in range(number)]
    form = Packed([_limits(n, one) for n, one in enumerate(held)])
    terms, numbers = _joints(chance)
    start = time.perf_counter()
    different, which = form.coded(terms, numbers).distinct()
    yield row(f"{number:,} {what}: {JOINTS:,} joints told apart", time.perf_counter() - start, "s", different.size)
    tables = form.tables(different)
    base = _joined(duckdb, held, different)
    taken, answers = {}, {}
    for name, ask in (
        ("packed", lambda: form.counts(different)),
        ("join", base),
        ("bare", lambda: bare(tables)),
    ):
        taken[name], taken[f"{name}, processor"], answers[name] = _best(ask)
    per_demand = answers["packed"]
    assert (per_demand == np.bitwise_count(answers["bare"]).sum(axis=1)).all()
    assert per_demand.sum() == sum(found for _, found in answers["join"])
    assert all(per_demand[demand] == found for demand, found in answers["join"])
    yield row(f"{number:,} {what}: compiled check", taken["packed"], "s", int(per_demand[which].sum()))
    yield row(f"{number:,} {what}: the same as a DuckDB join", taken["join"], "s", len(answers["join"]))
    yield row(f"{number:,} {what}: bare AND over the same words", taken["bare"], "s", different.size)
    for name, seconds in taken.items():
        whole[name] = whole.get(name, 0.0) + seconds


def bare(tables: list[Any]) -> Any:
    """One lookup and one AND for each table, all demands at once: nothing else."""
    _, words, places = tables[0]
    found = words[places]
    for _, words, places in tables[1:]:
        found &= words[places]
    return found


def _best(ask: Callable[[], Any], repeats: int = 3) -> tuple[float, float, Any]:
    """The least time of some repeats, so that a busy machine disturbs all alike, the least time of the processor, of
    all threads together [s], and the answer.
    """
    taken, used, found = [], [], None
    for _ in range(repeats):
        start, busy = time.perf_counter(), time.process_time()
        found = ask()
        taken.append(time.perf_counter() - start)
        used.append(time.process_time() - busy)
    return min(taken), min(used), found


def _held(chance: random.Random) -> dict[str, Any]:
    """What one certificate or procedure allows."""
    low, least = chance.choice(THICK[:8]), chance.choice(THROATS[:6])
    start = TODAY + chance.randrange(-900, 60)
    return {
        "process": chance.choice(PROCESSES),
        "mechanisation": chance.choice(MECHANISATIONS),
        "weld_type": tuple(chance.sample(WELDS, chance.choice((1, 1, 2)))),
        "position": tuple(chance.sample(POSITIONS, chance.randint(2, 5))),
        "filler_group": tuple(chance.sample(MATERIALS, chance.randint(1, 2))),
        "run_type": chance.choice((("single_run",), ("single_run", "multi_run"))),
        "parent_t": (low, low + chance.choice((6_000, 12_000, 24_000, 60_000))),
        "throat_a": (least, least + chance.choice((2_000, 4_500, 9_000))),
        "on": (start, start + chance.choice((180, 365, 730))),
    }


def _limits(n: int, one: dict[str, Any]) -> Any:
    from codes.clauses import Clause, Mark
    from codes.limits import Limit, LimitSet, OneOf, Within
    from codes.values import Interval

    clause = Clause("Benchmark", "range", Mark.OWN)
    found = []
    for name, said in one.items():
        if name in ("parent_t", "throat_a", "on"):
            ends = [Decimal(end) / 1000 for end in said]
            allowed: Any = Within(Interval(*ends, "", hi_open=name == "on"))
        else:
            allowed = OneOf(said if isinstance(said, tuple) else (said,))
        found.append(Limit(name, allowed, clause))
    return LimitSet(str(n), tuple(found))


def _joints(chance: random.Random) -> tuple[dict[str, Any], dict[str, Any]]:
    """A million joints as columns; thicknesses and throats to the tenth of a millimetre."""
    import numpy as np

    draw = np.random.default_rng(chance.randrange(2**32))

    def terms(of: tuple[str, ...], common: float) -> list[str]:
        weights = np.array([common**n for n in range(len(of))])
        return [of[i] for i in draw.choice(len(of), JOINTS, p=weights / weights.sum())]

    measured = {
        "parent_t": draw.integers(50, 400, JOINTS) * 100,
        "throat_a": draw.integers(30, 125, JOINTS) * 100,
        "on": np.full(JOINTS, TODAY, np.int64),
    }
    named = {
        "process": terms(PROCESSES, 0.5),
        "mechanisation": terms(MECHANISATIONS, 0.5),
        "weld_type": terms(WELDS, 0.4),
        "position": terms(POSITIONS, 0.6),
        "filler_group": terms(MATERIALS, 0.2),
        "run_type": terms(("single_run", "multi_run"), 0.6),
    }
    return named, measured


def _joined(duckdb: Any, held: list[dict[str, Any]], different: Any) -> Callable[[], Any]:
    """The join, its tables loaded: terms as small numbers, sets of terms as bits, sizes as whole micrometres."""
    base = duckdb.connect(config={"threads": 2})
    order = {"process": PROCESSES, "mechanisation": MECHANISATIONS, "weld_type": WELDS, "position": POSITIONS,
             "filler_group": MATERIALS, "run_type": ("single_run", "multi_run")}  # fmt: skip
    demands = {"id": list(range(different.size))}
    for name, places in different.places.items():
        values = different.values[name]
        plain = [order[name].index(v) if name in order else int(v * 1000) for v in values]
        demands[name] = [plain[i] for i in places]
    allowed: dict[str, list[int]] = {}
    for one in held:
        for name, said in one.items():
            if name in ("parent_t", "throat_a", "on"):
                allowed.setdefault(f"{name}_lo", []).append(said[0])
                allowed.setdefault(f"{name}_hi", []).append(said[1])
            elif isinstance(said, tuple):
                allowed.setdefault(name, []).append(sum(1 << order[name].index(term) for term in said))
            else:
                allowed.setdefault(name, []).append(order[name].index(said))
    import numpy as np

    base.register("d", {name: np.array(column, np.int32) for name, column in demands.items()})
    base.register("h", {name: np.array(column, np.int32) for name, column in allowed.items()})
    base.execute("create table demand as select * from d")
    base.execute("create table held as select * from h")
    return lambda: base.execute(JOIN).fetchall()


JOIN = """
select demand.id, count(*) from demand join held
on demand.process = held.process and demand.mechanisation = held.mechanisation
and demand.parent_t between held.parent_t_lo and held.parent_t_hi
and demand.throat_a between held.throat_a_lo and held.throat_a_hi
and demand."on" >= held.on_lo and demand."on" < held.on_hi
and (held.weld_type >> demand.weld_type) & 1 = 1
and (held.position >> demand.position) & 1 = 1
and (held.filler_group >> demand.filler_group) & 1 = 1
and (held.run_type >> demand.run_type) & 1 = 1
group by demand.id
"""
