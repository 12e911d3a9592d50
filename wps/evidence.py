"""What a record brings to the gates of an application standard beyond its ranges: extra tests, and how cold.

Only what the record says is a fact; what it leaves out stays unstated, and the gate then answers so.
"""

from collections.abc import Mapping
from decimal import Decimal

from codes.editions import Tested
from codes.parse import parse_values
from codes.values import Value, atoms
from wps.models import TestRecord

EXTRA_TESTS = {"micro": "micro_section", "cruciform": "cruciform_tested"}
"""Key of the result on the record, and the fact that a gate asks for."""
ACCEPTED = ("accept", "pass", "ok")
READ = ("impact_tested", "impact_positions", "impact_temperature")


def gate_facts(record: TestRecord) -> dict[str, Value]:
    """The facts of one record. Impact tests count at the warmest temperature of its tested pieces (strict).

    Raises BadField. Example: pieces tested at -20 and -40 °C give impact_tested_at -20.
    """
    found: dict[str, Value] = dict(_extra_tests(record.results))
    # Only these three are read anew: the whole piece would cost more than the limits, which are kept ready.
    pieces = [parse_values({name: piece[name] for name in READ if name in piece}) for piece in record.pieces]
    temperatures = [one for piece in pieces if _impact(piece) for one in atoms(piece.get("impact_temperature", ()))]
    numbers = [one for one in temperatures if isinstance(one, Decimal)]
    return found | ({"impact_tested_at": max(numbers)} if numbers else {})


def _impact(piece: Tested) -> bool:
    return piece.get("impact_tested") == "yes" or "impact_positions" in piece


def _extra_tests(results: object) -> dict[str, str]:
    """Tests whose result reads as accepted. Anything else proves nothing."""
    stated = results if isinstance(results, Mapping) else {}
    said = {fact: str(stated.get(key, "")).strip().casefold() for key, fact in EXTRA_TESTS.items()}
    return {fact: "yes" for fact, text in said.items() if text.startswith(ACCEPTED)}
