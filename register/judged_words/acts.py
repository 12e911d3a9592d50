"""What the trail says: acts and notes, found where `record_act` is called, and the names of facts and of columns.

The trail keeps English; nobody marks these texts where they are written. An act given by a name is read from where a
module sets that name to a text.
"""

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from django.apps import apps
from django.contrib.auth.models import User

from codes.variables import VARIABLES
from register.judged_words.fact_names import name_words
from register.judged_words.frames import Frame, frames_within, is_said

OWN = ("register", "wps", "qualifications", "joints")
FACTS_IN = ("witness.py", "content.py")
"""Modules besides those that write acts in which facts get the names that the trail shows."""
CONSTANT = re.compile(r'^([A-Z_]+) = "([^"]+)"$', re.MULTILINE)
Constants = dict[str, list[str]]


def acts_in(top: Path) -> Iterator[tuple[Frame, str]]:
    """Acts and notes below a folder as frames, each with the module that writes it."""
    constants = _constants(top)
    for module, tree in _writing(top):
        for call in _acts(tree):
            for node in (*call.args[1:2], *(word.value for word in call.keywords if word.arg == "note")):
                yield from ((frame, module) for frame in _frames(node, tree, constants))


def names_in(top: Path) -> Iterator[str]:
    """Names of facts in entries, and of columns in versions: told one by one, never as words of a sentence."""
    constants = _constants(top)
    for _, tree in _writing(top):
        yield from filter(is_said, _keys(tree, constants))
    for field in _fields():
        names = (field.name.replace("_", " "), name_words(field.name), in_source(field.verbose_name))
        yield from filter(is_said, names)
    yield from (words for name in VARIABLES for words in (name.replace("_", " "), name_words(name)))
    yield from _headings(top)


def choices_in_rows() -> Iterator[str]:
    """What columns hold where it is chosen from a list: as it is kept, and in words."""
    for value, label in (choice for field in _fields() for choice in field.flatchoices):
        yield from filter(is_said, (str(value), in_source(label)))


def _headings(top: Path) -> Iterator[str]:
    """Headings of the lists that are taken in: fixed in the files, told on the pages about them."""
    for name, source in _sources(top):
        if name.endswith("/columns.py"):
            for node in ast.parse(source).body:
                if isinstance(node, ast.AnnAssign) and isinstance(node.value, ast.Dict):
                    yield from (one.value for one in node.value.values if isinstance(one, ast.Constant))


def _fields() -> Iterator[Any]:
    for model in apps.get_models():
        own = model is User or model.__module__.split(".")[0] in OWN
        if own and not hasattr(model, "history_object"):
            yield from model._meta.concrete_fields


def in_source(text: object) -> str:
    """A text as it stands in the source, marked for translation or not."""
    return str(getattr(text, "_args", (text,))[0])


def _sources(top: Path) -> Iterator[tuple[str, str]]:
    for path in sorted(path for app in OWN for path in (top / app).rglob("*.py")):
        if "migrations" not in path.parts:
            yield path.relative_to(top).as_posix(), path.read_text(encoding="utf-8")


def _constants(top: Path) -> Constants:
    found: Constants = defaultdict(list)
    for _, source in _sources(top):
        for name, text in CONSTANT.findall(source):
            found[name].append(text)
    return found


def _writing(top: Path) -> Iterator[tuple[str, ast.Module]]:
    for name, source in _sources(top):
        if "record_act(" in source or name.endswith(FACTS_IN):
            yield name, ast.parse(source)


def _acts(tree: ast.Module) -> Iterator[ast.Call]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "record_act":
            yield node


def _frames(node: ast.expr, tree: ast.Module, constants: Constants) -> Iterator[Frame]:
    if isinstance(node, ast.Constant):
        yield from (Frame((text,)) for text in (node.value,) if isinstance(text, str) and is_said(text))
    elif isinstance(node, ast.IfExp):
        yield from (frame for one in (node.body, node.orelse) for frame in _frames(one, tree, constants))
    elif isinstance(node, ast.Name):
        yield from (frame for value in _set_here(tree, node.id) for frame in _frames(value, tree, constants))
        yield from (Frame((text,)) for text in constants.get(node.id, ()))
    elif isinstance(node, ast.JoinedStr):
        for one in _with_constants(node, constants):
            yield from frames_within(one)


def _set_here(tree: ast.Module, name: str) -> Iterator[ast.expr]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Assign) and any(isinstance(one, ast.Name) and one.id == name for one in node.targets):
            yield node.value


def _with_constants(node: ast.JoinedStr, constants: Constants) -> Iterator[ast.JoinedStr]:
    """A text with the texts that names stand for. Example: f"{PRINTED}{kind}" is f"printed a {kind}"."""
    found: list[list[ast.expr]] = [[]]
    for piece in node.values:
        held = piece.value if isinstance(piece, ast.FormattedValue) else None
        texts = constants.get(held.id, []) if isinstance(held, ast.Name) else []
        pieces: list[ast.expr] = [ast.Constant(text) for text in texts] or [piece]
        found = [[*before, one] for before in found for one in pieces]
    yield from (ast.JoinedStr(values=values) for values in found)


def _keys(tree: ast.Module, constants: Constants) -> Iterator[str]:
    for key in (key for node in ast.walk(tree) if isinstance(node, ast.Dict) for key in node.keys):
        named = constants.get(key.id, []) if isinstance(key, ast.Name) else []
        held = key.value if isinstance(key, ast.Constant) else None
        for text in (*named, held):
            yield from (text.replace("_", " "), name_words(text)) if isinstance(text, str) else ()
