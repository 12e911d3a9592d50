"""The two drawings of a joint, to scale: how it is prepared, and in which order the runs are laid."""

from collections.abc import Iterable, Sequence

from codes.units import System, amount_in
from register.base.draw import svg
from wps.preparation import kind_words
from wps.sketch import ink
from wps.sketch.clip import Box, clipped, holds
from wps.sketch.dimensions import dimensions, widest_thickness
from wps.sketch.frame import Canvas, Margins, Point, fit
from wps.sketch.layout import Shape, shapes
from wps.sketch.plates import Scene, scene
from wps.sketch.preparation import WORDS, Arrangement, Preparation, Size
from wps.sketch.region import Region, groove_regions
from wps.sketch.runs import Bead

WIDTH, HEIGHT = 330.0, 216.0
SIDE = 86.0
"""Room beside the joint for its dimensions, where no words need more [px]."""
"""Pixels; 87 by 57 mm on paper, two beside each other on a sheet."""
LEAST_BEAD = 18.0
"""A bead that would be lower than this [px] is drawn from closer by."""
LEGEND_STEP = 48.0
"""From one process of the legend to the next [px]."""
FONT = "Plex, sans-serif"
PART, BACKING, BEHIND, FAR = "#e4e4e1", "#c9c9c5", "#f6f6f4", "#fff"
PROCESS_FILLS = ("#fff", "#bdbdb8", "#d9d9d5")
"""Beads of the first process are white, of the others grey, so that they differ on a photocopy."""


def preparation_sketch(
    one: Preparation, system: System = System.SI, width: float = WIDTH, height: float = HEIGHT
) -> str:
    """The joint before welding, with every stated dimension and a scale bar; the finished outline of a fillet."""
    view = scene(one)
    upright = one.arrangement is Arrangement.BUTT
    needed, below = widest_thickness(one, system), 62 if upright else 34
    canvas = fit(view.points, width, height, Margins(SIDE, 36, SIDE, below))
    if min(x for x, _ in canvas.all(view.points)) < needed:
        canvas = fit(view.points, width, height, Margins(needed, 36, needed, below))
    box = (0.0, 0.0, width, height)
    parts = [*_parts(view, canvas, box), *_outlines(view, canvas, box), *dimensions(one, view, canvas, system)]
    parts += [_scale(canvas, width, height, system), _caption(one.drawn_for, height, system)]
    title = f"Joint preparation: {WORDS[one.arrangement]}, {_kind(one)}"
    return _drawing(width, height, title, _description(one, system), "sketch preparation", parts)


def sequence_sketch(
    one: Preparation,
    beads: Sequence[Bead],
    system: System = System.SI,
    width: float = WIDTH,
    height: float = HEIGHT,
) -> str:
    """The joint with its runs, numbered in the order of welding: root first, layer by layer."""
    view = scene(one)
    placed = _placed(one, view, beads)
    canvas, box, near = _view(view, placed, width, height)
    parts = [*_parts(view, canvas, box), *_outlines(view, canvas, box, numbered=False)]
    parts += [*([_border(box)] if near else []), *_beads(placed, canvas), *_legend(beads, height)]
    laid = (("s", one.filled),) if one.filled and one.filled.is_range else ()
    parts += [_scale(canvas, width, height, system), _caption((*one.drawn_for, *laid), height, system)]
    title = f"Sequence of {len(beads)} run{'s' if len(beads) != 1 else ''}: {WORDS[one.arrangement]}, {_kind(one)}"
    return _drawing(width, height, title, _order(beads), "sketch sequence", parts)


def _order(beads: Sequence[Bead]) -> str:
    """The numbers, of several processes each with its own, for a reader who does not see the fills."""
    several = len({bead.process for bead in beads}) > 1
    said = (f"{bead.number} ({bead.process})" if several and bead.process else str(bead.number) for bead in beads)
    return f"Numbers in the order of welding: {', '.join(said)}."


def _kind(one: Preparation) -> str:
    return "fillet weld" if one.is_fillet else kind_words(one.groove)


def _description(one: Preparation, system: System) -> str:
    """What the drawing says, in words."""
    named = (
        ("thickness", one.t1),
        ("second thickness", one.t2 if one.t2 != one.t1 else None),
        ("angle", one.angle),
        ("gap", one.gap),
        ("root face", one.root_face),
        ("radius", one.radius),
        ("depth", one.depth),
        ("throat", one.throat),
        ("leg", one.leg),
    )
    said = [f"{name} {size.text(system)}" for name, size in named if size is not None]
    said += [f"with {one.backing}"] if one.backing else []
    return f"Drawn to scale. {', '.join(said)}."


def _drawing(width: float, height: float, title: str, description: str, cls: str, parts: Iterable[str]) -> str:
    body = svg.element("g", "".join(parts), font_family=FONT)
    return svg.drawing(width, height, title, cls, [svg.element("desc", svg.words(description)), body])


def _view(view: Scene, placed: Sequence[tuple[Bead, Shape]], width: float, height: float) -> tuple[Canvas, Box, bool]:
    """The whole joint, or the weld from close by (True) where the numbers would otherwise be too small."""
    margins = Margins(10, 16, 10, 34)
    box = (margins.left, margins.top - 8, width - margins.right, height - margins.bottom + 8)
    whole = fit(view.points, width, height, margins)
    if not placed or min(shape.height for _, shape in placed) * whole.scale >= LEAST_BEAD:
        return whole, box, False
    weld = [point for _, shape in placed for point in shape.outline]
    (left, right), (top, bottom) = ((min(axis), max(axis)) for axis in zip(*weld, strict=True))
    beside = (right - left + bottom - top) / 4
    around = [(left - beside, top - beside), (right + beside, bottom + beside)]
    near = fit(around, width, height, margins)
    return (near, box, True) if near.scale > whole.scale else (whole, box, False)


