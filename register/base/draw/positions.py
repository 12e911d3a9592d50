"""Welding positions of ISO 6947 as small pictures: the plates in section, the torch, and the way it travels.

Sections show the weld end-on; vertical positions show it from the front, where the way of travel is the point.
"""

from register.base.draw import svg

SIZE = 44

POSITIONS = {
    "PA": "flat: torch pointing down",
    "PB": "horizontal vertical: fillet on a lying plate, torch from above at the side",
    "PC": "horizontal: wall upright, torch from the side",
    "PD": "horizontal overhead: fillet under a lying plate, torch from below at the side",
    "PE": "overhead: torch pointing up",
    "PF": "vertical, welded upwards",
    "PG": "vertical, welded downwards",
    "PH": "pipe fixed, axis lying, welded upwards",
    "PJ": "pipe fixed, axis lying, welded downwards",
    "H-L045": "pipe fixed, axis inclined by 45 degrees, welded upwards",
    "J-L045": "pipe fixed, axis inclined by 45 degrees, welded downwards",
}
"""Token to what the picture shows."""


def position_icon(token: str, name: str = "", fillet: bool = False) -> str:
    """The picture of a position. `name` replaces the token in the title ("PB · 2F"); `fillet` draws PA as a trough, PC
    and PE as the trough turned.

    Raises ValueError for a token that ISO 6947 does not have here.
    """
    if token not in POSITIONS:
        raise ValueError(f"no picture of position {token!r}: known are {', '.join(POSITIONS)}")
    parts = _FILLET[token] if fillet and token in _FILLET else _PICTURES[token]
    return svg.drawing(SIZE, SIZE, f"Position {name or token}, {POSITIONS[token]}", "position", [parts])


def _plate(x: float, y: float, width: float, height: float, turn: str = "") -> str:
    return svg.element(
        "rect", x=x, y=y, width=width, height=height, cls="plate", fill="#fff", stroke="currentColor",
        stroke_width=1.2, transform=turn,
    )  # fmt: skip


def _weld(d: str) -> str:
    return svg.element("path", d=d, cls="weld", fill="currentColor", stroke="currentColor", stroke_width=0.6)


def _torch(x: float, y: float, angle: float) -> str:
    """A torch whose tip is at x, y; angle 0 points down, 90 points left, 180 points up (degrees, clockwise)."""
    body = "M-2 -4L-3 -7V-17H3V-7L2 -4Z"
    turn = f"translate({svg.pixels(x)} {svg.pixels(y)}) rotate({svg.pixels(angle)})"
    nozzle = svg.element("path", d=body, cls="torch", fill="#fff", stroke="currentColor", stroke_width=1.2)
    wire = svg.line(0, -4, 0, 0, "torch", 1.2)
    return svg.element("g", nozzle + wire, transform=turn)


def _arrow(x: float, y1: float, y2: float) -> str:
    way = 4 if y2 > y1 else -4
    barb = svg.pixels(y2 - way)
    head = f"M{svg.pixels(x - 3)} {barb}L{svg.pixels(x)} {svg.pixels(y2)}L{svg.pixels(x + 3)} {barb}"
    return svg.line(x, y1, x, y2, "way", 1.4) + svg.path(head, "way", 1.4)


def _wall(up: bool) -> str:
    """Two upright plates from the front, the seam half welded, and the way of travel."""
    seam = "M15.5 26H20.5V41H15.5Z" if up else "M15.5 3H20.5V18H15.5Z"
    plates = _plate(4, 3, 12, 38) + _plate(20, 3, 12, 38)
    tip = 24 if up else 20
    return plates + _weld(seam) + _torch(19, tip, 62 if up else 118) + _arrow(38.5, *((36, 8) if up else (8, 36)))


def _ring(up: bool) -> str:
    """A lying pipe end-on, with the way of travel up or down both sides."""
    ring = svg.element("circle", cx=22, cy=23, r=13, cls="plate", fill="none", stroke="currentColor", stroke_width=4)
    bore = svg.element("circle", cx=22, cy=23, r=13, cls="bore", fill="none", stroke="#fff", stroke_width=1.6)
    ways = _arrow(3.5, *((33, 13) if up else (13, 33))) + _arrow(40.5, *((33, 13) if up else (13, 33)))
    start = _weld("M19 34.5H25V37.8H19Z") if up else _weld("M19 8.2H25V11.5H19Z")
    return ring + bore + ways + start


def _slope(up: bool) -> str:
    """An inclined pipe from the side with its seam, and the way of travel."""
    turn = "rotate(-45 20 24)"
    pipe = _plate(2, 18, 36, 12, turn)
    seam = svg.element("rect", x=18.2, y=17, width=3.6, height=14, cls="weld", fill="currentColor", transform=turn)
    floor = svg.line(3, 41, 30, 41, "axis", 1)
    return pipe + seam + floor + _arrow(38.5, *((38, 18) if up else (18, 38)))


_FLAT_PLATES = _plate(2, 25, 18, 9) + _plate(24, 25, 18, 9)
_PICTURES = {
    "PA": _FLAT_PLATES + _weld("M17 24.5L20 34H24L27 24.5Z") + _torch(22, 23, 0),
    "PE": _plate(2, 10, 18, 9) + _plate(24, 10, 18, 9) + _weld("M17 19.5L20 10H24L27 19.5Z") + _torch(22, 21, 180),
    "PC": _plate(10, 2, 9, 18) + _plate(10, 24, 9, 18) + _weld("M19.5 17L10 20V24L19.5 27Z") + _torch(21, 22, 90),
    "PB": _plate(3, 33, 38, 8) + _plate(11, 5, 8, 28) + _weld("M19.5 25V32.5H27Z") + _torch(25, 27, 45),
    "PD": _plate(3, 3, 38, 8) + _plate(11, 11, 8, 28) + _weld("M19.5 19V11.5H27Z") + _torch(25, 17, 135),
    "PF": _wall(True),
    "PG": _wall(False),
    "PH": _ring(True),
    "PJ": _ring(False),
    "H-L045": _slope(True),
    "J-L045": _slope(False),
}
_TROUGH = "M22 40L4 22L8.2 17.8L22 31.6Z", "M22 40L40 22L35.8 17.8L22 31.6Z"
_LYING = (
    "".join(svg.path(d, "plate", 1.2, fill="#fff") for d in _TROUGH)
    + _weld("M15.5 25.1H28.5L22 31.6Z")
    + _torch(22, 22, 0)
)
_FILLET = {
    "PA": _LYING,
    "PC": svg.element("g", _LYING, transform="rotate(90 22 22)"),
    "PE": svg.element("g", _LYING, transform="rotate(180 22 22)"),
}
