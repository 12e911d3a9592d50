"""Run the benchmarks and print a table for each: `python -m bench.run [--json] [name ...]`.

A benchmark is a module `bench/bench_<name>.py` with `NAME` (its title) and `main()`, which returns its rows: a
dict a row, the same keys in each. A key "limit_ms" beside "ms" (any pair `limit_<x>`, `<x>`) is a promise: a row
that breaks it is marked, and the run ends with exit code 1. With --json each row is one JSON object a line.
"""

import argparse
import importlib
import json
import os
import pkgutil
import sys
from collections.abc import Iterable, Mapping, Sequence
from types import ModuleType
from typing import Any

import bench

Row = Mapping[str, Any]


def names() -> list[str]:
    """The benchmarks that there are, without the `bench_`."""
    found = (module.name for module in pkgutil.iter_modules(bench.__path__))
    return sorted(name.removeprefix("bench_") for name in found if name.startswith("bench_"))


def load(name: str) -> ModuleType:
    return importlib.import_module(f"bench.bench_{name}")


def broken(row: Row) -> list[str]:
    """The promises that a row breaks. Example: {"ms": 21, "limit_ms": 20} breaks "ms"; 20 keeps it."""
    limits = ((key.removeprefix("limit_"), limit) for key, limit in row.items() if key.startswith("limit_"))
    return [key for key, limit in limits if limit is not None and row[key] > limit]


def table(rows: Sequence[Row]) -> str:
    """Rows as text: a column per key, numbers to the right, a last column that says where a promise is broken."""
    if not rows:
        return "(no rows)"
    heads = [*rows[0], ""]
    cells = [[shown(row[head]) for head in rows[0]] + ["BROKEN" if broken(row) else ""] for row in rows]
    widths = [max(len(line[i]) for line in [heads, *cells]) for i in range(len(heads))]
    right = [isinstance(rows[0][head], int | float) for head in rows[0]] + [False]

    def line(parts: Iterable[str]) -> str:
        placed = zip(parts, widths, right, strict=True)
        return "  ".join(f"{part:>{width}}" if at_right else f"{part:<{width}}" for part, width, at_right in placed)

    return "\n".join(text.rstrip() for text in [line(heads), line("-" * width for width in widths), *map(line, cells)])


def shown(value: Any) -> str:
    """A cell: three significant figures for a float, thousands apart for a whole number, text as it is."""
    if isinstance(value, float):
        return f"{value:,.0f}" if abs(value) >= 1000 else f"{value:.3g}"
    return f"{value:,}" if isinstance(value, int) and not isinstance(value, bool) else str(value)


def run(wanted: Sequence[str], as_json: bool) -> bool:
    """Run the named benchmarks and print them; True if every promise was kept."""
    kept = True
    for name in wanted:
        module = load(name)
        rows = list(module.main())
        kept &= not any(map(broken, rows))
        if as_json:
            for row in rows:
                print(json.dumps({"bench": name, **row, "broken": broken(row)}, default=str), flush=True)
        else:
            print(f"{module.NAME}\n\n{table(rows)}\n", flush=True)
    return kept


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m bench.run", description="Run the benchmarks.")
    parser.add_argument("names", nargs="*", metavar="name", help=f"one of: {', '.join(names()) or 'none yet'}")
    parser.add_argument("--json", action="store_true", help="one JSON object a row, in place of tables")
    options = parser.parse_args(arguments)
    if unknown := set(options.names) - set(names()):
        parser.error(f"no such benchmark: {', '.join(sorted(unknown))}; there are: {', '.join(names())}")
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "register.settings")
    return 0 if run(options.names or names(), options.json) else 1


if __name__ == "__main__":
    sys.exit(main())
