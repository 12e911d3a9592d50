"""AWS D1.1, Table 5.3 [3.1] and 6.9 [4.9]: steels by group, as data. Fy and Fu as the table prints them: ksi [MPa].

Group membership decides; strengths of Groups II to IV are from memory and serve for display only: use the mill
certificate and the ASTM standard. A limit "<=" or ">" is the thickness at which a steel changes its group.
Foreign equivalents do not count (5.3 [3.1]). Group V of 2025 is not entered.
"""

from dataclasses import dataclass

from codes.aws_d1_1.book import TABLE_3_1, TABLE_3_3
from codes.clauses import Mark

BY_TEST = "by test"
"""Steels of Table 6.9 [4.9]: approved, but only with a procedure test."""


@dataclass(frozen=True, slots=True)
class SteelRow:
    """One specification with its grades, in one group. `changes`: "<= 3/4" or "> 3/4" where thickness decides."""

    group: str
    specification: str
    grades: tuple[str, ...]
    fy: str
    fu: str
    changes: str = ""
    mark: Mark = Mark.MEMORY
    source: str = "from memory"
    note: str = ""


def _one(specification: str, grades: str, fy: str, fu: str, changes: str = "", note: str = "") -> SteelRow:
    return SteelRow("I", specification, _split(grades), fy, fu, changes, Mark.CONFIRMED, TABLE_3_1, note)


def _two(specification: str, grades: str, fy: str, fu: str, changes: str = "", note: str = "") -> SteelRow:
    source = f"{TABLE_3_3} (membership); strengths from memory"
    return SteelRow("II", specification, _split(grades), fy, fu, changes, Mark.PART, source, note)


def _three(specification: str, grades: str, fy: str, fu: str, note: str = "") -> SteelRow:
    return SteelRow("III", specification, _split(grades), fy, fu, note=note)


def _four(specification: str, grades: str, fy: str, fu: str, note: str = "") -> SteelRow:
    return SteelRow("IV", specification, _split(grades), fy, fu, note=note)


def _tested(specification: str, grades: str) -> SteelRow:
    return SteelRow(BY_TEST, specification, _split(grades), "", "")


def _split(grades: str) -> tuple[str, ...]:
    return tuple(grades.split(", ")) if grades else ("",)


THIN, THICK = "<= 3/4", "> 3/4"

GROUP_I = (
    _one("A36", "", "36 [250]", "58-80 [400-550]", THIN),
    _one("A53", "B", "35 [240]", "60 [415] min"),
    _one("A106", "B", "35 [240]", "60 [415] min"),
    _one("A131", "A, B, CS, D, DS, E", "34 [235]", "58-75 [400-520]"),
    _one("A139", "B", "35 [240]", "60 [415] min"),
    _one("A381", "Y35", "35 [240]", "60 [415] min"),
    _one("A500", "A", "33 [230]", "45 [310] min"),
    _one("A500", "B", "42 [290]", "58 [400] min"),
    _one("A500", "C", "46 [315]", "62 [425] min"),
    _one("A501", "A", "36 [250]", "58 [400] min"),
    _one("A516", "55", "30 [205]", "55-75 [380-515]"),
    _one("A516", "60", "32 [220]", "60-80 [415-550]"),
    _one("A524", "I", "35 [240]", "60-85 [415-586]"),
    _one("A524", "II", "30 [205]", "55-80 [380-550]"),
    _one("A573", "65", "35 [240]", "65-77 [450-530]"),
    _one("A573", "58", "32 [220]", "58-71 [400-490]"),
    _one("A709", "36", "36 [250]", "58-80 [400-550]", THIN),
    _one("A1008 SS", "30", "30 [205]", "45 [310] min"),
    _one("A1008 SS", "33-1", "33 [230]", "48 [330] min"),
    _one("A1008 SS", "40-1", "40 [275]", "52 [360] min"),
    _one("A1011 SS", "30", "30 [205]", "49 [340] min"),
    _one("A1011 SS", "33", "33 [230]", "52 [360] min"),
    _one("A1011 SS", "36-1", "36 [250]", "53 [365] min"),
    _one("A1011 SS", "40", "40 [275]", "55 [380] min"),
    _one("A1011 SS", "45", "45 [310]", "60 [410] min"),
    _one("A1018 SS", "30", "30 [205]", "49 [340] min"),
    _one("A1018 SS", "33", "33 [230]", "52 [360] min"),
    _one("A1018 SS", "36", "36 [250]", "53 [365] min"),
    _one("A1018 SS", "40", "40 [275]", "55 [380] min"),
    _one("API 5L", "B", "35 [241]", "60 [414] min"),
    _one("API 5L", "X42", "42 [290]", "60 [414] min"),
    _one("ABS", "A, B, D, CS, DS, E", "34 [235]", "58-75 [400-520]"),
)

