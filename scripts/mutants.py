"""Mutation testing of the codes: change one figure, comparison or term at a time and see whether a test notices.

    .venv/bin/python scripts/mutants.py [--sample 200] [--seed 1] [--workers 2] [--only iso_9606_1_2012]

Works on copies in a temporary folder; the tree is never touched. Mutants that cannot be told from the original
by any verdict are not made: only numbers, comparisons, and yes and no are changed, and neither those in decorators
(`frozen`, `slots`) nor comparisons that only choose the wording of a message. Prints a table by package and every
mutant that survived; exits 1 below 95 %.
"""

import argparse
import ast
import random
import shutil
import subprocess
import sys
import tempfile
from collections import defaultdict
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from pathlib import Path
from queue import Queue

ROOT = Path(__file__).resolve().parent.parent
GOAL = 95

# What is mutated, and the tests that have to notice.
# The door's tests come last: they ask the same tables through the command line, and take longest.
CHECKER = ("test_check*.py", "test_cover_and_bulk.py", "test_values.py")
US = ("test_door_us.py",)
US_PEOPLE = ("test_continuity.py", "test_public_us_people_records.py", "test_us_people_bulk.py", *US)
LOOK_UPS = ("test_aws_d1_1_look_ups*.py", "test_door_look_ups*.py")
PREQUALIFIED = ("test_aws_d1_1_prequalified*.py", "test_aws_d1_1_look_ups*.py")
TARGETS: dict[str, tuple[str, ...]] = {
    "check.py": CHECKER,
    "limits.py": CHECKER,
    "values.py": (*CHECKER, "test_parse.py"),
    "cover.py": ("test_cover_and_bulk.py",),
    "bulk.py": ("test_cover_and_bulk.py",),
    "dates.py": ("test_dates.py",),
    "confirmations.py": ("test_confirmations*.py", "test_iso_9606_1_2012*.py", "test_iso_14732*.py"),
    "continuity.py": ("test_continuity*.py", "test_aws_d1_1_people*.py", "test_asme_ix_people*.py"),
    "iso_15614_1_2017": ("test_iso_15614*.py", "test_public_procedure_records.py", "test_door_iso.py"),
    "iso_9606_1_2012": ("test_iso_9606*.py", "test_public_welder_records.py", "test_door_iso.py"),
    "iso_14732_2013": ("test_iso_14732*.py", "test_door_iso.py"),
    "en_1090_2_2018": ("test_en_1090*.py", "test_door_iso.py"),
    "aws_d1_1": ("test_aws_d1_1_2020*.py", *PREQUALIFIED, "test_aws_d1_1_people*.py", *LOOK_UPS, *US),
    "aws_d1_1_2020": ("test_aws_d1_1_2020*.py", *US),
    "aws_d1_1_prequalified": (*PREQUALIFIED, *US),
    "aws_d1_1_look_ups": LOOK_UPS,
    "aws_d1_1_people_2020": ("test_aws_d1_1_people*.py", *US_PEOPLE),
    "asme_ix_2021": ("test_asme_ix_2021*.py", "test_asme_ix_edges.py", *US),
    "asme_ix_people_2021": ("test_asme_ix_people*.py", "test_asme_ix_edges.py", *US_PEOPLE),
}
LEFT_OUT = shutil.ignore_patterns("__pycache__", ".git", ".venv", "var", "staticfiles", ".*_cache", "docs")
SKIPPED_FILES = {"switches.py", "clauses.py", "fields.py", "sources.py", "designation.py", "designation_tokens.py"}
WORDING = {"__str__", "words", "because"}
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


@dataclass(frozen=True)
class Mutant:
    """One change: the file below codes/, the line, what it was and what it becomes, and the whole new text."""

    target: str
    file: Path
    line: int
    change: str
    text: str


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
            found.append(Mutant(target, file.relative_to(ROOT), line, f"{old} -> {new}", "".join(lines)))
    return found


def _meaning(tree: ast.AST) -> Iterator[ast.AST]:
    """Every node but those below decorators and the wording of messages: no verdict can tell a change there."""
    for node in ast.iter_child_nodes(tree):
        if _is_wording(node):
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


def _edits(node: ast.AST) -> list[tuple[tuple[int, int], tuple[int, int], int, str]]:
    if (
        isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in ("D", "Decimal", "up_to", "above")
    ):
        return [e for arg in node.args for e in _number_edit(arg)]
    if isinstance(node, ast.Compare) and len(node.ops) == 1 and type(node.ops[0]) in FLIPS:
        return _flip(node)
    if isinstance(node, ast.Constant) and isinstance(node.value, bool):
        return [(*_span(node), node.lineno, str(not node.value))]
    return []


