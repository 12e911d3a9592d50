"""Arc energy and heat input of a run. Units: V, A, mm/min, s, mm, J, W, kJ/mm.

EN and ISO documents mean k x arc energy by heat input, AWS and ASME mean arc energy; the two are never compared.
"""

from decimal import Decimal

from codes.calc.calculation import Calculation, Kind, asked, choice, optional, process, yes_no
from codes.calc.exact import exact
from codes.calc.result import Refused, Result, Working, one_of, positive
from codes.clauses import Clause, Mark
from codes.values import number

ENERGY = Clause("ISO/TR 18491:2015", "arc energy; EN ISO 15614-1:2017, 8.4.7", Mark.CONFIRMED, "maker's handbook 2020")
WAVEFORM = Clause(
    "ISO/TR 18491:2015", "instantaneous energy or power; ASME IX QW-409.1 (c)", Mark.CONFIRMED, "trade journal, 2010"
)
EFFICIENCY = Clause(
    "EN 1011-1:2009", "Table 1, thermal efficiency k; ISO/TR 17671-1", Mark.CONFIRMED, "two public handbooks"
)
RUN_OUT = Clause("EN 1011-2:2001", "C.2, heat input from run-out length", Mark.MEMORY)

FORMULA = "E = U·I·60 / (1000·v)"
FORMULA_RUN = "E = U·I·t / (1000·L)"

# Processes (ISO 4063) that are not named have no factor here.
K_FACTORS = (
    (("12", "121", "122", "124", "125", "126"), Decimal("1.0")),
    (("111", "114", "131", "132", "133", "135", "136", "137", "138"), Decimal("0.8")),
    (("141", "142", "143", "145", "146", "15"), Decimal("0.6")),
)
K_LIMITS = (Decimal("0.3"), Decimal("1.0"))
USUAL_VOLTAGE = (Decimal(8), Decimal(50))
USUAL_SPEED = (Decimal(10), Decimal(3000))
USUAL_CURRENT = (Decimal(5), Decimal(2000))
USUAL_ENERGY = (Decimal("0.05"), Decimal(20))
"""Plausible figures, our own choice: outside them a unit or a digit is likely wrong."""
RUN_OUT_FACTORS = {
    "up to 95": Decimal("0.0368"),
    "95 to 110": Decimal("0.0408"),
    "110 to 130": Decimal("0.0472"),
    "above 130": Decimal("0.0608"),
}
"""Electrode efficiency [%] -> F [kJ/mm³]."""


def efficiency(process: str) -> Decimal | None:
    """The factor k of a process, None where none is on file. Example: efficiency("121") is 1.0."""
    return next((k for processes, k in K_FACTORS if process in processes), None)


def k_of(working: Working, process: str | None, k: Decimal | None) -> Decimal:
    """The thermal efficiency used: as stated, else of the process. Raises Refused without either, or outside 0.3..1.0.

    A stated k that is not the process's own is used and flagged.
    """
    if k is None and process is None:
        raise Refused("process", "state the process or k; heat input is k times the arc energy")
    own = efficiency(process) if process else None
    if k is None:
        if own is None:
            raise Refused("process", f"no thermal efficiency is on file for process {process}; state k")
        k = own
    elif own is not None and k != own:
        working.flag(f"k {number(k)} as stated; {EFFICIENCY} gives {number(own)} for process {process}")
    if not K_LIMITS[0] <= k <= K_LIMITS[1]:
        raise Refused("k", f"{number(k)} is outside 0.3 to 1.0")
    return working.step("k", k)


@exact
def arc_energy(
    voltage: Decimal | None = None,
    current: Decimal | None = None,
    travel_speed: Decimal | None = None,
    arc_time: Decimal | None = None,
    run_length: Decimal | None = None,
    arcs: tuple[tuple[Decimal, Decimal], ...] = (),
    waveform_controlled: bool | None = None,
) -> Result:
    """E without k: from travel speed, or from arc time over run length (manual runs, weaving).

    `arcs`: (voltage, current) of each wire on one pool. Raises Refused for waveform-controlled welding and figures of
    0 or less. Example: 20 V, 300 A, 150 mm/min give 2.4 kJ/mm.
    """
    working = Working()
    _not_waveform(working, waveform_controlled)
    power = _power(working, voltage, current, arcs)
    speed = _speed(working, travel_speed, arc_time, run_length)
    formula = FORMULA if travel_speed is not None else FORMULA_RUN
    value = plausible_energy(working, power * 60 / (1000 * speed))
    return working.result(value, "kJ/mm", ENERGY, formula)


def _not_waveform(working: Working, waveform_controlled: bool | None) -> None:
    if waveform_controlled:
        raise Refused(
            "waveform_controlled",
            "U x I / v holds only without waveform control; state instantaneous energy or power instead",
        )
    working.flag("taken as not waveform-controlled (not stated)", when=waveform_controlled is None)


