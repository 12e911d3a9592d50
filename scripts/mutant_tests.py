"""Which tests of codes/ to run for a changed line, and a warm process that runs them.

The map is made once: every test file runs with a profiler that notes which functions of codes/ each test calls.
For a changed line only the tests are run that call the function it stands in, or a function that uses the table it
stands in. Each run is forked from a process that has pytest imported, and ends at the first failure.
"""

import ast
import gc
import hashlib
import json
import os
import pickle
import signal
import sys
import time
from collections import defaultdict
from collections.abc import Callable
from contextlib import redirect_stdout
from pathlib import Path
from types import CodeType, FrameType
from typing import Any

import hypothesis
import pytest
from mutant_users import Function, Users

QUIET = [
    *("-q", "-x", "--noconftest", "-o", "addopts=--import-mode=importlib", "-o", "filterwarnings="),
    *(f"-pno:{name}" for name in ("cacheprovider", "unraisableexception", "threadexception")),
]
os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
NOT_ABOUT_TABLES = ("test_calc_", "test_door_hostile")
"""Test files that ask no table of codes/ outside codes/calc."""
PASSED = (pytest.ExitCode.OK, pytest.ExitCode.NO_TESTS_COLLECTED)
ENOUGH = 20
"""Seconds of computing after which no further test file is begun: a mutant that lived so long counts as survived."""
LONGEST = 900
"""Seconds after which the tests of one mutant are ended; a mutant that never ends counts as noticed."""


