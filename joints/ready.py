"""The day as the pages ask for it: by the firm's own readings, with an engine that is kept between questions.

Offers are read anew for every question. A kept engine answers only where it was made from equal ones, under equal
readings; so nothing that was written, here or by another process, is ever missed.
"""

from collections import OrderedDict
from datetime import date
from threading import Lock

from codes.readings import Settings
from joints.bulk import Engine
from joints.day import Day
from register.held.firm import firm_settings
from register.plants.reach import current

KEPT = 8
"""Engines that are kept, one for each day, plant and choice of readings."""
FULL = 20_000
"""An engine that knows so many answers is left behind, so that memory stays bounded."""

Key = tuple[date, int | None, tuple[int, ...] | None, tuple[tuple[str, str], ...]]


class Engines:
    """The engines used last."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._kept: OrderedDict[Key, Engine] = OrderedDict()

    def of(self, day: Day) -> Engine:
        """The engine for a day: the kept one where it still holds, else a new one."""
        key = day.on, day.plant, current().key, tuple(sorted(day.settings.items()))
        with self._lock:
            known = self._kept.pop(key, None)
            if known is None or not _holds(known, day):
                known = Engine(day.procedures, day.certificates, day.on, day.settings)
            self._kept[key] = known
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        return known


def _holds(known: Engine, day: Day) -> bool:
    return known.asked < FULL and known.procedures == day.procedures and known.certificates == day.certificates


_engines = Engines()


def day_of(on: date, settings: Settings | None = None) -> Day:
    """The register on a day. `settings`: readings other than the firm's own."""
    return Day(on, firm_settings() if settings is None else settings, _engines.of)
