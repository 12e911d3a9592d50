"""Positions, processes and gas mixtures as US fabricators write them.

ASME IX procedures are kept in ISO terms; what is stated in ISO terms already, and what cannot be told, stays as it is.
"""

import re
from collections.abc import Collection, Mapping
from decimal import Decimal

from codes.aws_d1_1.gases import Mixture, mixture
from codes.aws_positions import to_iso
from codes.parse import BadField, Plain
from codes.terms import UnknownTerm, parse_term
from codes.values import number
from codes.variables import VARIABLES, Kind

SHARES = {"CO2": "gas_co2", "O2": "gas_o2", "HE": "gas_he", "H2": "gas_h2", "N2": "gas_n2"}
LEAST = Decimal("0.5")
# Symbols of ISO 14175 for argon with CO2 or oxygen alone, from 0.5 % up: the share up to which each goes.
ACTIVE = {
    "CO2": ((Decimal(5), "M12"), (Decimal(15), "M20"), (Decimal(25), "M21"), (Decimal(50), "M31")),
    "O2": ((Decimal(3), "M13"), (Decimal(10), "M22"), (Decimal(15), "M32")),
}
ALONE = {"AR": "I1", "HE": "I2", "CO2": "C1", "N2": "N1", "O2": "O1"}


US_CODES = ("AWS", "ASME")
_US_UNIT = re.compile(r"\d\s*(in\.?|inch(es)?|\"|(°|deg ?)?F|ipm|in\.?/min|kJ/in\.?|cfh|ft[³3]/h|ksi)$", re.IGNORECASE)
WITH_MODE = {"gmaws": "dip", "gmawp": "pulsed"}
"""Letters for GMAW of one transfer mode."""


def spelled_out(plain: Mapping[str, Plain]) -> dict[str, Plain]:
    """The plain values with several positions in one word, and a process with its transfer mode, taken apart.

    A set of figures that is not stated is the US one where a figure is written in US units.
    Example: aws_position "3G + 4G" is 3G and 4G; process "GMAW-S" is GMAW with transfer mode dip.
    """
    found = dict(plain)
    if found.get("unit_system") in (None, "") and any(_in_us(name, one) for name, one in found.items()):
        found["unit_system"] = "us"
    positions, process = found.get("aws_position"), found.get("process")
    if isinstance(positions, str) and re.search(r"[+,&/]", positions):
        found["aws_position"] = [part.strip() for part in re.split(r"[+,&/]", positions) if part.strip()]
    mode = WITH_MODE.get(re.sub(r"[\s-]", "", str(process)).casefold())
    if mode and found.get("transfer_mode") in (None, "", mode):
        found |= {"process": "GMAW", "transfer_mode": mode}
    return found


def _in_us(name: str, plain: Plain) -> bool:
    """True for a figure of a known number with a US unit behind it."""
    if name not in VARIABLES or VARIABLES[name].kind is not Kind.NUMBER:
        return False
    if isinstance(plain, Mapping):
        return bool(_US_UNIT.search(f"1 {plain.get('unit', '')}")) or any(
            isinstance(one, str) and _US_UNIT.search(one) for one in plain.values()
        )
    if isinstance(plain, list):
        return any(_in_us(name, one) for one in plain)
    return isinstance(plain, str) and bool(_US_UNIT.search(plain))


def in_iso_words(plain: Mapping[str, Plain], known: Collection[str]) -> dict[str, Plain]:
    """The plain values with `position` and `gas` in place of AWS ones that are not known here. Raises BadField.

    Example: aws_position 3G with progression uphill is position PF; gas_mixture 80Ar/20CO2 is gas M21, CO2 20 %.
    """
    found = dict(plain)
    if "position" in known and "aws_position" in found and "aws_position" not in known:
        _position(found)
    if "gas" in known and "gas_mixture" in found and "gas_mixture" not in known:
        _gas(found)
    return found


def _position(found: dict[str, Plain]) -> None:
    stated = found.pop("aws_position")
    if found.get("position") not in (None, "", []) or stated in (None, "", []):
        return
    names = stated if isinstance(stated, list) else [stated]
    up = [_token("progression", one) for one in _each(found.get("progression"))]
    said = [to_iso(_token("aws_position", name), up[0] if len(up) == 1 else "") for name in names]
    if all(said):
        found["position"] = said if len(said) > 1 else said[0]


def _each(plain: Plain) -> list[Plain]:
    if plain in (None, "", []):
        return []
    return list(plain) if isinstance(plain, list) else [plain]


def _token(name: str, word: Plain) -> str:
    try:
        return parse_term(name, str(word))
    except UnknownTerm as error:
        raise BadField(name, str(error)) from None


def _gas(found: dict[str, Plain]) -> None:
    stated = found.pop("gas_mixture")
    if found.get("gas") not in (None, "") or stated in (None, ""):
        return
    read = mixture(str(stated))
    if read is None:
        raise BadField("gas_mixture", f'"{stated}" is not a mixture that can be read; write for example 90Ar/10CO2')
    found["gas"] = symbol_of(read)
    if len(read) > 1:
        found.update({SHARES[name]: number(share) for name, share in read if name in SHARES})


def symbol_of(read: Mixture) -> str:
    """The symbol of ISO 14175, "Z" for a mixture that is not one of the common ones. Example: 75Ar/25CO2 is M21."""
    shares = dict(read)
    if len(shares) < 2:
        return ALONE.get(next(iter(shares)), "Z") if shares else "none"
    if set(shares) == {"AR", "HE"}:
        return "I3"
    other = next((name for name in ACTIVE if set(shares) == {"AR", name}), None)
    if other is None or shares[other] < LEAST:
        return "Z"
    return next((symbol for most, symbol in ACTIVE[other] if shares[other] <= most), "Z")
