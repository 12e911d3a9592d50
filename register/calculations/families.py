"""The families of calculations as pages: address, title, what it is good for."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.text import slugify

from codes.calc.calculation import Calculation
from codes.calc.registry import calculations

TITLES: Mapping[str, tuple[str, str]] = {
    "heat": (
        "Heat input",
        "From voltage, current and travel speed or their ranges, from arc energy, from run-out length.",
    ),
    "carbon": (
        "Carbon equivalents",
        "CE, CET, Pcm and CEN of an analysis. What is not stated is never taken as nought.",
    ),
    "preheat": ("Preheat", "EN 1011-2 methods A and B, the tables of AWS D1.1, interpass temperature."),
    "cooling": ("Cooling time t8/5", "From heat input, preheat and thickness, and back to heat input or interpass."),
    "combined thickness": ("Combined thickness", "The heat paths of EN 1011-2 method A."),
    "areas": ("Cross-sections", "Fillets and all common butt-weld preparations."),
    "throat": (
        "Throat and leg",
        "Sizes of fillets: geometry, least sizes, effective length, resistance for information.",
    ),
    "weld metal": ("Weld metal and arc time", "Mass, runs, filler to buy, arc time."),
    "deposition": ("Deposition", "Melt-off and deposition of a wire, travel speed for a run."),
    "gas": ("Shielding gas", "Gas of a weld and of a metre, how long a cylinder lasts."),
    "position": ("Welding position", "From geometry, and after a turn of the rotator."),
    "units": ("Units", "Exact factors."),
}
"""Family of the registry to title and lead."""


CAUTIONS: Mapping[str, str] = {
    "heat": "Set the machine within the approved procedure: its ranges stand above a reckoned figure. "
    "Arc: radiation burns eyes and skin. Fume: extract it. Lock a robot cell out before entry.",
    "preheat": "Where procedure, job or engineer ask for more preheat, that counts. "
    "Hot metal and gas flames: burns, fire watch. Measure at the distance that the standard names.",
    "cooling": "The window of the plate maker and the approved procedure stand above a reckoned figure. "
    "Hot metal: burns.",
    "deposition": "Set the machine within the approved procedure: its ranges stand above a reckoned figure. "
    "Arc: radiation burns eyes and skin. Fume: extract it.",
    "gas": "Shielding gas displaces air: ventilate, and measure oxygen before entry into pits, tanks and box sections. "
    "Secure cylinders against falling.",
    "position": "A load can slip while it turns: clamp it by the lifting plan, nobody below it or in its reach.",
}
"""Family to what one must mind at the work itself."""


@dataclass(frozen=True, slots=True)
class Family:
    """A family as a page."""

    key: str
    title: str
    lead: str
    members: tuple[Calculation, ...]

    @property
    def caution(self) -> str:
        """What one must mind at the work itself, "" for nothing of its own."""
        return CAUTIONS.get(self.key, "")

    @property
    def slug(self) -> str:
        """The word in its address. Example: "weld-metal"."""
        return slugify(self.key)


def families() -> tuple[Family, ...]:
    """All families in the order of a coordinator's questions; one that nobody gave a title is shown by its own name."""
    held: dict[str, list[Calculation]] = {key: [] for key in TITLES}
    for one in calculations().values():
        held.setdefault(one.family, []).append(one)
    return tuple(
        Family(key, *TITLES.get(key, (key.capitalize(), "")), tuple(members))
        for key, members in held.items()
        if members
    )


def family(slug: str) -> Family | None:
    """The family at an address, or None."""
    return next((one for one in families() if one.slug == slug), None)
