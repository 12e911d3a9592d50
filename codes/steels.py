"""From a steel grade, as people write it, to its group (ISO/TR 15608) and specified minimum yield strength.

The yield is that of the grade's thinnest band, whatever the thickness, so that a test on thick plate still serves
thin plate of the same grade; by band is the stricter audit reading. Where sources disagree on a group, the strict
one is given: for a joint the group that asks for more, for a test piece (`tested`) the one that counts for less.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches
from functools import cache

from codes.clauses import Clause, Mark
from codes.readings import Switch
from codes.steel_grades import ROWS, Row
from codes.values import Atom, Interval, Steel, SteelPair, Value, atoms, bare

GROUPING = "ISO/TR 15608:2017"

YIELD_READING = Switch(
    key="yield_by_band",
    question="Which specified yield strength does the yield rule compare?",
    options={
        "by grade": "the thinnest band's figure on both sides, whatever the thickness",
        "by band": "the figure of the band that the thickness lies in (stricter audit reading)",
    },
    default="by grade",
    clause="ISO 15614-1:2017, 8.3.1",
)

DELIVERY_CONDITIONS = ("N", "AR", "M", "A", "C", "CR", "Q", "QT", "U", "Z15", "Z25", "Z35")
"""What may follow a "+"; none of them changes yield or group."""

_GROUP = re.compile(r"^(1[01]|[1-9])(\.[1-4])?$")
_EN = re.compile(r"^(?:din|bs|nf|sfs|ss|uni|pn|i\.?s\.?)?en(10025|10149|10210|10219)([1-7]?)")
_YEAR = re.compile(r"\s*:\s*(?:19|20)\d\d(?:-\d\d)?")
_THROUGH = re.compile(r"\s*\+?\s*(Z15|Z25|Z35)\s*$", re.IGNORECASE)


class UnknownGrade(ValueError):
    """A grade that is not held; the message names the nearest that are."""


@dataclass(frozen=True, slots=True)
class Band:
    """A range of thickness [mm] and its specified minimum yield strength [MPa]."""

    thickness: Interval
    yield_mpa: Decimal


@dataclass(frozen=True, slots=True)
class Grade:
    """One grade. `group` is what a joint asks for, `tested_group` what a test counts as; "" is not known."""

    name: str
    standard: str
    group: str
    bands: tuple[Band, ...]
    source: str
    yield_mark: Mark = Mark.MEMORY
    group_mark: Mark = Mark.MEMORY
    note: str = ""
    tested_group: str = ""
    tested_yield: Decimal | None = None

    @property
    def yield_mpa(self) -> Decimal:
        """The specified minimum yield strength of the thinnest band."""
        return self.bands[0].yield_mpa

    @property
    def mark(self) -> Mark:
        """The less certain of the two marks."""
        order = list(Mark)
        return max(self.yield_mark, self.group_mark, key=order.index)

    @property
    def group_clause(self) -> Clause:
        """Where the group comes from."""
        return Clause(GROUPING, "Table 1", self.group_mark, self.source)

    @property
    def yield_clause(self) -> Clause:
        """Where the yield strength comes from."""
        return Clause(self.standard, "specified minimum yield strength", self.yield_mark, self.source)

    def yield_at(self, thickness: Decimal) -> Decimal | None:
        """The yield of the band the thickness lies in, None where no band holds it. Example: S355J2 at 16.1 is 345."""
        return next((band.yield_mpa for band in self.bands if band.thickness.holds(thickness)), None)


def steel_of(
    grade: str,
    thickness: Decimal | None = None,
    by_band: bool = False,
    *,
    tested: bool = False,
    additions: Iterable[Grade] = (),
) -> Steel:
    """Group and specified minimum yield of a grade as written. Raises UnknownGrade, ValueError (thickness <= 0).

    By band, a thickness that is not stated or that no band holds leaves the yield not stated.
    Example: steel_of("s355 j2 + n", D(50)) is S355J2+N, group 1.2, 355 MPa; by band 335 MPa, and 63.1 mm 325 MPa.
    """
    if thickness is not None and thickness <= 0:
        raise ValueError(f"thickness must be more than 0 mm, not {thickness}")
    base, suffix = _split_suffix(grade)
    found = _found(grade, base, tuple(additions))
    chosen = _choose(found, thickness) if by_band and thickness is not None else found[0]
    group = chosen.tested_group if tested and chosen.tested_group else chosen.group
    return Steel(group, _yield(chosen, thickness, by_band, tested), chosen.name + suffix)


def grade_of(grade: str, additions: Iterable[Grade] = ()) -> Grade:
    """The entry of a grade as written, with standard, marks and note. Raises UnknownGrade."""
    base, _ = _split_suffix(grade)
    return _found(grade, base, tuple(additions))[0]


def grades(additions: Iterable[Grade] = ()) -> tuple[Grade, ...]:
    """Every grade held, in the order of the table, then the additions."""
    return (*_table(), *additions)


def addition(name: str, group: str, bands: str, source: str, standard: str = "", note: str = "") -> Grade:
    """A grade that a firm adds; bands as in `codes.steel_grades`, for example "16:355 40:345" or "-:700".

    Raises ValueError where name, source, group or bands are missing or cannot be read.
    """
    if not name.strip() or not source.strip():
        raise ValueError("a grade needs a name and a source, for example the certificate or data sheet")
    if group and not _GROUP.match(group):
        raise ValueError(f'"{group}" is not a group of {GROUPING}; write for example 1.2')
    return Grade(name.strip(), standard.strip(), group, _bands(bands), source.strip(), Mark.OWN, Mark.OWN, note)


def with_grades(values: Mapping[str, Value], tested: bool = False, additions: Iterable[Grade] = ()) -> dict[str, Value]:
    """The values with every steel that names only its grade filled in; an unknown grade stays as it was written.

    Example: steels "S355J2 to S235JR" become groups 1.2 and 1.1 with 355 and 235 MPa.
    """
    own = tuple(additions)
    return {name: _filled_value(value, tested, own) for name, value in values.items()}


def _filled_value(value: Value, tested: bool, additions: tuple[Grade, ...]) -> Value:
    filled = tuple(_filled_atom(atom, tested, additions) for atom in atoms(value))
    return filled if isinstance(value, tuple) else filled[0]


def _filled_atom(atom: Atom, tested: bool, additions: tuple[Grade, ...]) -> Atom:
    if not isinstance(atom, SteelPair):
        return atom
    return SteelPair(_filled(atom.first, tested, additions), _filled(atom.second, tested, additions))


def _filled(steel: Steel, tested: bool, additions: tuple[Grade, ...]) -> Steel:
    if steel.group or steel.yield_mpa is not None or not steel.grade:
        return steel
    try:
        return steel_of(steel.grade, tested=tested, additions=additions)
    except UnknownGrade:
        return steel


def _yield(grade: Grade, thickness: Decimal | None, by_band: bool, tested: bool) -> Decimal | None:
    strength = grade.yield_mpa
    if by_band:
        banded = None if thickness is None else grade.yield_at(thickness)
        if banded is None:
            return None
        strength = banded
    if tested and grade.tested_yield is not None:
        return min(strength, grade.tested_yield)
    return strength


def _choose(found: tuple[Grade, ...], thickness: Decimal) -> Grade:
    """Of several standards with the same grade, the first whose bands hold the thickness."""
    return next((grade for grade in found if grade.yield_at(thickness) is not None), found[0])


def _found(written: str, base: str, additions: tuple[Grade, ...]) -> tuple[Grade, ...]:
    own = tuple(grade for grade in additions if _key(base) in _keys(grade))
    if own:
        return own
    key = _key(base)
    standard = ""
    en = _EN.match(key)
    if en:
        standard = f"EN {en[1]}" + (f"-{en[2]}" if en[2] else "")
        key = key[en.end() :]
    held = tuple(grade for grade in _index().get(key, ()) if grade.standard.startswith(standard))
    if not held:
        raise UnknownGrade(_unknown(written, key, additions))
    return held


def _unknown(written: str, key: str, additions: tuple[Grade, ...]) -> str:
    names = {spelling: grade.name for grade in grades(additions) for spelling in _keys(grade)}
    close = get_close_matches(key, names, n=5, cutoff=0.5)
    # Of another family by its first letter is not meant: S999 is no A992. A figure may lack its letter: 355J2.
    near = dict.fromkeys(names[match] for match in close if match[0] == key[0] or key[0].isdecimal())
    remedy = f"nearest: {', '.join(near)}" if near else "state group and yield by hand, or add the grade with a source"
    return f'"{written.strip()}" is not a steel grade held here; {remedy}'


def _split_suffix(written: str) -> tuple[str, str]:
    """The grade without year and delivery condition, and the conditions as "+N+Z25". Raises UnknownGrade."""
    text = _YEAR.sub("", written.strip())
    through = _THROUGH.search(text)
    if through:
        text = text[: through.start()]
    base, *conditions = (part.strip() for part in text.split("+"))
    conditions = [condition.upper() for condition in conditions] + ([through[1].upper()] if through else [])
    for condition in conditions:
        if condition not in DELIVERY_CONDITIONS:
            known = ", +".join(DELIVERY_CONDITIONS)
            raise UnknownGrade(f'"{written}": "+{condition}" is not a delivery condition; known: +{known}')
    return base, "".join(f"+{condition}" for condition in conditions)


def name_key(name: str) -> str:
    """One for all spellings by which a grade is found. Example: "A572 Grade 50" and "a572-50" are "a57250"."""
    return _without_gr(_key(name))


def _without_gr(key: str) -> str:
    return re.sub(r"(?<=\d)gr(?=[a-z0-9])", "", key)


def _key(text: str) -> str:
    """What is left of a spelling without case, blanks, punctuation and the words that carry nothing."""
    plain = bare(text.casefold()).replace("grade", "gr").replace("asnzs", "as")
    plain = re.sub(r"^(astm|jis|as1163)", "", plain)
    return re.sub(r"^(g31\d\d)(?=s)", "", plain)


def _keys(grade: Grade) -> set[str]:
    key = _key(grade.name)
    # "A572-50" and "AS 3678 Grade 250": with or without the word grade.
    return {key, _without_gr(key), re.sub(r"^(as\d+)(\d{3})$", r"\1gr\2", key)}


@cache
def _table() -> tuple[Grade, ...]:
    return tuple(grade for row in ROWS for grade in _of_row(row))


def _of_row(row: Row) -> Iterator[Grade]:
    bands = _bands(row.bands)
    tested_yield = Decimal(row.tested_yield) if row.tested_yield else None
    for name in row.grades:
        yield Grade(
            name,
            row.standard,
            row.group,
            bands,
            row.source,
            row.yield_mark,
            row.group_mark,
            row.note,
            row.tested,
            tested_yield,
        )


@cache
def _index() -> dict[str, tuple[Grade, ...]]:
    index: dict[str, tuple[Grade, ...]] = {}
    for grade in _table():
        for key in _keys(grade):
            index[key] = (*index.get(key, ()), grade)
    return index


def _bands(text: str) -> tuple[Band, ...]:
    """Bands in order, each from the end of the one before. Raises ValueError where one cannot be read."""
    found: list[Band] = []
    lower, lower_open = Decimal(0), True
    for part in text.split():
        match = re.fullmatch(r"(-|<?\d+(?:\.\d+)?):(\d+(?:\.\d+)?)", part)
        if match is None or (found and found[-1].thickness.hi is None):
            raise ValueError(f'"{part}" is not a thickness band; write for example 16:355 40:345')
        upper = None if match[1] == "-" else Decimal(match[1].lstrip("<"))
        below = match[1].startswith("<")
        found.append(Band(Interval(lower, upper, "mm", lower_open, below), Decimal(match[2])))
        lower, lower_open = upper or Decimal(0), not below
    if not found:
        raise ValueError("a grade needs at least one thickness band, for example 16:355")
    return tuple(found)
