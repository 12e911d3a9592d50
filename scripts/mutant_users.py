"""Which functions use a line of codes/: read from the source, without running it.

A figure in a table is executed once, on import, so no test is seen to execute it. Its users are the functions
that name the table, or name a table made from it, in its own module or in one that imports it.
"""

import ast
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

Function = tuple[str, str]
"""A function: its file below the root, and its qualified name as Python gives it."""


WHOLE = "*"
"""Stands for every name of a module: a test that names the module may take any of them by its text."""


def named(tree: ast.AST, prefix: str = "") -> Iterator[tuple[ast.FunctionDef, str]]:
    """Every function below a node with its qualified name. Example: "Piece.least", "limits.<locals>.asked"."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.FunctionDef):
            yield node, prefix + node.name
            yield from named(node, f"{prefix}{node.name}.<locals>.")
        elif isinstance(node, ast.ClassDef):
            yield from named(node, f"{prefix}{node.name}.")
        else:
            yield from named(node, prefix)


@dataclass
class Module:
    """One source file, with the names that each statement of its top level uses."""

    path: str
    tree: ast.Module
    imported: dict[str, tuple[str, str]] = field(default_factory=dict)
    """Each imported name: dotted module and the name there ("" for the module itself)."""

    def __post_init__(self) -> None:
        for node in ast.walk(self.tree):
            if isinstance(node, ast.ImportFrom) and node.module:
                for alias in node.names:
                    self.imported[alias.asname or alias.name] = (node.module, alias.name)
            if isinstance(node, ast.Import):
                for alias in node.names:
                    self.imported[alias.asname or alias.name] = (alias.name, "")

    @cached_property
    def functions(self) -> dict[ast.FunctionDef, str]:
        return dict(named(self.tree))

    def function_at(self, line: int) -> ast.FunctionDef | None:
        """The innermost function whose body holds a line; its default values belong to the statement around it."""
        inside = [f for f in self.functions if f.body[0].lineno <= line <= (f.end_lineno or 0)]
        return max(inside, key=lambda f: f.lineno, default=None)

    def statement_at(self, line: int) -> ast.stmt | None:
        return next((s for s in self.tree.body if s.lineno <= line <= (s.end_lineno or 0)), None)


def names_made(statement: ast.stmt) -> set[str]:
    """The names that a statement of the top level binds."""
    match statement:
        case ast.FunctionDef(name=name) | ast.ClassDef(name=name):
            return {name}
        case ast.Import() | ast.ImportFrom() | ast.Expr():
            return set()
    return {n.id for n in ast.walk(statement) if isinstance(n, ast.Name) and isinstance(n.ctx, ast.Store)}


class Users:
    """The functions that a changed line can reach by name."""

    def __init__(self, root: Path, files: list[Path]) -> None:
        self.modules = {
            str(f.relative_to(root)): Module(str(f.relative_to(root)), ast.parse(f.read_text())) for f in files
        }
        self.by_dotted = {self._dotted(path): path for path in self.modules}
        self.uses: dict[tuple[str, str], set[tuple[str, ast.stmt]]] = defaultdict(set)
        for path, module in self.modules.items():
            for statement in module.tree.body:
                for name in self._names_in(module, statement):
                    self.uses[name].add((path, statement))

    @staticmethod
    def _dotted(path: str) -> str:
        return path.removesuffix(".py").removesuffix("/__init__").replace("/", ".")

    def _names_in(self, module: Module, node: ast.AST) -> Iterator[tuple[str, str]]:
        """Every name of a module of codes/ that a node reads: its file and the name there."""
        for part in ast.walk(node):
            if isinstance(part, ast.Name):
                yield self._origin(module, part.id)
                if module.path.startswith("tests/") and (whole := self._module_named(module, part.id)):
                    yield whole, WHOLE
            if isinstance(part, ast.Attribute) and isinstance(part.value, ast.Name):
                home = self._module_named(module, part.value.id)
                if home:
                    yield self._origin(self.modules[home], part.attr)

    def _module_named(self, module: Module, name: str) -> str | None:
        """The file of a module that is imported under a name, None for a name that is no module."""
        dotted, there = module.imported.get(name, ("", ""))
        return self.by_dotted.get(f"{dotted}.{there}" if there else dotted)

    def _origin(self, module: Module, name: str) -> tuple[str, str]:
        """Where a name is made: followed through imports, re-exports included."""
        for _ in range(5):
            if name not in module.imported:
                break
            dotted, there = module.imported[name]
            home = self.by_dotted.get(dotted)
            if home is None or not there:
                break
            module, name = self.modules[home], there
        return module.path, name

    def imports(self, user: str, path: str) -> bool:
        """True where one file imports from another by name."""
        dotted = self._dotted(path)
        return any(dotted in (home, f"{home}.{name}") for home, name in self.modules[user].imported.values())

    def of(self, path: str, line: int) -> set[Function]:
        """Functions and test functions that use what the statement at a line makes, directly or by another table."""
        statement = self.modules[path].statement_at(line)
        found: set[Function] = set()
        seen: set[tuple[str, str]] = set()
        waiting = [(path, name) for name in (names_made(statement) if statement else ())]
        waiting.append((path, WHOLE))
        if isinstance(statement, ast.ClassDef):
            functions = self.modules[path].functions
            found |= {(path, functions[f]) for f in ast.walk(statement) if isinstance(f, ast.FunctionDef)}
        while waiting:
            name = waiting.pop()
            if name in seen:
                continue
            seen.add(name)
            for home, user in self.uses[name]:
                found |= self._functions_naming(home, user, name)
                if not isinstance(user, ast.FunctionDef | ast.ClassDef) or self._outside_functions(home, user, name):
                    waiting.extend((home, made) for made in names_made(user))
        return found

    def _functions_naming(self, path: str, statement: ast.stmt, name: tuple[str, str]) -> set[Function]:
        module = self.modules[path]
        return {
            (path, module.functions[f])
            for f in ast.walk(statement)
            if isinstance(f, ast.FunctionDef) and name in set(self._names_in(module, f))
        }

    def _outside_functions(self, path: str, statement: ast.stmt, name: tuple[str, str]) -> bool:
        """True where a class or function names something in its body, bases or defaults: its users then count too."""
        module = self.modules[path]
        inner = [f for f in ast.walk(statement) if isinstance(f, ast.FunctionDef)]
        total = sum(n == name for n in self._names_in(module, statement))
        within = sum(n == name for f in inner for part in f.body for n in self._names_in(module, part))
        cached = any("cache" in ast.unparse(d) for f in inner for d in f.decorator_list)
        return cached or total > within
