"""The elementary symbols as paths around a foot on the reference line: x to the right, y away from the line [px]."""

from wps.symbol.spec import Form

Path = tuple[str, ...]
HIGH = 15.0
"""Height of a groove symbol."""

# Steps of a path: M and L take a point, A a radius, whether it turns clockwise while y points up, and a point.
Step = tuple[str, tuple[float, ...]]
_STEM = (("M", (0.0, 0.0)), ("L", (0.0, 5.0)))
STEPS: dict[Form, tuple[Step, ...]] = {
    # The upright leg of a fillet, bevel or J stands on the left in both standards, whichever part is meant.
    Form.FILLET: (("M", (-8.0, 0.0)), ("L", (-8.0, HIGH)), ("L", (8.0, 0.0))),
    Form.SQUARE: (("M", (-3.0, 0.0)), ("L", (-3.0, HIGH)), ("M", (3.0, 0.0)), ("L", (3.0, HIGH))),
    Form.V: (("M", (-8.0, HIGH)), ("L", (0.0, 0.0)), ("L", (8.0, HIGH))),
    Form.BROAD_V: (*_STEM, ("M", (-7.0, HIGH)), ("L", (0.0, 5.0)), ("L", (7.0, HIGH))),
    Form.BEVEL: (("M", (-4.0, HIGH)), ("L", (-4.0, 0.0)), ("L", (8.0, HIGH))),
    Form.BROAD_BEVEL: (("M", (-4.0, HIGH)), ("L", (-4.0, 0.0)), ("M", (-4.0, 5.0)), ("L", (7.0, HIGH))),
    Form.U: (*_STEM, ("M", (-7.0, HIGH)), ("L", (-7.0, 12.0)), ("A", (7.0, 0.0, 7.0, 12.0)), ("L", (7.0, HIGH))),
    Form.J: (("M", (-3.0, HIGH)), ("L", (-3.0, 0.0)), ("M", (-3.0, 5.0)), ("A", (10.0, 0.0, 7.0, HIGH))),
    Form.BACK_RUN: (("M", (-8.0, 0.0)), ("A", (8.0, 1.0, 8.0, 0.0))),
    Form.BACKING: (("M", (-9.0, 0.0)), ("L", (-9.0, 9.0)), ("L", (9.0, 9.0)), ("L", (9.0, 0.0))),
    Form.BACKING_REMOVED: (("M", (-9.0, 0.0)), ("L", (-9.0, 9.0)), ("L", (9.0, 9.0)), ("L", (9.0, 0.0))),
}


def glyph(form: Form, x: float, y: float, up: bool) -> str:
    """The `d` of a symbol with its foot at (x, y), standing above the line or hanging below it."""
    way = -1 if up else 1
    parts = []
    for letter, figures in STEPS[form]:
        if letter == "A":
            radius, clockwise, px, py = figures
            sweep = int(clockwise == 1.0) if up else int(clockwise != 1.0)
            parts.append(f"A{radius:g} {radius:g} 0 0 {sweep} {x + px:g} {y + way * py:g}")
        else:
            px, py = figures
            parts.append(f"{letter}{x + px:g} {y + way * py:g}")
    return "".join(parts) + ("Z" if form is Form.FILLET else "")


def height(form: Form) -> float:
    """How far a symbol reaches from the line [px]."""
    return max(step[1][-1] for step in STEPS[form]) if form is not Form.BACK_RUN else 8.0
