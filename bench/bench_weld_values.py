"""A log of 1,000,000 samples judged against the windows of its runs."""

import time
from collections.abc import Iterator
from decimal import Decimal
from random import Random
from typing import Any

from codes.values import Interval

NAME = "Weld values: 1,000,000 samples against the windows of their runs (s)"
SAMPLES = 1_000_000
RUNS = 50
LIMIT = 5.0


def chunks(samples: int = SAMPLES, calm: bool = True) -> Iterator[bytes]:
    """A log in pieces; a calm one leaves its windows once in a thousand samples, a wild one every other sample."""
    random, out = Random(7), ["time [s];joint;run;current [A];voltage [V];speed [mm/min]\n"]
    for at in range(samples):
        run = at * RUNS // samples
        stray = random.random() < (0.001 if calm else 0.5)
        current = random.randint(2300, 2500) + (400 if stray else 0)
        voltage, speed = random.randint(260, 280), random.randint(3900, 4100)
        out.append(
            f"{at / 100:.3f};B1/{run // 2};{run % 2 + 1};{current / 10:.1f};{voltage / 10:.1f};{speed / 10:.1f}\n"
        )
        if len(out) > 20_000:
            yield "".join(out).encode()
            out = []
    yield "".join(out).encode()


def windows(joint: str, run: str) -> dict[str, Interval]:
    return {
        "current": Interval(Decimal(225), Decimal(255), "A"),
        "voltage": Interval(Decimal(25), Decimal(29), "V"),
        "travel_speed": Interval(Decimal(380), Decimal(420), "mm/min"),
    }


def main() -> list[dict[str, Any]]:
    from joints.weld_values.judge import judged
    from joints.weld_values.lines import Log

    rows = []
    for what, calm in (("calm: one sample in 1,000 outside", True), ("wild: every other sample outside", False)):
        made = list(chunks(calm=calm))
        start = time.perf_counter()
        found = judged(Log(made), windows)
        taken = time.perf_counter() - start
        size = sum(map(len, made)) / 1024**2
        rows.append({"what": what, "samples": SAMPLES, "mb": size, "runs": len(found), "s": taken, "limit_s": LIMIT})
    return rows
