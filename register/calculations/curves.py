"""Plots where people look rather than read: preheat against thickness, t8/5 against heat input, the parameter window.

All points come from the calculations themselves; where a method refuses, the curve has no point.
"""

from collections.abc import Callable, Iterable, Mapping
from decimal import Decimal, InvalidOperation

from codes.calc.calculation import Calculation
from codes.calc.conversions import in_us
from codes.calc.exact import kept
from codes.calc.inputs import arguments
from codes.calc.registry import calculation
from codes.calc.result import Refused, Result, printed
from codes.parse import Plain
from codes.units import System
from codes.values import Interval
from register.base.draw.plot import Axis, Box, Mark, Plot, Point, Series, span
from register.calculations.set_out import significant

Arguments = dict[str, object]
STEPS = 16


def plot_of(asked: Calculation, plain: Mapping[str, Plain], result: Result, system: System) -> Plot | None:
    """The plot of a calculation, in the reader's units, or None where there is none or it cannot be drawn."""
    draw = _PLOTS.get(asked.name)
    if draw is None:
        return None
    found = draw(arguments(asked.name, asked.inputs, plain), result)
    return found and (_us(found) if system is System.US else found)


def _curve(name: str, given: Arguments, field: str, xs: Iterable[Decimal]) -> tuple[Point, ...]:
    """The value of a calculation over one of its inputs, to four digits."""
    function, points = calculation(name).function, []
    for x in xs:
        try:
            value = function(**{**given, field: x}).value
        except Refused:
            continue
        if isinstance(value, Decimal):
            points.append((x, Decimal(significant(value, 4))))
    return tuple(points)


def _even(lo: Decimal, hi: Decimal, steps: int = STEPS) -> list[Decimal]:
    return [lo + (hi - lo) * at / steps for at in range(steps + 1)]


def _preheat_b(given: Arguments, result: Result) -> Plot | None:
    points = _curve("preheat_method_b", given, "thickness", _even(Decimal(10), Decimal(90)))
    ys = [y for _, y in points] + [result.figure]
    mark = Mark(_decimal(given["thickness"]), result.figure, result.shown)
    return Plot(
        "Preheat against plate thickness",
        "Preheat by EN 1011-2 method B over the thicknesses that it serves; the point is the plate asked about.",
        Axis("Plate thickness", "mm", Decimal(0), Decimal(100)),
        Axis("Preheat", "°C", *span(ys, Decimal(0))),
        (Series("method B", points),),
        (mark,),
    )


def _cooling(given: Arguments, result: Result) -> Plot | None:
    heat = _decimal(given["heat_input"])
    end = span([heat * 2], Decimal(0))[1]
    points = _curve("cooling_time", given, "heat_input", _even(end / STEPS, end, STEPS - 1))
    if len(points) < 2:
        return None
    mark = Mark(heat, result.figure, result.shown)
    return Plot(
        "Cooling time against heat input",
        f"t8/5 rises with heat input; the point is the weld asked about, with {result.step('flow')} flow of heat.",
        Axis("Heat input with k", "kJ/mm", Decimal(0), end),
        Axis("t8/5", "s", *span([y for _, y in points] + [result.figure], Decimal(0))),
        (Series("t8/5", points),),
        (mark,),
    )


def _window(given: Arguments, result: Result) -> Plot | None:
    """Speed over current at the middle voltage; a line for each of five heat inputs, the window as a box."""
    current, speed, voltage = (_ends(given[name]) for name in ("current", "travel_speed", "voltage"))
    measure = "heat input" if given.get("measure", "heat_input") == "heat_input" else "arc energy"
    x = Axis("Current", "A", *span([current[0] * Decimal("0.8"), current[1] * Decimal("1.2")]))
    y = Axis("Travel speed", "mm/min", *span([speed[0] * Decimal("0.7"), speed[1] * Decimal("1.3")]))
    least, greatest = result.number("least"), result.number("greatest")
    middle = (voltage[0] + voltage[1]) / 2
    # k.U.60/1000, from the greatest corner: Q = factor . U . I / v
    factor = greatest * speed[0] / (voltage[1] * current[1])
    lines = []
    for at in range(5):
        heat = least + (greatest - least) * at / 4
        points = tuple((a, kept(factor * middle * a / heat)) for a in _even(x.lo, x.hi, 8))
        lines.append(Series(f"{significant(heat, 4)} kJ/mm", tuple((a, Decimal(significant(v, 4))) for a, v in points)))
    return Plot(
        f"Parameter window with contours of {measure}",
        f"The window of current and travel speed as a box; lines of equal {measure} at the middle voltage, "
        f"{significant(middle, 4)} V. The corners of the box also count the ends of the voltage.",
        x,
        y,
        tuple(lines) if greatest > least else tuple(lines[:1]),
        boxes=(Box(current, speed, "window"),),
    )


