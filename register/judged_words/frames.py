"""The texts that judges say, as they stand in their source: whole ones, and frames with places such as "tested {1}".

Judges speak English and keep it as evidence; nobody marks or lists their texts a second time. An f-string is a frame:
its places are numbered, each alternative of a condition inside it is a frame of its own.
"""

import ast
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import islice, product
from pathlib import Path

Shape = tuple[str | ast.expr, ...]
"""A text in pieces: what is said, and the expressions whose words come between."""

MOST = 24
"""More alternatives of one text than that are not told apart."""
SIGNS = re.compile(
    r"\bkJ/(?:in|mm³)|\bft³(?:/h)?|\bg/cm³|\blb/(?:in³|ft|h)|\bkip(?:/in)?\b|\bin²"
    r"|(?<=\d )(?:in/min|in/lb|in|ft|lb)\b|(?<=\[)(?:in/min|in/lb|in|ft|lb)(?=\])"
    r"|\b(?:mm|kJ|MPa|ksi|min|kg|ml|psi|ISO|AWS|ASME|EN|TR|QW|QB|Tables?|Annex|Figure|Note|Part)\b"
)
UNIT = re.compile(r", (?:°C?|mm|%|[A-Zs]|[a-zA-Z]+/[a-z]+)$")
"""The unit behind a label."""
LABEL = re.compile(r"[A-Z][a-z]{2,}(?:-[a-z]+)?")
WORD = re.compile(r"[A-Za-z]*[a-z]{2,}")
"""A word; capitals alone are a designation: PB, GMAW."""
NOT_SAID = re.compile(r"[\\^$|]|\(\?|^[a-z0-9]+(?:[_.][a-z0-9_.]*)+$|^https?:")
PLACES_IN_BOOKS = frozenset({"Clause", "clause", "confirmed", "partly", "doubtful", "at", "compile", "import_module"})
MARKED = frozenset({"gettext", "gettext_lazy", "ngettext", "ngettext_lazy", "pgettext", "_"})
"""Calls whose texts are no words of a judge: numbers of clauses and tables, and what is marked already."""
FOR_PROGRAMMERS = frozenset({"ValueError", "KeyError", "TypeError"})
STEPS, WORKING = frozenset({"step", "word"}), "working"
"""Calls that name an intermediate value of a calculation: "arc_energy" is read as "arc energy"."""
TRIMS = frozenset({"strip", "lstrip", "rstrip"})


@dataclass(frozen=True)
class Frame:
    """A text with places. `parts`: what is said before, between and behind them; `names`: what the places hold."""

    parts: tuple[str, ...]
    names: tuple[str, ...] = ()

    @cached_property
    def key(self) -> str:
        """The message. Example: "tested {1} = {2} mm: {3}"."""
        return self.parts[0] + "".join(f"{{{i}}}{part}" for i, part in enumerate(self.parts[1:], 1))

    @cached_property
    def pattern(self) -> re.Pattern[str]:
        """What a finished text of this frame looks like."""
        return re.compile("(.*?)".join(map(re.escape, self.parts)), re.DOTALL)

    @cached_property
    def weight(self) -> int:
        """How much it says of its own, in letters: of two frames that fit a text the heavier is meant."""
        return sum(map(len, WORD.findall(SIGNS.sub("", " ".join(self.parts)))))


def frames_of(source: str) -> Iterator[Frame]:
    """The texts of a module, docstrings and names apart, in the order of the source."""
    yield from frames_within(ast.parse(source))


def frames_in(top: Path, globs: Iterable[str]) -> dict[str, tuple[Frame, str]]:
    """The texts of the modules below a folder by message, each with the first module that says it."""
    found: dict[str, tuple[Frame, str]] = {}
    for path in sorted({path for glob in globs for path in top.glob(glob)}):
        name = path.relative_to(top).as_posix()
        for frame in frames_of(path.read_text(encoding="utf-8")):
            found.setdefault(frame.key, (frame, name))
    return found


def is_said(text: str) -> bool:
    """True for words that somebody reads, not for a sign of a unit, a place in a standard or a name in the source."""
    return bool(WORD.search(SIGNS.sub("", text))) and not NOT_SAID.search(text)


def is_plain(text: str) -> bool:
    """True for figures with their units and for designations, which are the same in every language."""
    return not WORD.search(SIGNS.sub("", text))


