"""Mutation testing of the codes: change one figure, comparison or answer at a time and see whether a test notices.

    .venv/bin/python scripts/mutants.py [--sample 200] [--seed 1] [--only iso_9606_1_2012] [--at FILE:LINE]

Works on a copy in a temporary folder; the tree is never touched. For each mutant only the tests are run that call
the changed function or use the changed table (mutant_tests.py), up to the first failure. Mutants that cannot be told
from the original by any verdict are not made: only numbers, comparisons, and yes and no are changed, and neither
those in decorators (`frozen`, `slots`) nor comparisons that only choose the wording of a message. Those of
mutants_equal.csv were read and found to change no answer; they are counted apart and not among the killed.
Prints a table by package and every mutant that survived; exits 1 below 95 %.
"""

import argparse
import ast
import csv
import os
import random
import re
import shutil
import sys
import tempfile
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from mutant_tests import Suite

ROOT = Path(__file__).resolve().parent.parent
GOAL = 95
EQUAL = Path(__file__).with_name("mutants_equal.csv")
"""Mutants that were read and found equal to the original: file, the line as written, the change, the reason."""
KEPT = ROOT / "var" / "mutants" / "calls.json"

OTHER_SUBJECTS = {"calc", "door", "parse.py", "words.py", "editions.py", "verdict.py", "__main__.py", "readings.py"}
"""Not the tables and the checker: calculations, the command line, and how answers are written and read."""
LEFT_OUT = shutil.ignore_patterns("__pycache__", ".git", ".venv", "var", "staticfiles", ".*_cache", "docs")
SKIPPED_FILES = {"switches.py", "clauses.py", "fields.py", "sources.py", "designation.py", "designation_tokens.py"}
WORDING = {"__str__", "words", "because", "field", "said", "done", "off", "few", "why"}
"""Functions, variables and arguments that hold nothing but the wording of a message."""
OF_NO_VERDICT = WORDING | {"frozen", "slots", "strict", "init", "repr"}
FLIPS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}


FIGURES = ("D", "Decimal", "up_to", "above", "Size", "twin", "inch")
"""Functions that take a figure as text; figures given as numbers are found anywhere but in an index."""
_FIGURE = re.compile(r"^(-?(?:\d+-)?)(\d+(?:\.\d+)?)(/\d+)?$")
Edit = tuple[tuple[int, int], tuple[int, int], int, str]
"""Start and end (line, column), the line, and the new text."""


@dataclass(frozen=True)
class Mutant:
    """One change: the file below codes/, the line, what it was and what it becomes, and the whole new text."""

    target: str
    file: Path
    line: int
    change: str
    text: str
    source_line: str


def mutants_of(target: str, file: Path) -> list[Mutant]:
    """All mutants of one file."""
    source = file.read_text()
    tree = ast.parse(source)
    found = []
    for node in _meaning(tree):
        for start, end, line, new in _edits(node):
            lines = source.splitlines(keepends=True)
            if start[0] != end[0]:
                continue
            row = lines[start[0] - 1].encode()
            old = row[start[1] : end[1]].decode()
            lines[start[0] - 1] = (row[: start[1]] + new.encode() + row[end[1] :]).decode()
            found.append(
                Mutant(target, file.relative_to(ROOT), line, f"{old} -> {new}", "".join(lines), row.decode().strip())
            )
    return found


def _meaning(tree: ast.AST) -> Iterator[ast.AST]:
    """Every node but those below decorators and the wording of messages: no verdict can tell a change there."""
    for node in ast.iter_child_nodes(tree):
        if _is_wording(node):
            continue
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "quantize":
            # Only the exponent of the figure counts, never its digits.
            yield from _meaning(node.func)
            continue
        if isinstance(node, ast.Subscript):
            # An index is no figure of a table.
            yield from _meaning(node.value)
            continue
        if isinstance(node, ast.ClassDef | ast.FunctionDef):
            node.decorator_list = []
        yield node
        yield from _meaning(node)


def _is_wording(node: ast.AST) -> bool:
    match node:
        case ast.JoinedStr():
            return True
        case (
            ast.FunctionDef(name=name)
            | ast.Assign(targets=[ast.Name(id=name)])
            | ast.AugAssign(target=ast.Name(id=name))
        ):
            return name.endswith(tuple(WORDING))
        case ast.keyword(arg=name):
            return name in OF_NO_VERDICT
    return False


def _edits(node: ast.AST) -> list[Edit]:
    match node:
        case ast.Call(func=ast.Name(id=name)) if name in FIGURES:
            return [edit for arg in node.args if isinstance(arg, ast.Constant) for edit in _written_figure(arg)]
        case ast.Compare(ops=[op]) if type(op) in FLIPS:
            return _flip(node)
        case ast.Constant(value=bool()):
            return [(*_span(node), node.lineno, str(not node.value))]
        case ast.Constant(value=int()):
            return [(*_span(node), node.lineno, str(int(str(node.value)) + 1))]
    return []


