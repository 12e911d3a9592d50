"""The heat input of ranges of current, voltage and speed, and the travel speed that keeps a wanted heat input.

Units: V, A, mm/min, kJ/mm.
"""

from decimal import Decimal

from codes.calc.calculation import Calculation, Input, Kind, asked, choice, process, yes_no
from codes.calc.calculation import optional as optional_input
from codes.calc.exact import exact
from codes.calc.heat import ENERGY, arc_energy, heat_input, k_of, plausible, plausible_energy
from codes.calc.result import AT_MOST, Refused, Result, Working, positive
from codes.values import Interval

FORMULA = "Q = k·U·I·60 / (1000·v): least at the low ends of U and I and the high end of v, greatest at the others"
FORMULA_SPEED = "v = k·U·I·60 / (1000·Q)"
MEASURES = {"heat_input": "heat input: k x arc energy (EN, ISO)", "arc_energy": "arc energy: without k (AWS, ASME)"}


@exact
def heat_input_window(
    voltage: Interval,
    current: Interval,
    travel_speed: Interval,
    process: str | None = None,
    k: Decimal | None = None,
    measure: str = "heat_input",
    waveform_controlled: bool | None = None,
) -> Result:
    """The greatest value as the result and the least as a step: all parameters at the ends that make it so.

    Example: 24-28 V, 200-250 A, 300-400 mm/min, k 0.8 give 0.576 to 1.12 kJ/mm.
    """
    working = Working()
    (u, u_hi), (i, i_hi), (v, v_hi) = (_ends(one) for one in (voltage, current, travel_speed))
    corners = {"least": (u, i, v_hi), "greatest": (u_hi, i_hi, v)}
    found = {}
    for name, (volts, amperes, speed) in corners.items():
        if measure == "arc_energy":
            result = arc_energy(volts, amperes, speed, waveform_controlled=waveform_controlled)
        else:
            result = heat_input(volts, amperes, speed, waveform_controlled=waveform_controlled, process=process, k=k)
        for flag in result.flags:
            working.flag(flag)
        found[name] = working.step(name, result.figure, "kJ/mm")
    return working.result(found["greatest"], "kJ/mm", ENERGY, FORMULA)


def _ends(interval: Interval) -> tuple[Decimal, Decimal]:
    if interval.lo is None or interval.hi is None:
        raise Refused("travel_speed", "a range needs both ends")
    return interval.lo, interval.hi


@exact
def travel_speed_window(
    voltage: Decimal,
    current: Decimal,
    heat_input: Interval,
    process: str | None = None,
    k: Decimal | None = None,
    waveform_controlled: bool | None = None,
) -> Result:
    """The highest travel speed (from the lowest heat input) as the result, the lowest speed as a step.

    Example: 0.8 to 1.6 kJ/mm at 28.5 V, 270 A, k 0.8 are 230.85 to 461.7 mm/min.
    """
    working = Working()
    if waveform_controlled:
        raise Refused("waveform_controlled", "the inverse of U x I / v holds only without waveform control")
    working.flag("taken as not waveform-controlled (not stated)", when=waveform_controlled is None)
    factor = k_of(working, process, k)
    power = factor * positive("voltage", voltage, "V") * positive("current", current, "A") * 60 / 1000
    plausible(working, voltage, current)
    least, greatest = _ends(heat_input)
    plausible_energy(working, greatest)
    positive("heat_input", least, "kJ/mm")
    working.step("lowest_speed", power / greatest, "mm/min")
    fastest = working.step("highest_speed", power / least, "mm/min")
    return working.result(fastest, "mm/min", ENERGY, FORMULA_SPEED, rounding=AT_MOST)


_K = (process(needed="no k"), optional_input("k", "Thermal efficiency k", needed="no process"))
_WAVEFORM = yes_no("waveform_controlled", "Waveform-controlled", "pulsed, synergic or programmed current")


def _range(name: str, label: str, unit: str) -> Input:
    return Input(name, label, unit, Kind.RANGE, "always", '{"min": .., "max": ..}, or one figure')


CALCULATIONS = (
    Calculation(
        "heat_input_window",
        "Heat input of ranges",
        "heat",
        "kJ/mm",
        heat_input_window,
        (
            _range("voltage", "Arc voltage", "V"),
            _range("current", "Welding current", "A"),
            _range("travel_speed", "Travel speed", "mm/min"),
            *_K,
            choice("measure", "Measure", MEASURES),
            _WAVEFORM,
        ),
    ),
    Calculation(
        "travel_speed_window",
        "Travel speed for a wanted heat input",
        "heat",
        "mm/min",
        travel_speed_window,
        (
            asked("voltage", "Arc voltage", "V"),
            asked("current", "Welding current", "A"),
            _range("heat_input", "Heat input with k", "kJ/mm"),
            *_K,
            _WAVEFORM,
        ),
    ),
)