def frames_within(node: ast.AST) -> Iterator[Frame]:
    """The texts in a part of a module."""
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
        return
    if isinstance(node, ast.Call) and _name(node.func) in MARKED:
        return
    if isinstance(node, ast.Call) and _name(node.func) in PLACES_IN_BOOKS:
        found = (frame for argument in node.args for frame in frames_within(argument))
        yield from (frame for frame in found if not re.search(r"\d", "".join(frame.parts)))
        return
    if isinstance(node, ast.Call) and _is_step(node.func):
        yield from _of_step(node)
        for argument in node.args[1:]:
            yield from frames_within(argument)
        return
    if isinstance(node, ast.Raise) and _name(getattr(node.exc, "func", node)) in {
        "ValueError",
        "KeyError",
        "TypeError",
    }:
        return
    inner: Iterable[ast.AST] = ast.iter_child_nodes(node)
    if isinstance(node, ast.expr) and (shapes := _shapes(node)):
        for shape in shapes:
            yield from _frame(shape)
        inner = {id(one): one for shape in shapes for one in shape if isinstance(one, ast.expr)}.values()
    for child in inner:
        yield from frames_within(child)


def _is_step(function: ast.expr) -> bool:
    return isinstance(function, ast.Attribute) and function.attr in STEPS and _name(function.value) == WORKING


def _of_step(call: ast.Call) -> Iterator[Frame]:
    """What an intermediate value is called, and the words that it may be, single ones too."""
    called = [tuple(_spaced(piece) for piece in shape) for shape in _shapes(call.args[0])]
    be = _shapes(call.args[1]) if _name(call.func) == "word" else []
    for shape in (*called, *be):
        texts, places = _parts(shape)
        if is_said(" ".join(texts)):
            yield Frame(texts, places)


def _spaced(piece: str | ast.expr) -> str | ast.expr:
    return piece.replace("_", " ") if isinstance(piece, str) else piece


def _parts(shape: Shape) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What is said around the places of a text, and what the places hold."""
    texts, places = [""], []
    for piece in shape:
        if isinstance(piece, str):
            texts[-1] += piece
        else:
            places.append(ast.unparse(piece))
            texts.append("")
    return tuple(texts), tuple(places)


def _frame(shape: Shape) -> Iterator[Frame]:
    parts, names = [""], []
    for piece in shape:
        if isinstance(piece, str):
            parts[-1] += piece
        elif names and not parts[-1].strip():  # nobody can tell apart places that stand side by side
            names[-1] += f" {ast.unparse(piece)}"
            parts[-1] = ""
        else:
            names.append(ast.unparse(piece))
            parts.append("")
    # The signs at its ends part it from what stands beside it.
    parts[0] = parts[0].lstrip(" :;,")
    parts[-1] = UNIT.sub("", parts[-1].rstrip(" :;,"))
    # A place alone says nothing; a single word in small letters is a token, or is told by the tables of terms.
    if is_said(" ".join(parts)) and (names or " " in parts[0] or LABEL.fullmatch(parts[0])):
        yield Frame(tuple(parts), tuple(names))


def _shapes(node: ast.expr) -> list[Shape]:
    """The alternatives of a text in pieces; none where the expression is no text."""
    if isinstance(node, ast.Constant):
        return [(node.value,)] if isinstance(node.value, str) else []
    if isinstance(node, ast.JoinedStr):
        return _product([_place(one) for one in node.values])
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
        left, right = _shapes(node.left), _shapes(node.right)
        return _product([left or [(node.left,)], right or [(node.right,)]]) if left or right else []
    if isinstance(node, ast.IfExp):
        chosen = [_shapes(node.body), _shapes(node.orelse)]
        return [*chosen[0], *chosen[1]] if all(chosen) else []
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
        inner = _shapes(node.func.value)
        if node.func.attr in TRIMS and inner:
            return inner
        if node.func.attr == "join" and inner and len(node.args) == 1:
            return [(node.args[0], *inner[0], ast.Name("more"))]
    return []


def _place(node: ast.expr) -> list[Shape]:
    """The alternatives of one piece of an f-string."""
    if isinstance(node, ast.FormattedValue):
        # A row of words may be a single one: it is a place, and told for itself.
        a_row = isinstance(node.value, ast.Call) and _name(node.value.func) == "join"
        return (not a_row and _shapes(node.value)) or [(node.value,)]
    return _shapes(node)


def _product(pieces: list[list[Shape]]) -> list[Shape]:
    return [tuple(part for shape in chosen for part in shape) for chosen in islice(product(*pieces), MOST)]


def _name(node: ast.AST) -> str:
    return node.id if isinstance(node, ast.Name) else node.attr if isinstance(node, ast.Attribute) else ""