def _parts(view: Scene, canvas: Canvas, box: Box) -> list[str]:
    found = [_area(outline, canvas, box, "behind", BEHIND, 0.5) for outline in view.behind]
    found += [_area(outline, canvas, box, "plate", PART) for outline in view.parts]
    found += [_area(outline, canvas, box, "backing", BACKING) for outline in view.backing]
    for a, b in view.cuts:
        p, q = canvas.at(a), canvas.at(b)
        # White over the outline, so that a cut edge reads as one.
        found.append(svg.element("line", x1=p[0], y1=p[1], x2=q[0], y2=q[1], cls="gone", stroke="#fff", stroke_width=2))
        if holds(box, p) and holds(box, q):
            found.append(ink.cut_edge(p, q))
    return found


def _area(outline: Sequence[Point], canvas: Canvas, box: Box, cls: str, fill: str, width: float = 1.2) -> str:
    """An outline within the box; nothing where all of it lies outside."""
    shown = clipped(canvas.all(outline), box)
    return ink.area(shown, cls, fill, width) if shown else ""


def _border(box: Box) -> str:
    """White over the edge of the view, so that a part which goes on beyond it does not look as if it ended there."""
    left, top, right, bottom = box
    return svg.element(
        "rect", x=left, y=top, width=right - left, height=bottom - top, cls="gone", fill="none", stroke="#fff",
        stroke_width=3,
    )  # fmt: skip


def _outlines(view: Scene, canvas: Canvas, box: Box, numbered: bool = True) -> list[str]:
    """The fillets as plain outlines; without the first where its beads are drawn instead."""
    shown = view.fillets if numbered else view.fillets[1:]
    return [_area(_triangle(one), canvas, box, "fillet", FAR) for one in shown]


def _triangle(one: Region) -> list[tuple[float, float]]:
    left, right = one.edges(one.end)
    return [one.placement.at(0, one.start), one.placement.at(left, one.end), one.placement.at(right, one.end)]


def _placed(one: Preparation, view: Scene, beads: Sequence[Bead]) -> list[tuple[Bead, Shape]]:
    """Each bead with its place."""
    regions = view.fillets[:1] if one.is_fillet else groove_regions(one)
    near, far = _sides(beads, len(regions) > 1)
    found = list(zip(near, shapes(regions[0], len(near)) if near else (), strict=True))
    if far:
        found += zip(far, shapes(regions[1], len(far)), strict=True)
    return found


def _sides(beads: Sequence[Bead], two: bool) -> tuple[list[Bead], list[Bead]]:
    """The beads of the first and of the second side: as their names say, or the first half and the rest."""
    if not two:
        return list(beads), []
    back = [bead for bead in beads if bead.back]
    if back and len(back) < len(beads):
        return [bead for bead in beads if not bead.back], back
    half = (len(beads) + 1) // 2
    return list(beads[:half]), list(beads[half:])


def _beads(placed: Sequence[tuple[Bead, Shape]], canvas: Canvas) -> list[str]:
    """Later beads first, so that the hill of an earlier one shows inside the later one that lies on it."""
    fills = _fills([bead for bead, _ in placed])
    outlines, numbers = [], []
    for bead, shape in reversed(placed):
        fill = fills[bead.process]
        outlines.append(ink.area(canvas.all(shape.outline), f"bead row-{bead.order}", fill, 1))
        numbers.append(_number(bead, shape, canvas))
    return outlines + numbers


def _fills(beads: Sequence[Bead]) -> dict[str, str]:
    """The grey of each process, in the order in which they are used."""
    processes = dict.fromkeys(bead.process for bead in beads)
    return {one: PROCESS_FILLS[min(i, len(PROCESS_FILLS) - 1)] for i, one in enumerate(processes)}


def _legend(beads: Sequence[Bead], height: float) -> list[str]:
    """Which process is white and which is grey, by its number, above the caption; nothing where there is but one."""
    fills = _fills(beads)
    found = []
    for i, (process, fill) in enumerate(fills.items() if len(fills) > 1 else ()):
        x, y = 4 + LEGEND_STEP * i, height - 18
        place = {"x": x, "y": y - 8, "width": 12, "height": 8}
        found.append(svg.element("rect", **place, cls="legend", fill=fill, stroke="currentColor", stroke_width=0.7))
        found.append(svg.label(x + 16, y, process or "–", "start", "label legend", 10))
    return found


def _number(bead: Bead, shape: Shape, canvas: Canvas) -> str:
    x, y = canvas.at(shape.middle)
    size = min(13.0, max(7.0, shape.height * canvas.scale * 0.55))
    return svg.label(x, y + size * 0.36, str(bead.number), "middle", "label number", size)


def _scale(canvas: Canvas, width: float, height: float, system: System) -> str:
    return ink.scale_bar(canvas, width - 8, height - 4, system)


def _drawn(size: Size, system: System) -> str:
    own = amount_in(size.drawn, size.unit, System.SI)
    return own if system is System.SI else f"{amount_in(size.drawn, size.unit, system)} [{own}]"


def _caption(sizes: Iterable[tuple[str, Size]], height: float, system: System) -> str:
    """Which of several sizes is drawn; the drawing is made in millimetres, so those are said too."""
    shown = ", ".join(f"{name} {_drawn(size, system)}" for name, size in sizes)
    return svg.label(4, height - 5, f"drawn for {shown}", "start", "label caption", 10) if shown else ""
