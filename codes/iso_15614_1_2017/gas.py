"""ISO 15614-1:2017, 8.5.2, 8.5.3 and 8.5.6: shielding and backing gas by nominal composition. Content in % by volume.

The symbol alone is not enough for mixtures: the components whose share a symbol leaves open are judged one by one,
and a component that the symbol does not hold must stay at 0.1 % or below.
"""

from decimal import Decimal

from codes.clauses import Clause, Mark
from codes.iso_15614_1_2017.piece import Piece, unrecorded
from codes.iso_15614_1_2017.sources import TEXT, clause
from codes.iso_15614_1_2017.switches import CO2_CONTENT, lenient
from codes.limits import Limit, OneOf, When, span, when_is
from codes.values import number

METAL_ARC = clause("8.5.2.1", Mark.PART, TEXT)
METAL_ARC_CO2 = clause("8.5.2.1", Mark.DOUBT, TEXT)
TUNGSTEN = clause("8.5.3.1", Mark.PART, TEXT)
PLASMA = clause("8.5.4", Mark.MEMORY)
BACKING = clause("8.5.6", Mark.MEMORY)

COMPONENTS = ("gas_co2", "gas_o2", "gas_he", "gas_h2", "gas_n2")
TRACE = Decimal("0.1")
HELIUM_BAND = Decimal("0.1")
CO2_STRICT, CO2_LENIENT = Decimal("0.1"), Decimal("0.2")

# ISO 14175:2008 symbol -> components whose share varies within the symbol (from memory)
VARYING: dict[str, tuple[str, ...]] = {
    "I1": (),
    "I2": (),
    "I3": ("gas_he",),
    "M11": ("gas_co2", "gas_h2"),
    "M12": ("gas_co2",),
    "M13": ("gas_o2",),
    "M14": ("gas_co2", "gas_o2"),
    "M20": ("gas_co2",),
    "M21": ("gas_co2",),
    "M22": ("gas_o2",),
    "M23": ("gas_co2", "gas_o2"),
    "M24": ("gas_co2", "gas_o2"),
    "M25": ("gas_co2", "gas_o2"),
    "M26": ("gas_co2", "gas_o2"),
    "M27": ("gas_co2", "gas_o2"),
    "M31": ("gas_co2",),
    "M32": ("gas_o2",),
    "M33": ("gas_co2", "gas_o2"),
    "M34": ("gas_co2", "gas_o2"),
    "M35": ("gas_co2", "gas_o2"),
    "C1": (),
    "C2": ("gas_o2",),
    "R1": ("gas_h2",),
    "R2": ("gas_h2",),
    "N1": (),
    "N2": ("gas_n2",),
    "N3": ("gas_n2",),
    "N4": ("gas_n2", "gas_h2"),
    "N5": ("gas_h2",),
    "O1": (),
    "Z": COMPONENTS,
    "none": (),
}

# symbol -> components that fill the rest, so that stating them is not a change
BALANCE: dict[str, tuple[str, ...]] = {
    "I2": ("gas_he",),
    "C1": ("gas_co2",),
    "C2": ("gas_co2",),
    "N1": ("gas_n2",),
    "N5": ("gas_n2",),
    "O1": ("gas_o2",),
}

METAL_ARC_PROCESSES = ("131", "132", "133", "135", "136", "137", "138")
TUNGSTEN_PROCESSES = ("141", "142", "143", "145")
PLASMA_PROCESSES = ("15",)
SHIELDED = (*METAL_ARC_PROCESSES, *TUNGSTEN_PROCESSES, *PLASMA_PROCESSES)

INERT = ("I1", "I2", "I3")
OPEN_ROOT: tuple[When, ...] = (
    when_is("weld_type", "butt_cjp", "butt_pjp", "branch"),
    when_is("weld_detail", "ss_nb", "ss_gb"),
)


def limits(piece: Piece) -> tuple[Limit, ...]:
    """Shielding gas and backing gas of the gas-shielded processes."""
    if piece.process not in SHIELDED:
        return ()
    return (*_shielding(piece), *(() if piece.is_fillet else _backing(piece)))


def _clause(piece: Piece) -> Clause:
    if piece.process in METAL_ARC_PROCESSES:
        return METAL_ARC
    return TUNGSTEN if piece.process in TUNGSTEN_PROCESSES else PLASMA


def _shielding(piece: Piece) -> tuple[Limit, ...]:
    tested = piece.word("gas")
    if tested is None:
        return (unrecorded("gas", _clause(piece), reason="shielding_gas"),)
    because = f"tested {tested}: nominal composition as tested"
    symbol = Limit("gas", OneOf((tested,)), _clause(piece), because, (), (), "shielding_gas", tested=tested)
    judged = tuple(name for name in COMPONENTS if name not in BALANCE.get(tested, ()))
    return (symbol, *(_component(piece, tested, name) for name in judged))


def _component(piece: Piece, symbol: str, name: str) -> Limit:
    share = piece.most(name)
    varying = name in VARYING[symbol]
    if symbol == "Z" and share is None:
        stated = any(piece.numbers(other) for other in COMPONENTS)
        return _absent(piece, name) if stated else unrecorded(name, _clause(piece), reason="shielding_gas")
    if share is None or share <= TRACE:
        return unrecorded(name, _clause(piece), reason="shielding_gas") if varying else _absent(piece, name)
    band, readings = _band(piece, name)
    allowed = span(share * (1 - band), share * (1 + band), "%")
    off = f"{number(band * 100)} % of that either way" if band else "unchanged"
    where = METAL_ARC_CO2 if readings else _clause(piece)
    because = f"tested {number(share)} %: {off}"
    return Limit(name, allowed, where, because, (), readings, "shielding_gas", tested=f"{number(share)} %")


def _band(piece: Piece, name: str) -> tuple[Decimal, tuple[str, ...]]:
    """How far a component may move, relative to the tested content, and the reading that decided it."""
    if name == "gas_co2" and piece.process in METAL_ARC_PROCESSES:
        band = CO2_LENIENT if lenient(CO2_CONTENT, piece.settings) else CO2_STRICT
        return band, (CO2_CONTENT.used(piece.settings),)
    if name == "gas_he" and piece.process in TUNGSTEN_PROCESSES:
        return HELIUM_BAND, ()
    return Decimal(0), ()


def _absent(piece: Piece, name: str) -> Limit:
    """A component that was not in the tested gas. A demand that is silent on it follows its symbol."""
    because = "not in the tested gas: traces of 0.1 % at most"
    allowed = span(None, TRACE, "%")
    return Limit(name, allowed, _clause(piece), because, reason="shielding_gas", assumed=Decimal(0))


def _backing(piece: Piece) -> tuple[Limit, ...]:
    """Inert backing gas may be added; a tested backing gas is kept, within its main group."""
    tested = piece.word("backing_gas")
    if tested is None and piece.word("weld_detail") in ("ss_nb", "ss_gb", None):
        return (unrecorded("backing_gas", BACKING, when=OPEN_ROOT),)
    if tested is None or tested == "none":
        because = "tested without backing gas: an inert one may be added"
        return (Limit("backing_gas", OneOf(("none", *INERT)), BACKING, because, OPEN_ROOT, tested="none"),)
    group = tuple(symbol for symbol in VARYING if symbol[0] == tested[0])
    because = f"tested with {tested}: backing gas of the same main group"
    return (Limit("backing_gas", OneOf(group), BACKING, because, OPEN_ROOT, tested=tested),)