def _prequalified(given: Arguments, result: Result) -> Plot | None:
    """Steps of the table of D1.1, in the unit system of its own figures."""
    us = "thickness_in" in given
    field, unit = ("thickness_in", "in") if us else ("thickness_mm", "mm")
    ends = ("0.125", "0.75", "1.5", "2.5", "4") if us else ("3", "20", "38", "65", "100")
    step = Decimal("0.001")
    xs = [Decimal(ends[0])]
    for end in ends[1:]:
        xs += [Decimal(end), Decimal(end) + step]
    points = _curve("d11_prequalified_preheat", given, field, xs[:-1])
    asked = _decimal(given[field])
    top = span([y for _, y in points] + [result.figure], Decimal(0))
    return Plot(
        "Prequalified preheat against thickness",
        "The least preheat rises in steps with the thickest part; the point is the part that is asked about.",
        Axis("Thickest part", unit, Decimal(0), max(Decimal(ends[-1]), span([asked], Decimal(0))[1])),
        Axis("Least preheat", result.unit, *top),
        (Series("D1.1", points),),
        (Mark(asked, result.figure, result.shown),),
    )


def _decimal(value: object) -> Decimal:
    if not isinstance(value, Decimal):
        raise TypeError(f"{value!r} is not a figure")
    return value


def _ends(value: object) -> tuple[Decimal, Decimal]:
    if not isinstance(value, Interval) or value.lo is None or value.hi is None:
        raise TypeError(f"{value!r} is not a range")
    return value.lo, value.hi


def _us(plot: Plot) -> Plot:
    """The same plot with both axes in US units and ends on whole ticks."""
    x, y = plot.x, plot.y

    def at(point: Point) -> Point:
        return _short(in_us(point[0], x.unit)[0]), _short(in_us(point[1], y.unit)[0])

    def axis(one: Axis) -> Axis:
        (lo, unit), (hi, _) = in_us(one.lo, one.unit), in_us(one.hi, one.unit)
        return one if unit == one.unit else Axis(one.name, unit, *span([_short(lo), _short(hi)]))

    corners = [(at((b.x[0], b.y[0])), at((b.x[1], b.y[1])), b.words) for b in plot.boxes]
    return Plot(
        plot.title,
        plot.description,
        axis(x),
        axis(y),
        tuple(Series(_name(s.name), tuple(map(at, s.points))) for s in plot.series),
        tuple(Mark(*at((m.x, m.y)), _words(m)) for m in plot.marks),
        tuple(Box((lo[0], hi[0]), (lo[1], hi[1]), words) for lo, hi, words in corners),
    )


def _words(mark: Mark) -> str:
    """What a point says, as the answer says it: a preheat that was rounded upwards is turned over after that."""
    figure, _, unit = mark.words.partition(" ")
    try:
        return printed(*in_us(Decimal(figure), unit))
    except InvalidOperation:
        return mark.words


def _short(value: Decimal) -> Decimal:
    return Decimal(significant(value, 4))


def _name(name: str) -> str:
    """A contour's name in US units. Example: "0.576 kJ/mm" gives "14.63 kJ/in"."""
    figure, _, unit = name.partition(" ")
    if unit != "kJ/mm":
        return name
    value, unit = in_us(Decimal(figure), unit)
    return f"{significant(value, 4)} {unit}"


_PLOTS: Mapping[str, Callable[[Arguments, Result], Plot | None]] = {
    "preheat_method_b": _preheat_b,
    "cooling_time": _cooling,
    "heat_input_window": _window,
    "d11_prequalified_preheat": _prequalified,
}
