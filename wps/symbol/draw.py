"""A welding symbol drawn after ISO 2553 (system A) or AWS A2.4: arrow, reference line, both sides, figures, tail.

Where the two part: ISO draws a dashed line for the other side and leaves it out of a symmetric weld, and what stands on
the full line is on the arrow side; AWS has no dashed line, and what hangs below the line is on the arrow side.
"""

from dataclasses import dataclass

from codes.terms import term
from codes.units import System, unit_in
from register.base.draw import svg
from register.base.pdf_text import width
from wps.symbol.figures import aws_length, aws_size, iso_length, iso_size, said
from wps.symbol.glyphs import glyph, height
from wps.symbol.spec import Form, Side, Symbol

WIDTH, HEIGHT = 300.0, 118.0
LINE_Y, LEFT, RIGHT, FOOT_X = 58.0, 62.0, 206.0, 138.0
"""Of the reference line, and of the middle of what stands on it where its size is short."""
BESIDE = 14.0
"""From the middle of a symbol to what stands left or right of it."""
TYPE, TAIL_TYPE = 12, 11
"""Of the figures, and of what stands in the tail."""
DASHED_BELOW = 5.0
TIP = (14.0, 98.0)
KINK = ((44.0, 76.0), (48.0, 86.0))
TAIL = 11.0
INSIDE_ROOM = 7.0
LETTERS = {Form.BACKING: "M", Form.BACKING_REMOVED: "MR"}
AWS_LETTERS = {Form.BACKING_REMOVED: "R"}
ISO_GAP, AWS_GAP = "b", "R"
"""Letters of the root gap in joint details; the bare figure would pass for a length where the symbol is small."""


@dataclass(frozen=True, slots=True)
class _Row:
    """Where one side stands: its foot and direction, and its figures."""

    side: Side
    y: float
    up: bool
    size: str
    length: str


def iso_symbol(one: Symbol, system: System = System.SI) -> str:
    """The symbol after ISO 2553:2019, system A, as SVG."""
    rows = [_Row(one.arrow, LINE_Y, True, iso_size(one.arrow, system), iso_length(one.arrow, system))]
    lower = LINE_Y if one.symmetric else LINE_Y + DASHED_BELOW
    if one.other is not None:
        rows.append(_Row(one.other, lower, False, iso_size(one.other, system), iso_length(one.other, system)))
    dashed = [] if one.symmetric else [_dashed(_right(rows))]
    parts = [*dashed, *_body(one, rows, LETTERS, ISO_GAP, system)]
    return _drawing(
        "ISO 2553, system A", one, rows, [*one.processes, *_depth_note(one, system), one.reference], parts, system
    )


def aws_symbol(one: Symbol, system: System = System.SI) -> str:
    """The symbol after AWS A2.4, as SVG."""
    rows = [_Row(one.arrow, LINE_Y, False, aws_size(one.arrow, system), aws_length(one.arrow, system))]
    if one.other is not None:
        rows.append(_Row(one.other, LINE_Y, True, aws_size(one.other, system), aws_length(one.other, system)))
    names = [term("process", process).aws or process for process in one.processes]
    return _drawing(
        "AWS A2.4", one, rows, [*names, one.reference], _body(one, rows, AWS_LETTERS, AWS_GAP, system), system
    )


def _depth_note(one: Symbol, system: System) -> list[str]:
    """ISO has no place at the symbol for a depth that is prepared and not yet welded: it goes to the tail."""
    depth = one.arrow.groove_depth
    return [f"depth {said(depth, system)}"] if depth is not None and one.arrow.penetration is None else []


def _foot(rows: list[_Row]) -> float:
    """The middle of the symbols: as far from the arrow as the longest size asks."""
    longest = max((width(row.size) * TYPE for row in rows if row.size), default=0.0)
    return max(FOOT_X, round(LEFT + 3 + longest + BESIDE, 1))


def _right(rows: list[_Row]) -> float:
    """Where the reference line ends: behind what stands on it, before the fork of the tail."""
    longest = max((width(row.length) * TYPE for row in rows if row.length), default=0.0)
    foot = _foot(rows)
    return max(RIGHT - FOOT_X + foot, round(foot + BESIDE + longest + 2, 1))


def _dashed(right: float) -> str:
    return svg.element(
        "line", x1=LEFT, y1=LINE_Y + DASHED_BELOW, x2=right, y2=LINE_Y + DASHED_BELOW, cls="identification",
        stroke="currentColor", stroke_width=1, stroke_dasharray="6 4",
    )  # fmt: skip


