"""What a sheet warns of, and what it defers to. General good practice, own words, no standard's text."""

from collections.abc import Iterable

ARC = (
    ("Arc", "Its radiation burns eyes and skin within seconds: shade to suit the current, skin covered, screens up."),
    (
        "Fume",
        "Head out of the plume, extraction on at the arc. In a confined space gas displaces air: permit and watch.",
    ),
    ("Fire", "Clear or cover what can burn, also behind the part. Keep a fire watch during welding and after it."),
    ("Shock", "Dry gloves, whole cables, return lead on the part. Never touch electrode and part with bare skin."),
    ("Hot metal", "Hot long after the arc is out: mark it, glove it, do not let slag or spatter fall on anyone."),
)
ROBOT = (
    "Robot cell",
    "Guarded area: nobody inside while drives are live. Lock out before entry and keep the key with whoever is inside. "
    "Robot and rotator start without warning: clamps checked, turning path clear, rotator stopped before hands go in.",
)
MACHINE = (
    "Machine",
    "Carriage, turntable and wire feed move by themselves: hands and cables clear, stop button within reach.",
)
DEFERENCE = (
    "This sheet supports, and never replaces, the text of the standards it names, local codes and law, and the "
    "judgement of licensed and qualified persons. Where they differ they rule. In doubt stop and ask the welding "
    "coordinator."
)


def cautions(mechanisations: Iterable[str], robot: bool, own: str = "") -> tuple[tuple[str, str], ...]:
    """Head and words of every caution for a weld: the arc's, the machine's, and what the procedure adds."""
    degrees = set(mechanisations)
    found = list(ARC)
    if robot or "automatic" in degrees:
        found.append(ROBOT)
    elif "fully_mechanised" in degrees:
        found.append(MACHINE)
    if own.strip():
        found.append(("This procedure", own.strip()))
    return tuple(found)