def _power(
    working: Working, voltage: Decimal | None, current: Decimal | None, arcs: tuple[tuple[Decimal, Decimal], ...]
) -> Decimal:
    if arcs and (voltage is not None or current is not None):
        raise Refused("arcs", "state voltage and current, or the arcs of a multi-wire process, not both")
    if not arcs:
        if voltage is None or current is None:
            raise Refused("voltage" if voltage is None else "current", "must be stated, or arcs for several wires")
        arcs = ((voltage, current),)
    else:
        working.flag("arc energies of all arcs on one pool are added: from memory (EN 1011-1, ISO/TR 18491)")
    for volts, amperes in arcs:
        plausible(working, positive("voltage", volts, "V"), positive("current", amperes, "A"))
    return working.step("power", sum((volts * amperes for volts, amperes in arcs), Decimal(0)), "W")


def _speed(
    working: Working, travel_speed: Decimal | None, arc_time: Decimal | None, run_length: Decimal | None
) -> Decimal:
    """The travel speed in mm/min."""
    if travel_speed is None and arc_time is None and run_length is None:
        raise Refused("travel_speed", "state travel_speed, or arc_time and run_length")
    if travel_speed is not None:
        if arc_time is not None or run_length is not None:
            raise Refused("travel_speed", "state travel_speed or arc_time and run_length, not both")
        speed = positive("travel_speed", travel_speed, "mm/min")
    else:
        if arc_time is None or run_length is None:
            raise Refused("arc_time" if arc_time is None else "run_length", "must be stated with the other of the two")
        speed = positive("run_length", run_length, "mm") * 60 / positive("arc_time", arc_time, "s")
    working.flag(
        f"{number(round(speed, 3))} mm/min is outside the usual 10 to 3000 mm/min", not _usual(speed, USUAL_SPEED)
    )
    return working.step("travel_speed", speed, "mm/min")


def plausible(working: Working, volts: Decimal, amperes: Decimal) -> None:
    """Flags a voltage or a current that no arc has."""
    working.flag(f"{number(volts)} V is outside the usual 8 to 50 V", not _usual(volts, USUAL_VOLTAGE))
    working.flag(f"{number(amperes)} A is outside the usual 5 to 2000 A", not _usual(amperes, USUAL_CURRENT))


def plausible_energy(working: Working, value: Decimal) -> Decimal:
    """The energy; flagged where no run of an arc has it. Example: 12000 kJ/mm is one of a wrong unit."""
    shown = number(round(value, 3))
    working.flag(
        f"{shown} kJ/mm is outside the usual 0.05 to 20 kJ/mm: look at the figures and their units",
        not _usual(value, USUAL_ENERGY),
    )
    return value


def _usual(value: Decimal, limits: tuple[Decimal, Decimal]) -> bool:
    return limits[0] <= value <= limits[1]


@exact
def arc_energy_waveform(
    instantaneous_energy: Decimal | None = None,
    instantaneous_power: Decimal | None = None,
    run_length: Decimal | None = None,
    travel_speed: Decimal | None = None,
    arc_time: Decimal | None = None,
) -> Result:
    """E of waveform-controlled welding: summed energy [J] over the run length, or mean power [W] over the speed.

    Example: 84 kJ over 60 mm give 1.4 kJ/mm.
    """
    working = Working()
    one_of("instantaneous_energy", instantaneous_energy, ("instantaneous_power", instantaneous_power))
    if instantaneous_energy is not None:
        if run_length is None:
            raise Refused("run_length", "must be stated with the instantaneous energy")
        energy = positive("instantaneous_energy", instantaneous_energy, "J")
        value = plausible_energy(working, energy / positive("run_length", run_length, "mm") / 1000)
        return working.result(value, "kJ/mm", WAVEFORM, "E = IE / (1000·L)")
    power = positive("instantaneous_power", instantaneous_power or Decimal(0), "W")
    speed = _speed(working, travel_speed, arc_time, run_length)
    value = plausible_energy(working, power * 60 / (1000 * speed))
    return working.result(value, "kJ/mm", WAVEFORM, "E = IP·60 / (1000·v)")


@exact
def heat_input(
    voltage: Decimal | None = None,
    current: Decimal | None = None,
    travel_speed: Decimal | None = None,
    arc_time: Decimal | None = None,
    run_length: Decimal | None = None,
    arcs: tuple[tuple[Decimal, Decimal], ...] = (),
    waveform_controlled: bool | None = None,
    process: str | None = None,
    k: Decimal | None = None,
) -> Result:
    """Q = k E. Example: 24 V, 180 A, 300 mm/min, k 0.8 give 0.6912 kJ/mm."""
    found = arc_energy(voltage, current, travel_speed, arc_time, run_length, arcs, waveform_controlled)
    return _with_k(found, process, k)