def _body(one: Symbol, rows: list[_Row], letters: dict[Form, str], gap: str, system: System) -> list[str]:
    parts = [svg.line(LEFT, LINE_Y, _right(rows), LINE_Y, "reference", 1.2), *_arrow(one.kinked)]
    foot = _foot(rows)
    for row in rows:
        parts.append(svg.path(glyph(row.side.form, foot, row.y, row.up), "glyph", 1.2))
        parts += _words(row, foot, letters.get(row.side.form, ""), system)
    if (opening := one.arrow.root_gap) is not None:
        y = LINE_Y + (-4 if rows[0].up else 11)
        parts.append(svg.label(foot + BESIDE, y, f"{gap} {said(opening, system)}", "start", "label", 9))
    return parts


def _arrow(kinked: bool) -> list[str]:
    """From the reference line to the joint; with a kink where it says which part is prepared."""
    bend = KINK if kinked else ()
    way = "L".join(f"{x:g} {y:g}" for x, y in ((LEFT, LINE_Y), *bend, TIP))
    x, y = TIP
    (px, py) = bend[-1] if bend else (LEFT, LINE_Y)
    size = ((px - x) ** 2 + (py - y) ** 2) ** 0.5
    ux, uy = (px - x) / size, (py - y) / size
    back, half = 9.0, 3.0
    head = [
        (x, y),
        (x + ux * back - uy * half, y + uy * back + ux * half),
        (x + ux * back + uy * half, y + uy * back - ux * half),
    ]
    d = "M" + "L".join(f"{hx:.1f} {hy:.1f}" for hx, hy in head) + "Z"
    return [svg.path(f"M{way}", "arrow", 1.2), svg.element("path", d=d, cls="arrow head", fill="currentColor")]


def _words(row: _Row, foot: float, letter: str, system: System) -> list[str]:
    """Size to the left, length to the right, the angle beyond the opening, a letter in the backing."""
    tall = height(row.side.form)

    def at(away: float) -> float:
        """The baseline of a text whose middle is so far from the line [px]."""
        return row.y - away + 4 if row.up else row.y + away + 4

    # Below the line the figures hang by their tops, above it they stand on their feet: as much white either way.
    beside = at(8) if row.up else at(10)
    parts = [svg.label(foot - BESIDE, beside, row.size, "end", "label", TYPE)] if row.size else []
    parts += [svg.label(foot + BESIDE, beside, row.length, "start", "label", TYPE)] if row.length else []
    parts += [svg.label(foot, at(4.5), letter, "middle", "label", 8)] if letter else []
    if row.side.angle is not None:
        parts.append(svg.label(foot + 1, at(tall + INSIDE_ROOM), said(row.side.angle, system), "middle", "label", 10))
    return parts


def _tail(lines: list[str], right: float) -> list[str]:
    if not lines:
        return []
    fork = f"M{right + TAIL:g} {LINE_Y - TAIL:g}L{right:g} {LINE_Y:g}L{right + TAIL:g} {LINE_Y + TAIL:g}"
    first = LINE_Y + 4 - 6.5 * (len(lines) - 1)
    said_ = [
        svg.label(right + TAIL + 3, first + 13 * i, text, "start", "label", TAIL_TYPE) for i, text in enumerate(lines)
    ]
    return [svg.path(fork, "tail", 1.2), *said_]


def _drawing(standard: str, one: Symbol, rows: list[_Row], tail: list[str], parts: list[str], system: System) -> str:
    lines = [text for text in tail if text]
    right = _right(rows)
    # A long name of a process, as "GMAW metal-cored", makes the drawing wider: cut off it would name another one.
    wide = max(WIDTH, *(round(right + TAIL + 6 + width(text) * TAIL_TYPE, 1) for text in lines or [""]))
    caption = svg.label(wide, HEIGHT - 4, f"{standard} · {unit_in('mm', system)}", "end", "label", 11)
    parts = [*parts, *_tail(lines, right), caption]
    return svg.drawing(wide, HEIGHT, _said(standard, one, rows, lines), "symbol", parts)


def _said(standard: str, one: Symbol, rows: list[_Row], tail: list[str]) -> str:
    """What a reader who does not see the drawing hears."""
    sides = [" ".join(text for text in (row.side.form.value, row.size, row.length) if text) for row in rows]
    other = "" if one.other is None else "; other side: " + ("the same" if one.symmetric else sides[1])
    end = f"; {', '.join(tail)}" if tail else ""
    return " ".join((f"Welding symbol, {standard}.", f"Arrow side: {sides[0]}{other}{end}."))
