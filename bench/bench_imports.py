"""A workbook of 100,000 welds read, compared and taken in; and sent again with one field of each joint changed."""

import io
import os
import resource
import time
from collections.abc import Callable
from typing import Any

from bench.database import scratch_database

NAME = "Imports: an XLSX of 100,000 joints (s), and what it takes in memory at most (MB)"
ROWS = 100_000
LIMIT = 60.0
"""Of the whole: reading, comparing and taking in, on a machine with nothing else to do."""


def workbook(rows: int, throat: int = 5) -> bytes:
    """A list in our own headings, some twenty columns filled; throats move with `throat`."""
    import xlsxwriter

    from joints.imports.template import COLUMNS, EXAMPLE, headings

    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"constant_memory": True})
    sheet = book.add_worksheet()
    sheet.write_row(0, 0, headings())
    for at in range(1, rows + 1):
        said = EXAMPLE | {"assembly": f"B{at // 40}", "number": str(at % 40 + 1), "remarks": ""}
        sizes = {"t1_mm": 6 + at % 30, "t2_mm": 8 + at % 25, "throat_mm": throat + at % 6, "length_mm": 100 + at % 900}
        for column, name in enumerate(COLUMNS):
            if name in sizes:
                sheet.write_number(at, column, sizes[name])
            elif said.get(name):
                sheet.write_string(at, column, said[name])
    book.close()
    return out.getvalue()


def spent_s() -> float:
    """Processor time of this process and of the readers that it started [s]."""
    times = os.times()
    return times.user + times.system + times.children_user + times.children_system


def main() -> list[dict[str, Any]]:
    """A row for each step, in one run."""
    with scratch_database():
        from django.contrib.auth.models import User

        from joints.imports.batch import check_batch, confirm, take_in
        from joints.models import Job

        by = User.objects.create_user("coordinator")
        job = Job.objects.create(number="1", title="Bench")
        found: list[dict[str, Any]] = []
        told: list[int] = []

        def step(what: str, act: Callable[[], Any]) -> Any:
            start, spent = time.perf_counter(), spent_s()
            result = act()
            taken, spent = time.perf_counter() - start, spent_s() - spent
            peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
            found.append({"what": what, "rows": ROWS, "s": taken, "cpu_s": spent, "limit_s": None, "peak_mb": peak})
            return result

        first, second = workbook(ROWS), workbook(ROWS, throat=6)
        batch = step("sent in", lambda: take_in(job, "list.xlsx", first, {}, by, at_once=0))
        step("read and compared", lambda: check_batch(batch.pk, lambda done, total, what: told.append(done)))
        step("taken in, with the answers of the day", lambda: confirm(batch.pk, by))
        whole = {name: sum(row[name] for row in found) for name in ("s", "cpu_s")}
        found.append({"what": "all of it", "rows": ROWS, **whole, "limit_s": LIMIT, "peak_mb": found[-1]["peak_mb"]})
        again = step("sent again, changed, and compared", lambda: take_in(job, "list.xlsx", second, {}, by))
        step("every joint changed", lambda: confirm(again.pk, by))
        assert len(told) > 50, "it says how far it is"
        return found
