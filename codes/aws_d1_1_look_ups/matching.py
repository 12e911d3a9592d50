"""AWS D1.1, Table 5.4 [3.2]: the filler classes that match a group of steels, and whether one class does."""

from dataclasses import dataclass

from codes.aws_d1_1.book import BOOK_2020, Book, rule
from codes.aws_d1_1.fillers import classify
from codes.aws_d1_1_prequalified.filler import LOW_HYDROGEN_GROUPS, MATCHING, ONE_CLASS
from codes.clauses import Clause

MATCH = rule("matching filler")

SMAW, SAW, GMAW, FCAW = "SMAW", "SAW", "GMAW", "FCAW"
FAMILIES = {"SMAW": SMAW, "SAW": SAW, "WIRE": GMAW, "FCAW": FCAW}

# Group -> process -> classes, from memory.
CLASSES: dict[str, dict[str, str]] = {
    "I": {
        SMAW: "A5.1 E60XX, E70XX; A5.5 E70XX-X",
        SAW: "A5.17 F6XX, F7XX; A5.23 F7XX",
        GMAW: "A5.18 ER70S-X, E70C-X; A5.28 ER70S-X, E70C-X",
        FCAW: "A5.20 E6XT-X, E7XT-X; A5.29 E6XTX-X, E7XTX-X",
    },
    "II": {
        SMAW: "low-hydrogen only: A5.1 E7015, E7016, E7018, E7028; A5.5 E7015-X, E7016-X, E7018-X",
        SAW: "A5.17 and A5.23 F7XX",
        GMAW: "A5.18 and A5.28 ER70S-X, E70C-X",
        FCAW: "A5.20 E7XT-X; A5.29 E7XTX-X",
    },
    "III": {
        SMAW: "low-hydrogen only: A5.5 E8015-X, E8016-X, E8018-X",
        SAW: "A5.23 F8XX",
        GMAW: "A5.28 ER80S-X, E80C-X",
        FCAW: "A5.29 E8XTX-X",
    },
    "IV": {
        SMAW: "low-hydrogen only: A5.5 E9015-X, E9016-X, E9018-X, E9018M",
        SAW: "A5.23 F9XX",
        GMAW: "A5.28 ER90S-X, E90C-X",
        FCAW: "A5.29 E9XTX-X",
    },
}
EXCLUDED = (
    "multiple passes with single-pass flux-cored types (T-2, T-3, T-10, T-13, T-14, -GS); EXXT-11 over 1/2 in [12 mm] "
    "parent metal; classes with suffix G unless agreed"
)


@dataclass(frozen=True, slots=True)
class Match:
    """Whether a class matches steels of some groups; `serves` says for what where it does not match."""

    matches: bool
    serves: str
    clause: Clause


def matching_classes(group: str, book: Book = BOOK_2020) -> tuple[dict[str, str], Clause]:
    """Classes by process. Raises ValueError for a group without a row (steels that need a test have none)."""
    if group not in CLASSES:
        raise ValueError(f"group {group} has no matching filler; use one of: {', '.join(CLASSES)}")
    return CLASSES[group], MATCH.of(book)


def match(designation: str, groups: tuple[str, ...], book: Book = BOOK_2020) -> Match:
    """Whether a class matches: of two steels either may be matched, low hydrogen is needed where one asks for it.

    Raises ValueError for a class or group that is not known. Example: E71T-1C on Group II matches, on Group III not.
    """
    filler = classify(designation)
    if filler is None:
        raise ValueError(f'"{designation}" is not an AWS classification known here, for example E7018 or ER70S-6')
    for group in groups:
        matching_classes(group, book)
    clause = MATCH.of(book)
    rows = [MATCHING[group][filler.family] for group in groups]
    needy = [group for group in groups if group in LOW_HYDROGEN_GROUPS]
    if needy and not filler.low_hydrogen:
        return Match(False, f"{filler.name} is no low-hydrogen electrode, Group {needy[0]} asks for one", clause)
    if any(filler.strength_ksi in row for row in rows):
        return Match(True, f"{filler.name}, {filler.strength_ksi} ksi class: matching", clause)
    if all(filler.strength_ksi < min(row) for row in rows):
        return Match(False, f"{filler.name} is weaker: fillet and PJP welds by design only, no CJP in tension", clause)
    over = min(filler.strength_ksi - max(row) for row in rows if filler.strength_ksi > max(row))
    words = "one class higher: allowed" if over <= ONE_CLASS else "more than one class higher: not allowed"
    return Match(over <= ONE_CLASS, f"{filler.name}: {words}", clause)
