"""The short notation of a certificate's life: test, opt, conf, pro, pw, repro, samemfr, iso3834, docq, revoked."""

from collections.abc import Mapping

from codes.parse import BadField, Plain

LIFE_KEYS = {
    "test": "tested_on",
    "opt": "option",
    "conf": "confirmations: a list of dates, or dates with commas between",
    "pro": "date of the prolongation (option b)",
    "pw": "dates of its two welds",
    "repro": "yes where they reproduced the conditions of the test",
    "samemfr": "same_manufacturer (option c)",
    "iso3834": "iso_3834, part number (option c)",
    "docq": "quality_documented (option c)",
    "revoked": "date of revocation",
    "validuntil": "printed_until",
}
FACTS = {"samemfr": "same_manufacturer", "iso3834": "iso_3834", "docq": "quality_documented"}
DATES = {"test": "tested_on", "opt": "option", "validuntil": "printed_until"}


def life_of(where: str, short: Mapping[str, Plain], record: Mapping[str, Plain]) -> dict[str, Plain]:
    """Dates, facts and events of a record, added to those it states. Raises BadField."""
    found: dict[str, Plain] = {DATES[key]: short[key] for key in DATES if key in short}
    facts, events = record.get("facts", {}), record.get("events", [])
    if not isinstance(facts, Mapping) or not isinstance(events, list):
        raise BadField(f"{where}.events", "must be a list, and facts an object")
    stated = {FACTS[key]: short[key] for key in FACTS if key in short}
    if stated:
        found["facts"] = {**facts, **stated}
    added = [{"kind": "confirmation", "on": day} for day in _dates(short.get("conf"))]
    added += [{"kind": "revocation", "on": day} for day in _dates(short.get("revoked"))]
    if "pro" in short:
        welds = {f"weld_{i}": day for i, day in enumerate(_dates(short.get("pw")), start=1)}
        details = {**welds, "conditions_reproduced": short.get("repro", "")}
        added.append({"kind": "prolongation", "on": short["pro"], "details": details})
    if added:
        found["events"] = [*events, *added]
    return found


def _dates(plain: Plain) -> list[Plain]:
    if isinstance(plain, str):
        return [part.strip() for part in plain.split(",") if part.strip()]
    return plain if isinstance(plain, list) else [plain] if plain else []
