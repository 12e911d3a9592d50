"""What keeps the code readable, counted: sizes, exact pins, and words that have no place in it."""

import ast
import re
import statistics
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.test_translatable import untranslated

TOP = Path(__file__).resolve().parent.parent
CODE = ("codes", "register", "wps", "qualifications", "joints", "bench", "scripts", "tests")
LONGEST_FILE, LONGEST_FUNCTION, MEDIAN_FILE = 400, 40, 130  # lines
LONGEST_TEMPLATE = 60


def python_files() -> list[Path]:
    """Everything written by hand; migrations are generated."""
    found = (path for part in CODE for path in (TOP / part).rglob("*.py"))
    return sorted(path for path in found if not {"__pycache__", "migrations"} & set(path.parts))


def lines(path: Path) -> int:
    return len(path.read_text(encoding="utf-8").splitlines())


def functions() -> Iterator[tuple[str, int]]:
    """Every function with its length in lines, decorators and docstring left out."""
    for path in python_files():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                body = node.body[1:] if ast.get_docstring(node) and len(node.body) > 1 else node.body
                length = (body[-1].end_lineno or 0) - body[0].lineno + 1
                yield f"{path.relative_to(TOP)}:{node.lineno} {node.name}", length


def test_no_file_is_too_long() -> None:
    long = {str(path.relative_to(TOP)): lines(path) for path in python_files() if lines(path) > LONGEST_FILE}
    assert not long, f"over {LONGEST_FILE} lines: {long}"


def test_half_of_the_files_are_short() -> None:
    counted = [lines(path) for path in python_files() if lines(path) > 5]
    assert statistics.median(counted) <= MEDIAN_FILE


def test_no_function_is_too_long() -> None:
    long = [f"{name} ({length})" for name, length in functions() if length > LONGEST_FUNCTION]
    assert not long, f"over {LONGEST_FUNCTION} lines: {long}"


def test_templates_are_short() -> None:
    long = {
        str(path.relative_to(TOP)): lines(path)
        for path in (TOP / "templates").rglob("*.html")
        if lines(path) > LONGEST_TEMPLATE
    }
    assert not long, f"over {LONGEST_TEMPLATE} lines: {long}"


def test_templates_hold_no_inline_script_or_style() -> None:
    """The content security policy forbids them, so they would be dead. Sheets for paper may hold a style sheet."""
    inline = re.compile(r"<script(?![^>]*\bsrc=)|<style\b|\sstyle=|\son(?:click|change|submit|load|input)=")
    found = [
        f"{path.relative_to(TOP)}: {hit.group().strip()}"
        for path in (TOP / "templates").rglob("*.html")
        if "sheet" not in path.as_posix()
        for hit in inline.finditer(path.read_text(encoding="utf-8"))
    ]
    assert not found, found


def test_templates_hold_no_text_outside_translation_tags() -> None:
    """A catalogue would not reach it: {% translate %} or {% blocktranslate trimmed %}, see DEVELOPERS.md."""
    found = [
        f"{path.relative_to(TOP)}: {text}"
        for path in sorted((TOP / "templates").rglob("*.html"))
        for text in untranslated(path.read_text(encoding="utf-8"))
    ]
    assert not found, "\n".join(found)


def test_templates_write_figures_the_same_in_every_language() -> None:
    """With a point, as all figures here: `floatformat` takes the reader's comma unless told not to ("2u")."""
    by_language = re.compile(r"floatformat(?!:\"[^\"]*u)")
    found = [path.name for path in (TOP / "templates").rglob("*.html") if by_language.search(path.read_text("utf-8"))]
    assert not found


def test_templates_ask_only_for_capabilities_that_exist() -> None:
    """A misspelt `may.edit_recrod` would hide a button in silence."""
    from register.roles import Capability

    asked = re.compile(r"\bmay\.(\w+)")
    found = [
        f"{path.relative_to(TOP)}: may.{hit}"
        for path in (TOP / "templates").rglob("*.html")
        for hit in asked.findall(path.read_text(encoding="utf-8"))
        if hit not in set(Capability)
    ]
    assert not found, found


TEXT = {".py", ".html", ".css", ".js", ".md", ".sh", ".toml", ".txt", ".csv", ".json", ".doctest", ""}
# Paths of a workshop's machine and its package hosts say nothing to a reader elsewhere. Split, so that this
# file passes its own test.
FORBIDDEN = re.compile(
    "|".join(
        (
            r"(?<![\w.])/wor" + r"k/",
            r"(?<![\w.$}])/tm" + r"p/",
            r"/roo" + r"t/",
            r"/home/\w",
            r"share" + r"d/(?:rules|samples|design|style|look|stack)",
            r"\.py" + r"env\b",
            r"(?:pypi|files)\.(?:org|pythonhosted)",
            r"\b(?:TO" + r"DO|FIX" + r"ME|XX" + r"X)\b",
        )
    )
)


MADE_HERE = {
    ".venv",
    ".venv-audit",
    "var",
    ".git",
    ".mypy_cache",
    ".ruff_cache",
    ".pytest_cache",
    ".hypothesis",
    "__pycache__",
}


def tracked_texts() -> list[Path]:
    """Files that belong to the project: those git tracks, or everything where there is no git."""
    try:
        listed = subprocess.run(["git", "ls-files", "-z"], cwd=TOP, capture_output=True, text=True, check=True).stdout
    except (OSError, subprocess.CalledProcessError):
        listed = ""
    names = [TOP / name for name in listed.split("\0") if name]
    found = names or [path for path in TOP.rglob("*") if not MADE_HERE & set(path.relative_to(TOP).parts)]
    return [path for path in found if path.is_file() and path.suffix in TEXT and "vendor" not in path.parts]


def test_no_word_that_belongs_to_one_machine() -> None:
    found = []
    for path in tracked_texts():
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
            if hit := FORBIDDEN.search(line):
                found.append(f"{path.relative_to(TOP)}:{number}: {hit.group()}")
    assert not found, "\n".join(found)


@pytest.mark.parametrize("file", sorted(path.name for path in TOP.glob("requirements*.txt")))
def test_every_pin_is_exact(file: str) -> None:
    for line in (TOP / file).read_text(encoding="utf-8").splitlines():
        assert re.fullmatch(r"(#.*|-r requirements(-[a-z]+)?\.txt|[a-z0-9-]+==[0-9][0-9a-z.]*)?", line), line


def test_what_is_installed_is_what_is_pinned() -> None:
    from importlib.metadata import PackageNotFoundError, version

    pins = re.findall(r"^([a-z0-9-]+)==(\S+)$", (TOP / "requirements.txt").read_text(encoding="utf-8"), re.MULTILINE)
    wrong = []
    for name, pinned in pins:
        try:
            if version(name) != pinned:
                wrong.append(f"{name} {version(name)} is not {pinned}")
        except PackageNotFoundError:
            wrong.append(f"{name} is not installed")
    assert not wrong, wrong