@exact
def heat_input_waveform(
    instantaneous_energy: Decimal | None = None,
    instantaneous_power: Decimal | None = None,
    run_length: Decimal | None = None,
    travel_speed: Decimal | None = None,
    arc_time: Decimal | None = None,
    process: str | None = None,
    k: Decimal | None = None,
) -> Result:
    """Q = k E of waveform-controlled welding. Example: 84 kJ over 60 mm, k 0.8 give 1.12 kJ/mm."""
    found = arc_energy_waveform(instantaneous_energy, instantaneous_power, run_length, travel_speed, arc_time)
    return _with_k(found, process, k)


@exact
def heat_input_from_arc_energy(arc_energy: Decimal, process: str | None = None, k: Decimal | None = None) -> Result:
    """Q = k E of a stated arc energy [kJ/mm]. Example: 40 kJ/in and k 0.8 give 1.2598... kJ/mm."""
    working = Working()
    plausible_energy(working, positive("arc_energy", arc_energy, "kJ/mm"))
    return _with_k(working.result(arc_energy, "kJ/mm", ENERGY, ""), process, k)


def _with_k(energy: Result, process: str | None, k: Decimal | None) -> Result:
    working = Working()
    value = working.step("arc_energy", working.take(energy), "kJ/mm")
    factor = k_of(working, process, k)
    return working.result(factor * value, "kJ/mm", EFFICIENCY, f"{energy.formula}; Q = k·E".removeprefix("; "))


@exact
def heat_input_run_out(
    core_diameter: Decimal, consumed_length: Decimal, run_out_length: Decimal, electrode_efficiency: str
) -> Result:
    """Q of a covered electrode from its run-out length: Q = d²·L·F / ROL.

    Lengths in mm; the consumed length is the electrode's less the stub (40 mm is usual). Source: from memory.
    """
    working = Working()
    factor = working.step("F", RUN_OUT_FACTORS[electrode_efficiency], "kJ/mm³")
    core = positive("core_diameter", core_diameter, "mm")
    consumed = positive("consumed_length", consumed_length, "mm")
    run = positive("run_out_length", run_out_length, "mm")
    value = plausible_energy(working, core**2 * consumed * factor / run)
    return working.result(value, "kJ/mm", RUN_OUT, "Q = d²·L·F / ROL")


_SPEED = (
    optional(
        "travel_speed", "Travel speed", "mm/min", "forward speed of the pool", needed="no arc time and run length"
    ),
    optional("arc_time", "Arc time of the run", "s", needed="no travel speed"),
    optional("run_length", "Length of the run", "mm", needed="no travel speed"),
)
_ARC = (
    optional("voltage", "Arc voltage", "V", "measured as near the arc as possible", needed="one arc"),
    optional("current", "Welding current", "A", needed="one arc"),
    *_SPEED,
    optional("arcs", "Arcs on one pool", help="[[voltage, current], ...]", kind=Kind.PAIRS, needed="several wires"),
    yes_no("waveform_controlled", "Waveform-controlled", "pulsed, synergic or programmed current"),
)
_WAVEFORM = (
    optional("instantaneous_energy", "Instantaneous energy, summed", "J", needed="no instantaneous power"),
    optional("instantaneous_power", "Instantaneous power, mean", "W", needed="no instantaneous energy"),
    *_SPEED,
)
_K = (process(needed="no k"), optional("k", "Thermal efficiency k", needed="no process"))

CALCULATIONS = (
    Calculation("arc_energy", "Arc energy", "heat", "kJ/mm", arc_energy, _ARC),
    Calculation("heat_input", "Heat input", "heat", "kJ/mm", heat_input, (*_ARC, *_K)),
    Calculation(
        "arc_energy_waveform", "Arc energy, waveform-controlled", "heat", "kJ/mm", arc_energy_waveform, _WAVEFORM
    ),
    Calculation(
        "heat_input_waveform",
        "Heat input, waveform-controlled",
        "heat",
        "kJ/mm",
        heat_input_waveform,
        (*_WAVEFORM, *_K),
    ),
    Calculation(
        "heat_input_from_arc_energy",
        "Heat input from a stated arc energy",
        "heat",
        "kJ/mm",
        heat_input_from_arc_energy,
        (asked("arc_energy", "Arc energy", "kJ/mm"), *_K),
    ),
    Calculation(
        "heat_input_run_out",
        "Heat input of a covered electrode from its run-out length",
        "heat",
        "kJ/mm",
        heat_input_run_out,
        (
            asked("core_diameter", "Diameter of the core wire", "mm"),
            asked(
                "consumed_length",
                "Length consumed",
                "mm",
                "length of the electrode less the stub, usually 40 mm (1.5 in)",
            ),
            asked("run_out_length", "Length of the run", "mm"),
            choice(
                "electrode_efficiency",
                "Electrode efficiency",
                {word: f"{word} %" for word in RUN_OUT_FACTORS},
                "always",
            ),
        ),
    ),
)
