"""Many sheets rendered by both cores, a few in hand at a time, so that memory stays flat however many there are.

The HTML is made here, where the database is; what takes long, laying it out, is done by other processes that know
nothing but the HTML and our own files. Each of them is replaced after a number of sheets.
"""

import multiprocessing
import os
from collections.abc import Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from register.base.pdf import ORDINARY, Attached, OwnFiles, render

AHEAD = 3
"""Sheets in hand for each process: one that is rendered, others that wait."""
SHEETS_A_PROCESS = 250
FEW = 4
"""So few are rendered here: starting a process takes as long as several sheets."""


@dataclass(frozen=True, slots=True)
class ToRender:
    """One sheet to render; `key` is whatever tells it from the others."""

    key: Any
    html: str
    stylesheet: Path
    size: str
    on: date
    attached: tuple[Attached, ...] = ()
    sizes: tuple[str, ...] = (ORDINARY,)


@dataclass(frozen=True, slots=True)
class Rendered:
    """One sheet rendered."""

    key: Any
    pdf: bytes
    sides: int


def render_one(sheet: ToRender) -> Rendered:
    """One sheet, here. Raises RefusedAddress."""
    files = OwnFiles(sheet.stylesheet)
    return Rendered(sheet.key, *render(sheet.html, files, sheet.size, sheet.on, sheet.attached, sheet.sizes))


def render_many(sheets: Iterable[ToRender], processes: int = 0) -> Iterator[Rendered]:
    """The sheets as they are done, in no order. `processes` 0: one for each core. Raises RefusedAddress."""
    processes = processes or len(os.sched_getaffinity(0))
    waiting = iter(sheets)
    first = [sheet for _, sheet in zip(range(FEW), waiting, strict=False)]
    if len(first) < FEW or processes == 1:
        yield from map(render_one, first)
        yield from map(render_one, waiting)
        return
    # Spawned, not forked: a server's threads hold locks that a fork would copy and never let go.
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(processes, context, max_tasks_per_child=SHEETS_A_PROCESS) as pool:
        yield from _through(pool, first, waiting, processes * AHEAD)


def _through(
    pool: ProcessPoolExecutor, first: Iterable[ToRender], waiting: Iterator[ToRender], most: int
) -> Iterator[Rendered]:
    """Keep the pool busy with a few sheets in hand. Keys stay here: they may be what no process can send to another."""
    under_way: dict[Future[Rendered], Any] = {}

    def hand_over(sheet: ToRender) -> None:
        under_way[pool.submit(render_one, replace(sheet, key=None))] = sheet.key

    try:
        for sheet in first:
            hand_over(sheet)
        while under_way:
            # Asked one by one: what is taken from the iterator must be handed over.
            while len(under_way) < most and (sheet := next(waiting, None)) is not None:
                hand_over(sheet)
            done, _ = wait(under_way, return_when=FIRST_COMPLETED)
            for one in done:
                yield replace(one.result(), key=under_way.pop(one))
    finally:
        for one in under_way:
            one.cancel()