def _written_figure(node: ast.Constant) -> list[Edit]:
    """A figure given as text: its last digit goes up by one, of a fraction the numerator. Example: "3/8" is "4/8"."""
    found = _FIGURE.match(node.value) if isinstance(node.value, str) else None
    if found is None:
        return []
    before, figure, after = found.groups()
    value = Decimal(figure)
    new = value + Decimal(1).scaleb(value.as_tuple().exponent)  # type: ignore[arg-type]
    return [(*_span(node), node.lineno, f'"{before}{new}{after or ""}"')]


def _span(node: ast.expr) -> tuple[tuple[int, int], tuple[int, int]]:
    return (node.lineno, node.col_offset), (node.end_lineno or 0, node.end_col_offset or 0)


def _flip(node: ast.Compare) -> list[Edit]:
    flipped = ast.Compare(node.left, [FLIPS[type(node.ops[0])]()], node.comparators)
    return [(*_span(node), node.lineno, ast.unparse(flipped))]


def gathered(only: str) -> list[Mutant]:
    """Every mutant of every package and module of codes/, or of one."""
    found = []
    for file in sorted((ROOT / "codes").rglob("*.py")):
        target = file.relative_to(ROOT / "codes").parts[0]
        if target in OTHER_SUBJECTS or file.name in SKIPPED_FILES or (only and target != only):
            continue
        found.extend(mutants_of(target, file))
    return found


def judged_equal() -> set[tuple[str, str, str]]:
    """The reviewed mutants: file, the line as written, the change."""
    with EQUAL.open(newline="") as rows:
        return {(row["file"], row["line"].strip(), row["change"]) for row in csv.DictReader(rows)}


def noticed(mutant: Mutant, suite: Suite) -> str:
    """The test file that fails on the mutant, "" where none does."""
    file = suite.copy / mutant.file
    original, stat = file.read_text(), file.stat()
    tests = suite.of(str(mutant.file), mutant.line)
    file.write_text(mutant.text)
    # Byte code is kept by time and size: the changed file must look changed, the restored one as it was.
    os.utime(file, (stat.st_atime, stat.st_mtime + 1000))
    try:
        return suite.notices(str(mutant.file), tests)
    finally:
        file.write_text(original)
        os.utime(file, (stat.st_atime, stat.st_mtime))


def run(chosen: list[Mutant]) -> dict[Mutant, bool]:
    """Each mutant with whether it was killed."""
    results = {}
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "tree"
        shutil.copytree(ROOT, copy, ignore=LEFT_OUT)
        suite = Suite(copy, KEPT)
        for number, mutant in enumerate(chosen, 1):
            by = noticed(mutant, suite)
            results[mutant] = bool(by)
            if not by:
                print(f"survived: {mutant.file}:{mutant.line}: {mutant.change}", flush=True)
            if number % 25 == 0:
                print(f"{number} run, {sum(results.values())} killed so far", flush=True)
    return results


def drawn(asked: argparse.Namespace) -> tuple[list[Mutant], int]:
    """The mutants to run, drawn evenly from all that were not judged equal, and how many those are."""
    equal = judged_equal()
    every = gathered(asked.only)
    left = [m for m in every if (str(m.file), m.source_line, m.change) not in equal]
    print(f"{len(every)} mutants, {len(every) - len(left)} of them judged equal to the original ({EQUAL.name})")
    if asked.at:
        chosen = [m for m in left if f"{m.file}:{m.line}" in asked.at]
    else:
        chosen = random.Random(asked.seed).sample(left, min(asked.sample or len(left), len(left)))
    return chosen, len(left)


def main() -> int:
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("--sample", type=int, default=200, help="how many mutants, drawn evenly (0: all)")
    arguments.add_argument("--seed", type=int, default=1)
    arguments.add_argument("--only", default="", help="one package or module of codes/")
    arguments.add_argument("--at", nargs="*", default=[], help="only the mutants of these lines, as FILE:LINE")
    asked = arguments.parse_args()
    chosen, among = drawn(asked)
    results = run(chosen)
    table: dict[str, list[bool]] = defaultdict(list)
    for mutant, dead in results.items():
        table[mutant.target].append(dead)
    for target, deaths in sorted(table.items()):
        print(f"{target:24} {sum(deaths):4} of {len(deaths):4}")
    share = 100 * sum(results.values()) / max(len(results), 1)
    print(f"killed {sum(results.values())} of {len(results)} drawn from {among}: {share:.1f} %")
    return 0 if share >= GOAL else 1


if __name__ == "__main__":
    sys.exit(main())
