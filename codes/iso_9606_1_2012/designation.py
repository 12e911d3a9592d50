"""ISO 9606-1:2012, clause 11: the designation line of a welder's test, read and written.

    ISO 9606-1 <process> <P|T> <BW|FW> <FMx> <filler type> <s or t> [<D>] <position> <details>

What a line leaves out is left out of the result, with a warning; a contradiction, or a token that no rule knows, is
refused with a message that names it. Sizes in mm.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from codes.iso_9606_1_2012.designation_tokens import (
    BUTT_ONLY_POSITIONS,
    DETAILS,
    FILLER_TYPES,
    FILLET_ONLY_POSITIONS,
    LEGACY_DETAILS,
    MODES,
    PIPE_POSITIONS,
    PLATE_POSITIONS,
    POSITIONS,
    PROCESSES,
    DesignationError,
    OtherEdition,
)
from codes.iso_9606_1_2012.designation_writer import write
from codes.iso_9606_1_2012.editions_named import named_standard
from codes.values import Atom, Steel, SteelPair, Value

__all__ = ["Designation", "DesignationError", "OtherEdition", "parse", "write"]

_SIZE = re.compile(r"^(?P<letter>[sta])(?P<total>\d+(?:[.,]\d+)?)(?:\((?P<each>[\d.,/]+)\))?$", re.IGNORECASE)
_DIAMETER = re.compile(r"^[DØ](?P<size>\d+(?:[.,]\d+)?)$", re.IGNORECASE)
_PROCESS = re.compile(r"^(?P<number>\d{2,3})(?:\[?-(?P<mode>[DGSP])\]?)?$", re.IGNORECASE)
_OLD_GROUP = re.compile(r"^(?:W\d{2}|\d{1,2}(?:\.\d)?)$", re.IGNORECASE)
_LETTER_O = re.compile(r"^([HJ])-?LO45$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Designation:
    """What a line states, as the variables of a test piece, and what a person should look at."""

    tested: Mapping[str, Value]
    warnings: tuple[str, ...] = ()


@dataclass(slots=True)
class _Reading:
    tested: dict[str, Value] = field(default_factory=dict)
    warnings: list[str] = field(default_factory=list)
    positions: list[str] = field(default_factory=list)

    @property
    def butt(self) -> bool:
        return self.tested["weld_type"] == "butt_cjp"

    @property
    def pipe(self) -> bool:
        return self.tested["product"] == "pipe"

    @property
    def processes(self) -> int:
        value = self.tested["process"]
        return len(value) if isinstance(value, tuple) else 1


def parse(line: str) -> Designation:
    """The test piece that a designation line describes.

    Raises OtherEdition for a line of another standard or edition, DesignationError for a malformed one.
    Example: parse("EN ISO 9606-1 135 P FW FM1 S t10 PB ml").tested["position"] is "PB".
    """
    named = named_standard(line)
    if named is None:
        raise DesignationError(line.strip()[:20], 'the line must open with the standard, for example "ISO 9606-1"')
    if not named.held:
        raise OtherEdition(named.title, named.refusal)
    tokens = [t for t in re.split(r"[\s,;]+(?!\d)|\s+", named.rest.strip()) if t]
    reading = _Reading()
    for name, read in zip(HEAD, (_process, _product, _weld, _group, _type), strict=True):
        if not tokens:
            raise DesignationError(name, f"the line ends before the {name}")
        read(reading, tokens.pop(0), tokens)
    _rest(reading, tokens)
    _close(reading)
    return Designation(reading.tested, tuple(reading.warnings))


HEAD = ("process", "product (P or T)", "weld type (BW or FW)", "filler group (FM1 to FM6)", "filler type")


def _process(reading: _Reading, token: str, rest: list[str]) -> None:
    numbers, modes = [], []
    for part in token.split("/"):
        found = _PROCESS.match(part)
        if found is None or found["number"] not in PROCESSES:
            raise DesignationError(token, "is no process number of ISO 4063 that a welder is tested in")
        numbers.append(found["number"])
        modes.append(MODES.get((found["mode"] or "").upper(), ""))
    reading.tested["process"] = _value(numbers)
    stated = [mode for mode in modes if mode]
    if stated:
        # A mode belongs to its own process: written where every process of the line has one.
        if len(stated) == len(numbers):
            reading.tested["transfer_mode"] = _value(stated)
        else:
            reading.warnings.append(f"{token}: transfer mode not taken over; state it for each process")


def _product(reading: _Reading, token: str, rest: list[str]) -> None:
    products = {"P": "plate", "T": "pipe"}
    if token.upper() not in products:
        raise DesignationError(token, "must be P (plate) or T (pipe)")
    reading.tested["product"] = products[token.upper()]


def _weld(reading: _Reading, token: str, rest: list[str]) -> None:
    welds = {"BW": "butt_cjp", "FW": "fillet"}
    if token.upper() not in welds:
        raise DesignationError(token, "must be BW (butt weld) or FW (fillet weld)")
    reading.tested["weld_type"] = welds[token.upper()]


def _group(reading: _Reading, token: str, rest: list[str]) -> None:
    without_filler = bool(rest) and rest[0] == "nm"
    if without_filler and re.fullmatch(r"\d{1,2}(?:\.\d)?", token):
        steel = Steel(group=token)
        reading.tested["steels"] = SteelPair(steel, steel)
        return
    if _OLD_GROUP.match(token):
        raise OtherEdition(
            "EN 287-1", f'"{token}" is a parent group as EN 287-1 writes it; ISO 9606-1:2012 has FM1 to FM6'
        )
    groups = token.upper().split("/")
    if any(not re.fullmatch(r"FM[1-6]", group) for group in groups):
        raise DesignationError(token, "must be a filler group, FM1 to FM6")
    reading.tested["filler_group"] = _value(_each(reading, token, groups))


def _type(reading: _Reading, token: str, rest: list[str]) -> None:
    if token.casefold() == "wm":
        raise OtherEdition("EN 287-1:1992", '"wm" (with filler) is how EN 287-1:1992 writes it')
    types = [part if part == "nm" else part.upper() for part in token.split("/")]
    if any(kind not in FILLER_TYPES for kind in types):
        known = ", ".join(FILLER_TYPES)
        raise DesignationError(token, f"must be a filler type: {known} (numbered coverings: 15, 16, 18 are B)")
    reading.tested["filler_type"] = _value(_each(reading, token, types))


def _each(reading: _Reading, token: str, values: list[str]) -> list[str]:
    """One value for all processes, or one for each."""
    if len(values) not in (1, reading.processes):
        raise DesignationError(token, f"states {len(values)} values for {reading.processes} process(es)")
    return values


def _rest(reading: _Reading, tokens: list[str]) -> None:
    while tokens:
        token = tokens.pop(0)
        if _SIZE.match(token):
            _size(reading, token)
        elif _DIAMETER.match(token):
            _diameter(reading, token)
        elif _is_position(token):
            _position(reading, token)
        else:
            _detail(reading, token, tokens)


def _size(reading: _Reading, token: str) -> None:
    found = _SIZE.match(token)
    if found is None:
        return
    letter = found["letter"].casefold()
    if letter == "a":
        raise OtherEdition("EN 287-1:1992", f'"{token}" is a throat; ISO 9606-1:2012 states t for a fillet weld')
    if letter == "s" and not reading.butt:
        raise DesignationError(token, "a fillet weld states the plate thickness t, not s")
    if letter == "t" and reading.butt:
        reading.warnings.append(f"{token}: a butt weld states the deposited thickness s; read as s")
    name = "deposit_t" if reading.butt else "parent_t"
    if name in reading.tested:
        raise DesignationError(token, "is a second thickness")
    total = _number(token, found["total"])
    if found["each"]:
        reading.tested[name] = _shares(reading, token, total, found["each"])
    elif reading.processes > 1 and reading.butt:
        reading.tested[name] = total
        reading.warnings.append(f"{token}: the share of each process is not stated; write for example s12(4/8)")
    else:
        reading.tested[name] = total


def _shares(reading: _Reading, token: str, total: Decimal, text: str) -> Value:
    shares = [_number(token, part) for part in text.split("/")]
    if len(shares) != reading.processes or not reading.butt:
        raise DesignationError(token, "the thickness in brackets is one figure for each process of a butt weld")
    if sum(shares, Decimal(0)) != total:
        raise DesignationError(token, f"{' + '.join(map(str, shares))} is not {total}")
    return _value(shares)


def _diameter(reading: _Reading, token: str) -> None:
    found = _DIAMETER.match(token)
    if not reading.pipe:
        raise DesignationError(token, "plate (P) has no diameter; a pipe test is written T")
    if found is None or "diameter" in reading.tested:
        raise DesignationError(token, "is a second diameter")
    reading.tested["diameter"] = _number(token, found["size"])


def _number(token: str, text: str) -> Decimal:
    size = Decimal(text.replace(",", ".")) if re.fullmatch(r"\d+([.,]\d+)?", text) else Decimal(0)
    if size <= 0:
        raise DesignationError(token, "its size must be more than nought")
    return size


def _is_position(token: str) -> bool:
    return all(_plain_position(part) in POSITIONS for part in token.split("/"))


def _plain_position(text: str) -> str:
    slip = _LETTER_O.match(text)
    upper = f"{slip[1].upper()}-L045" if slip else text.upper()
    return {"HL045": "H-L045", "JL045": "J-L045"}.get(upper, upper)


def _position(reading: _Reading, token: str) -> None:
    for part in token.split("/"):
        position = _plain_position(part)
        if _LETTER_O.match(part):
            reading.warnings.append(f"{part}: the letter O stands for the digit nought; read as {position}")
        if reading.butt and position in FILLET_ONLY_POSITIONS:
            raise DesignationError(token, f"{position} is a fillet-weld position; a butt weld cannot be tested in it")
        if not reading.pipe and position in PIPE_POSITIONS:
            raise DesignationError(token, f"{position} is a pipe position; the line says plate (P)")
        if not reading.butt and position in BUTT_ONLY_POSITIONS:
            reading.warnings.append(f"{position}: Table 10 has no such row, so no fillet positions follow from it")
        if reading.pipe and position in PLATE_POSITIONS:
            reading.warnings.append(f"{position}: is a plate position; a fixed pipe is written PH or PJ")
        if position in reading.positions:
            raise DesignationError(token, "is stated twice")
        reading.positions.append(position)


def _detail(reading: _Reading, token: str, rest: list[str]) -> None:
    if token.casefold() == "ss" and rest:
        token = f"{token} {rest.pop(0)}"
    word = token.casefold()
    if word in LEGACY_DETAILS:
        # Gouging is no variable here; a weld from both sides is one detail.
        reading.warnings.append(f"{token}: is how EN 287-1 marks gouging; read as bs")
        reading.tested.setdefault("weld_detail", "bs")
        return
    if word not in DETAILS:
        raise DesignationError(token, f"is neither a position nor a detail; details are {', '.join(DETAILS)}")
    name, value = DETAILS[word]
    _note_detail(reading, word, name)
    if name in _details_of(reading):
        if reading.tested.get(name, value) != value:
            raise DesignationError(word, "contradicts the detail before it")
        reading.tested[name] = value


def _details_of(reading: _Reading) -> tuple[str, ...]:
    direction = ("torch_direction",) if reading.tested["process"] == "311" else ()
    return ("weld_detail" if reading.butt else "run_type", *direction)


def _note_detail(reading: _Reading, word: str, name: str) -> None:
    if name not in _details_of(reading):
        of = {"run_type": "fillet welds", "weld_detail": "butt welds", "torch_direction": "process 311"}[name]
        reading.warnings.append(f"{word}: is a detail of {of} and has no meaning here; not taken over")


_DETAIL_WORDS = {
    "weld_detail": "sides and backing (ss nb, ss mb, bs ...)",
    "run_type": "layers (sl or ml)",
    "torch_direction": "direction of welding (lw or rw)",
}


def _close(reading: _Reading) -> None:
    if reading.positions:
        reading.tested["position"] = _value(reading.positions)
    wanted = {
        "deposit_t" if reading.butt else "parent_t": "thickness (s for a butt weld, t for a fillet weld)",
        "position": "position",
        **{name: _DETAIL_WORDS[name] for name in _details_of(reading)},
    }
    if reading.pipe:
        wanted["diameter"] = "diameter D"
    for name, words in wanted.items():
        if name not in reading.tested:
            reading.warnings.append(f"the line states no {words}; until it is entered nothing is covered")


def _value(values: Sequence[Atom]) -> Value:
    return values[0] if len(values) == 1 else tuple(values)