class Calls:
    """A pytest plugin that notes the functions of codes/ that each test calls, and how long it takes."""

    def __init__(self, root: Path) -> None:
        self.prefix = f"{root}/"
        self.called: dict[str, set[CodeType]] = {"": set()}
        self.seconds: dict[str, float] = {}

    def watch(self, test: str) -> None:
        """Note calls under the name of a test, those on import under ""."""
        note = self.called.setdefault(test, set()).add

        def called(frame: FrameType, event: str, arg: object) -> None:
            note(frame.f_code)

        sys.settrace(called)

    def of(self, test: str) -> set[Function]:
        """The functions of codes/ that a test called."""
        inside = f"{self.prefix}codes/"
        codes = (code for code in self.called[test] if code.co_filename.startswith(inside))
        return {(code.co_filename.removeprefix(self.prefix), code.co_qualname) for code in codes}

    def noted(self) -> dict[str, Any]:
        """All of it as plain data: the functions once, then their places in that list for each test."""
        sys.settrace(None)
        calls = {test: self.of(test) for test in self.called}
        functions = sorted(set().union(*calls.values()))
        place = {function: i for i, function in enumerate(functions)}
        tests = {test: (self.seconds.get(test, 0), sorted(place[f] for f in found)) for test, found in calls.items()}
        return {"functions": functions, "tests": tests}

    @pytest.hookimpl(hookwrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Any:
        start = time.perf_counter()
        self.watch(item.nodeid)
        yield
        self.seconds[item.nodeid] = time.perf_counter() - start
        self.watch("")


class Only:
    """A pytest plugin that leaves only the named tests."""

    def __init__(self, wanted: set[str]) -> None:
        self.wanted = wanted

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = [item for item in items if item.nodeid in self.wanted]


def forked(work: Callable[[], Any]) -> Any:
    """What a function answers in a process of its own; None where that ran too long or died."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        nothing = os.open(os.devnull, os.O_RDWR)
        for stream in (0, 1, 2):
            os.dup2(nothing, stream)
        signal.alarm(LONGEST)
        with os.fdopen(writing, "wb") as out:
            pickle.dump(work(), out)
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading, "rb") as answer:
        text = answer.read()
    os.waitpid(child, 0)
    return pickle.loads(text) if text else None


def _write(kept: Path, noted: dict[str, Any]) -> None:
    """Whole or not at all."""
    beside = kept.with_suffix(".part")
    beside.write_text(json.dumps(noted))
    beside.replace(kept)


class Suite:
    """The tests of codes/ in a copy of the tree, with what each of them calls."""

    def __init__(self, copy: Path, kept: Path) -> None:
        self.copy = copy
        self.files = [
            f"tests/codes/{f.name}"
            for f in sorted((copy / "tests/codes").glob("test_*.py"))
            if not f.name.startswith(NOT_ABOUT_TABLES)
        ]
        os.chdir(copy)
        sys.path.insert(0, str(copy))
        hypothesis.settings.register_profile(
            "first failure",
            phases=[hypothesis.Phase.explicit, hypothesis.Phase.generate],
            deadline=None,
            suppress_health_check=list(hypothesis.HealthCheck),
        )
        hypothesis.settings.load_profile("first failure")
        self.tests: dict[Function, set[str]] = defaultdict(set)
        self.seconds: dict[str, float] = {}
        self.on_import: set[Function] = set()
        self.kills: dict[tuple[str, str], int] = defaultdict(int)
        self._warm()
        self._map(kept)
        # Byte code of every module, so that no run has to make it again.
        forked(lambda: pytest.main([*QUIET, "--collect-only", *self.files]))
        sys.dont_write_bytecode = True
        sources = sorted((copy / "codes").rglob("*.py")) + [copy / f for f in self.files]
        self.users = Users(copy, sources)

    def _warm(self) -> None:
        """Run a test of nothing here, so that no fork has to import what pytest and the tests import but codes/."""
        nothing = self.copy / "test_nothing.py"
        nothing.write_text("import json, jsonschema, hypothesis.strategies\n\ndef test_nothing():\n    pass\n")
        with Path(os.devnull).open("w") as unseen, redirect_stdout(unseen):
            pytest.main([*QUIET, str(nothing)])
        # A fork lives too short to be worth tidying.
        gc.disable()

    def _map(self, kept: Path) -> None:
        """Run every test file once, or take what is kept from a run of the same tests.

        What is kept may be older than codes/: a call that it does not know of leaves a test out, never adds one.
        """
        known = json.loads(kept.read_text()) if kept.exists() else {}
        shared = self._digest(self._helpers())
        noted: dict[str, Any] = {}
        kept.parent.mkdir(parents=True, exist_ok=True)
        for file in self.files:
            key = f"{file} {self._digest([self.copy / file, *self._cases(file)])} {shared}"
            noted[key] = known.get(key) or self._noted(file)
            if key not in known:
                _write(kept, known | noted)
            functions = [(path, name) for path, name in noted[key]["functions"]]
            for test, (seconds, called) in noted[key]["tests"].items():
                if not test:
                    self.on_import |= {functions[i] for i in called}
                    continue
                self.seconds[test] = seconds
                for i in called:
                    self.tests[functions[i]].add(test)
        _write(kept, noted)

    def _helpers(self) -> list[Path]:
        return [f for f in (self.copy / "tests/codes").glob("*.py") if not f.name.startswith("test_")]

    def _cases(self, file: str) -> list[Path]:
        """The tables of cases that a test file names."""
        named = f"{file} {(self.copy / file).read_text()}"
        return [table for table in (self.copy / "tests/codes/cases").iterdir() if table.stem in named]

    @staticmethod
    def _digest(files: list[Path]) -> str:
        total = hashlib.sha256()
        for file in sorted(files):
            total.update(file.read_bytes())
        return total.hexdigest()[:16]

    def _noted(self, file: str) -> dict[str, Any]:
        calls = Calls(self.copy)

        def work() -> dict[str, Any] | str:
            calls.watch("")
            if pytest.main([*QUIET, file], plugins=[calls]) not in PASSED:
                return "failed"
            return calls.noted()

        answer = forked(work)
        if not isinstance(answer, dict):
            raise SystemExit(f"{file} fails before anything is changed: nothing could be told from it.")
        return answer

    def of(self, path: str, line: int) -> set[str]:
        """The tests that a change of one line can reach."""
        module = self.users.modules[path]
        function = module.function_at(line)
        found: set[str] = set()
        if function is not None:
            at = (path, module.functions[function])
            found |= self.tests[at]
            cached = any("cache" in ast.unparse(d) for d in function.decorator_list)
            if found and not cached and at not in self.on_import:
                return found
        for user in self.users.of(path, line):
            found |= self.tests[user]
            if user[0].startswith("tests/"):
                found |= {test for test in self.seconds if test.startswith(f"{user[0]}::")}
        return found

    def notices(self, path: str, tests: set[str]) -> str:
        """The first test file that fails on the tree as it stands in the copy; "" where none does."""
        by_file: dict[str, set[str]] = defaultdict(set)
        for test in tests:
            by_file[test.split("::")[0]].add(test)
        cost = {file: sum(self.seconds[t] for t in chosen) for file, chosen in by_file.items()}
        # What noticed a change of the same file before, then what imports it by name, then the quickest.
        near = {file for file in by_file if self.users.imports(file, path)}
        order = sorted(by_file, key=lambda file: (-self.kills[path, file], file not in near, cost[file]))

        def work() -> str:
            for file in order:
                if time.process_time() > ENOUGH:
                    break
                if pytest.main([*QUIET, file], plugins=[Only(by_file[file])]) not in PASSED:
                    return file
            return ""

        answer = forked(work)
        if answer:
            self.kills[path, answer] += 1
        return "too long or broken" if answer is None else answer