GROUP_II = (
    _two("A36", "", "36 [250]", "58-80 [400-550]", THICK),
    _two("A131", "AH32, DH32, EH32", "46 [315]", "64-85 [440-590]"),
    _two("A131", "AH36, DH36, EH36", "51 [355]", "71-90 [490-620]"),
    _two("A501", "B", "50 [345]", "70 [485] min"),
    _two("A516", "65", "35 [240]", "65-85 [450-585]"),
    _two("A516", "70", "38 [260]", "70-90 [485-620]"),
    _two("A529", "50", "50 [345]", "65-100 [450-690]", note="plates to 1 in by ASTM"),
    _two("A529", "55", "55 [380]", "70-100 [485-690]", note="plates to 1 in by ASTM"),
    _two("A537", "Cl 1", "45-50 [310-345]", "65-90 [450-620]", note="yield by thickness"),
    _two("A572", "42", "42 [290]", "60 [415] min", note="ASTM: to 6 in"),
    _two("A572", "50", "50 [345]", "65 [450] min", note="ASTM: to 4 in"),
    _two("A572", "55", "55 [380]", "70 [485] min", note="ASTM: to 2 in"),
    _two("A588", "", "50 [345]", "70 [485] min", note="to 4 in [100 mm]"),
    _two("A595", "A", "55 [380]", "65 [450] min"),
    _two("A595", "B, C", "60 [415]", "70 [485] min"),
    _two("A606", "", "45-50 [310-345]", "65 [450] min"),
    _two("A618", "Ib, II, III", "46-50 [315-345]", "65 [450] min"),
    _two("A633", "A", "42 [290]", "63-83 [430-570]"),
    _two("A633", "C, D", "50 [345]", "70-90 [485-620]", note="to 2-1/2 in"),
    _two("A709", "36", "36 [250]", "58-80 [400-550]", THICK),
    _two("A709", "50", "50 [345]", "65 [450] min", note="to 4 in"),
    _two("A709", "50W, HPS 50W", "50 [345]", "70 [485] min", note="to 4 in"),
    _two("A709", "50S", "50-65 [345-450]", "65 [450] min"),
    _two("A710", "A Cl 2", "55 [380]", "65 [450] min", "> 2", "over 2 in"),
    _two("A808", "", "42 [290]", "60 [415] min", note="to 2-1/2 in"),
    _two("A913", "50", "50 [345]", "65 [450] min"),
    _two("A992", "", "50-65 [345-450]", "65 [450] min", note="shapes"),
    _two("A1008 HSLAS", "45, 50, 55", "45, 50, 55 [310, 340, 380]", "55-70 [380-480] min by class"),
    _two("A1011 HSLAS", "45, 50, 55", "45, 50, 55 [310, 340, 380]", "55-70 [380-480] min by class"),
    _two("A1018 HSLAS", "45, 50, 55", "45, 50, 55 [310, 340, 380]", "55-70 [380-480] min by class"),
    _two("A1066", "50", "50 [345]", "65 [450] min"),
    _two("A1085", "", "50-70 [345-485]", "65 [450] min"),
    _two("API 2H", "42", "42 [290]", "62-82 [430-565]"),
    _two("API 2H", "50", "50 [345]", "70-90 [483-620]"),
    _two("API 2W", "42, 50, 50T", "42-67, 50-75, 50-80", "62, 65, 70 [427, 448, 483] min"),
    _two("API 2Y", "42, 50, 50T", "42-67, 50-75, 50-80", "62, 65, 70 [427, 448, 483] min"),
    _two("API 2MT1", "", "50 [345]", "65-90 [450-620]"),
    _two("API 5L", "X52", "52 [360]", "66-72 [455-495]", note="older editions"),
    _two("ABS", "AH32, DH32, EH32", "46 [315]", "64-85"),
    _two("ABS", "AH36, DH36, EH36", "51 [355]", "71-90"),
)

GROUP_III = (
    _three("A572", "60", "60 [415]", "75 [520] min", "to 1-1/4 in [32 mm]"),
    _three("A572", "65", "65 [450]", "80 [550] min", "to 1-1/4 in [32 mm]"),
    _three("A537", "Cl 2", "46-60 [315-415]", "70-100 [485-690]", "to 2-1/2 in; in the list of category B"),
    _three("A633", "E", "55-60 [380-415]", "75-100 [515-690]"),
    SteelRow("III", "A710", ("A Cl 2",), "60-65", "70-75 [485-515]", "<= 2", note="to 2 in [50 mm]"),
    _three("A710", "A Cl 3", "60-70", "70-75 [485-515]", "to 2 in [50 mm]"),
    _three("A913", "60", "60 [415]", "75 [520] min"),
    _three("A913", "65", "65 [450]", "80 [550] min"),
    SteelRow("III", "A1018 HSLAS", ("60", "70"), "60, 70", "75-85", "", Mark.DOUBT, "from memory, doubtful"),
    _three("A1066", "60", "60", "75"),
    _three("A1066", "65", "65", "80"),
    _three("API 2W", "60", "60-90 [414-621]", "75 [517]"),
    _three("API 2Y", "60", "60-90 [414-621]", "75 [517]"),
)

GROUP_IV = (
    _four("A709", "HPS 70W", "70 [485]", "85-110 [585-760]", "to 4 in"),
    _four("A852", "", "70 [485]", "90-110 [620-760]", "older editions; to 4 in"),
    _four("A913", "70", "70 [485]", "90 [620] min"),
    _four("A1066", "70", "70 [485]", "85 [585] min"),
)

# "and a few others" of the table are not entered: they count as unlisted, which covers no more.
TEST_ONLY = (
    _tested("A514", ""),
    _tested("A517", ""),
    _tested("A709", "HPS 100W"),
    _tested("A871", "60, 65"),
    _tested("A1043", "36, 50"),
)

ROWS = (*GROUP_I, *GROUP_II, *GROUP_III, *GROUP_IV, *TEST_ONLY)
