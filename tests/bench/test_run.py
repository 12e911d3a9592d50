"""The runner of the benchmarks: finds them, prints them, and says when a promise is broken."""

import json
from types import SimpleNamespace
from typing import Any

import pytest

from bench import run as runner
from bench.database import p50, p95

ROWS = [{"what": "quick", "ms": 1.5, "limit_ms": 20}, {"what": "slow", "ms": 20.1, "limit_ms": 20}]


@pytest.fixture
def one_bench(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(runner, "names", lambda: ["sample"])
    monkeypatch.setattr(runner, "load", lambda name: SimpleNamespace(NAME="A sample", main=lambda: ROWS))


def test_every_benchmark_can_be_run() -> None:
    assert runner.names()
    for name in runner.names():
        module = runner.load(name)
        assert module.NAME
        assert callable(module.main)


def test_a_table(one_bench: None, capsys: Any) -> None:
    assert runner.main([]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "A sample"
    assert lines[2].split() == ["what", "ms", "limit_ms"]
    assert lines[4].split() == ["quick", "1.5", "20"]
    assert lines[5].split() == ["slow", "20.1", "20", "BROKEN"]


def test_json_lines(one_bench: None, capsys: Any) -> None:
    assert runner.main(["--json", "sample"]) == 1
    first, second = map(json.loads, capsys.readouterr().out.splitlines())
    assert first == {"bench": "sample", **ROWS[0], "broken": []}
    assert second["broken"] == ["ms"]


def test_an_unknown_name_is_refused(one_bench: None, capsys: Any) -> None:
    with pytest.raises(SystemExit):
        runner.main(["sampel"])
    assert "no such benchmark: sampel; there are: sample" in capsys.readouterr().err


@pytest.mark.parametrize(("ms", "expect"), [(20, []), (20.001, ["ms"])])
def test_a_promise_is_kept_at_its_edge(ms: float, expect: list[str]) -> None:
    assert runner.broken({"ms": ms, "limit_ms": 20}) == expect


def test_percentiles_by_nearest_rank() -> None:
    taken = [float(n) for n in range(1, 101)]
    assert p95(taken) == 95.0
    assert p95([7.0]) == 7.0
    assert p50(taken) == 50.5
