"""Imports go leftwards only: codes <- register <- wps <- qualifications <- joints."""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

TOP = Path(__file__).resolve().parent.parent
RANKS = {name: rank for rank, name in enumerate(("codes", "register", "wps", "qualifications", "joints"))}
# Wired by dotted strings; the settings of a site may not depend on its apps.
STRINGS_ONLY = {"register/settings.py", "register/urls.py"}


class Import(NamedTuple):
    """One import: the file and line where it stands, and the module that it names."""

    file: str
    line: int
    module: str


def imports(source: str, file: str) -> Iterator[Import]:
    """All imports in a file, those inside functions too; relative ones are made absolute."""
    package = list(Path(file).parent.parts)
    for node in ast.walk(ast.parse(source, file)):
        if isinstance(node, ast.Import):
            yield from (Import(file, node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            yield Import(file, node.lineno, ".".join([*base, *filter(None, [node.module])]))


def offence(found: Import) -> str | None:
    """Why an import is not allowed, or None."""
    here, there = found.file.split("/")[0], found.module.split(".")[0]
    place = f"{found.file}:{found.line} imports {found.module}"
    if here == "codes" and there != "codes" and there not in sys.stdlib_module_names:
        return f"{place}: codes imports the standard library and itself only"
    if there in RANKS and RANKS[there] > RANKS[here]:
        return f"{place}: {there} stands to the right of {here}"
    if found.file in STRINGS_ONLY and there in RANKS and there not in {"codes", "register"}:
        return f"{place}: name it by a dotted string"
    if there in {"tests", "bench", "scripts"}:
        return f"{place}: the register must run without it"
    return None


def offences() -> list[str]:
    found = []
    for layer in RANKS:
        for path in sorted((TOP / layer).rglob("*.py")):
            file = path.relative_to(TOP).as_posix()
            reasons = map(offence, imports(path.read_text(encoding="utf-8"), file))
            found += [reason for reason in reasons if reason]
    return found


def test_imports_go_leftwards_only() -> None:
    assert not offences(), "\n".join(offences())


@pytest.mark.parametrize(
    ("file", "source", "allowed"),
    [
        ("codes/check.py", "import decimal, json", True),
        ("codes/check.py", "from codes.limits import Limit", True),
        ("codes/check.py", "from django.db import models", False),
        ("codes/check.py", "import numpy", False),
        ("codes/door/answer.py", "from ..check import check", True),
        ("register/base/views.py", "from codes.verdict import Verdict", True),
        ("register/roles.py", "def later():\n    from wps.models import Procedure", False),
        ("wps/models.py", "import register.models", True),
        ("wps/models.py", "from qualifications.models import Person", False),
        ("wps/models.py", "from ..joints import models", False),
        ("qualifications/due.py", "from joints.models import Joint", False),
        ("joints/coverage.py", "from wps.models import Procedure", True),
        ("joints/demo.py", "from tests.conftest import PEOPLE", False),
    ],
)
def test_the_rule_itself(file: str, source: str, allowed: bool) -> None:
    reasons = [reason for found in imports(source, file) if (reason := offence(found))]
    assert (not reasons) == allowed
    assert all(reason.startswith(file) for reason in reasons)


def test_register_init_stays_empty() -> None:
    assert (TOP / "register" / "__init__.py").read_text() == ""


def test_codes_reads_no_clock() -> None:
    """The date is an argument, everywhere in codes."""
    clocks = {"today", "now", "utcnow", "time", "time_ns", "localtime", "gmtime"}
    owners = {"date", "datetime", "time"}
    read = []
    for path in sorted((TOP / "codes").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in clocks:
                owner = node.func.value
                name = owner.id if isinstance(owner, ast.Name) else getattr(owner, "attr", "")
                if name in owners:
                    read.append(f"{path.relative_to(TOP)}:{node.lineno}")
    assert not read, read