def _number_edit(node: ast.AST) -> list[tuple[tuple[int, int], tuple[int, int], int, str]]:
    if not isinstance(node, ast.Constant) or isinstance(node.value, bool):
        return []
    try:
        value = Decimal(str(node.value))
    except InvalidOperation:
        return []
    step = Decimal(1).scaleb(value.as_tuple().exponent)  # type: ignore[arg-type]
    new = value + step
    text = f'"{new}"' if isinstance(node.value, str) else str(new)
    return [(*_span(node), node.lineno, text)]


def _span(node: ast.expr) -> tuple[tuple[int, int], tuple[int, int]]:
    return (node.lineno, node.col_offset), (node.end_lineno or 0, node.end_col_offset or 0)


def _flip(node: ast.Compare) -> list[tuple[tuple[int, int], tuple[int, int], int, str]]:
    flipped = ast.Compare(node.left, [FLIPS[type(node.ops[0])]()], node.comparators)
    return [(*_span(node), node.lineno, ast.unparse(flipped))]


def gathered(only: str) -> list[Mutant]:
    """Every mutant of every target, or of one."""
    found = []
    for target in TARGETS:
        if only and target != only:
            continue
        path = ROOT / "codes" / target
        files = [path] if path.is_file() else sorted(path.glob("*.py"))
        for file in files:
            if file.name not in SKIPPED_FILES:
                found.extend(mutants_of(target, file))
    return found


def tested(target: str, copy: Path) -> subprocess.CompletedProcess[bytes]:
    """The tests of a target, run in a copy."""
    tests = dict.fromkeys(str(t) for p in TARGETS[target] for t in sorted((copy / "tests/codes").glob(p)))
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", "-p", "no:xdist", *tests],
        cwd=copy,
        capture_output=True,
        timeout=600,
        check=False,
    )


def killed(mutant: Mutant, copy: Path) -> bool:
    """True where a test fails on the mutant."""
    file = copy / mutant.file
    original = file.read_text()
    file.write_text(mutant.text)
    try:
        return tested(mutant.target, copy).returncode != 0
    except subprocess.TimeoutExpired:
        return True
    finally:
        file.write_text(original)


def must_pass(targets: list[str], copy: Path) -> None:
    """Exit with a message where the tests of a target fail on the unchanged code: nothing could then be told."""
    for target in targets:
        done = tested(target, copy)
        if done.returncode != 0:
            raise SystemExit(f"The tests of {target} fail before anything is changed:\n{done.stdout.decode()[-2000:]}")


def run(chosen: list[Mutant], workers: int) -> dict[Mutant, bool]:
    """Each mutant with whether it was killed; every worker has a copy of its own."""
    copies: Queue[Path] = Queue()
    with tempfile.TemporaryDirectory() as folder:
        for n in range(workers):
            copy = Path(folder) / str(n)
            shutil.copytree(ROOT, copy, ignore=LEFT_OUT)
            copies.put(copy)
        must_pass(sorted({mutant.target for mutant in chosen}), copy)

        def judge(mutant: Mutant) -> bool:
            copy = copies.get()
            try:
                dead = killed(mutant, copy)
            finally:
                copies.put(copy)
            if not dead:
                print(f"survived: {mutant.file}:{mutant.line}: {mutant.change}", flush=True)
            return dead

        with ThreadPoolExecutor(workers) as pool:
            return dict(zip(chosen, pool.map(judge, chosen), strict=True))


def main() -> int:
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--sample", type=int, default=200, help="how many mutants, drawn evenly (0: all)")
    arguments.add_argument("--seed", type=int, default=1)
    arguments.add_argument("--workers", type=int, default=2)
    arguments.add_argument("--only", default="", help="one target of codes/")
    asked = arguments.parse_args()
    every = gathered(asked.only)
    chosen = random.Random(asked.seed).sample(every, min(asked.sample or len(every), len(every)))
    results = run(chosen, asked.workers)
    table: dict[str, list[bool]] = defaultdict(list)
    for mutant, dead in results.items():
        table[mutant.target].append(dead)
    for target, deaths in sorted(table.items()):
        print(f"{target:24} {sum(deaths):4} of {len(deaths):4}")
    share = 100 * sum(results.values()) / max(len(results), 1)
    print(f"killed {sum(results.values())} of {len(results)} drawn from {len(every)}: {share:.1f} %")
    return 0 if share >= GOAL else 1


if __name__ == "__main__":
    sys.exit(main())
