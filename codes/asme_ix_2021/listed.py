"""ASME IX, QW-253 to QW-256: the lists of variables per process as data.

E essential, S supplementary essential (binds where toughness is required), N nonessential (written on the WPS; a
change revises the WPS, no new test), S/N supplementary where toughness is required and else nonessential, "-" not in
the list. The paragraphs of SMAW were seen (2011a), most of GMAW and GTAW in an example of 2019; the split into E, S
and N, and the SAW list, are from memory: tick them first. FCAW stands in the list of GMAW.
"""

from dataclasses import dataclass

from codes.asme_ix_2021.edition_table import stands
from codes.asme_ix_2021.piece import FCAW, GMAW, GTAW, SAW, SMAW
from codes.clauses import Clause, Mark

LISTS = Clause("ASME IX", "QW-253 to QW-256", Mark.MEMORY, "from memory; paragraphs of SMAW, GMAW and GTAW seen")
COLUMNS = {SMAW: 0, SAW: 1, GMAW: 2, FCAW: 2, GTAW: 3}
TABLES = {SMAW: "QW-253", SAW: "QW-254", GMAW: "QW-255", FCAW: "QW-255", GTAW: "QW-256"}


@dataclass(frozen=True, slots=True)
class Listed:
    """One paragraph: its subject, what it is for SMAW, SAW, GMAW/FCAW and GTAW, and the variables that state it."""

    paragraph: str
    subject: str
    kinds: str
    variables: tuple[str, ...] = ()

    def kind(self, family: str) -> str:
        """E, S, N, S/N or "-" for an AWS process."""
        return self.kinds.split()[COLUMNS[family]]


LISTED = (
    Listed("402.1", "groove design", "N N N N", ("groove_type",)),
    Listed("402.4", "deletion of backing", "N N N -", ("weld_detail",)),
    Listed("402.5", "addition of backing", "- - - N", ("weld_detail",)),
    Listed("402.10", "root spacing", "N N N N", ("root_opening",)),
    Listed("402.11", "retainers added or deleted", "N N N N"),
    Listed("403.5", "group number", "S S S S", ("steels",)),
    Listed("403.6", "lowest thickness for toughness", "S S S S", ("parent_t",)),
    Listed("403.8", "base thickness", "E E E E", ("parent_t",)),
    Listed("403.9", "pass over 13 mm", "E E E -", ("max_run_t",)),
    Listed("403.10", "base thickness, short-circuiting transfer", "- - E -", ("parent_t",)),
    Listed("403.11", "P-number", "E E E E", ("steels",)),
    Listed("404.3", "size of the filler", "- - - N", ("filler_diameter",)),
    Listed("404.4", "F-number", "E E E E", ("f_number",)),
    Listed("404.5", "A-number", "E E E E", ("a_number",)),
    Listed("404.6", "electrode diameter", "N N N -", ("filler_diameter",)),
    Listed("404.7", "electrode diameter over 6 mm", "S - - -", ("filler_diameter",)),
    Listed("404.9", "flux and wire class", "- E - -", ("flux_designation",)),
    Listed("404.10", "alloy flux", "- E - -", ("flux_type", "flux_make")),
    Listed("404.12", "filler classification", "S - S S", ("filler_designation",)),
    Listed("404.14", "filler added or deleted", "- - - E", ("filler_added",)),
    Listed("404.22", "consumable insert", "- - - N"),
    Listed("404.23", "form of the filler", "- - E E", ("product_form",)),
    Listed("404.24", "supplemental filler", "- E E -", ("extra_filler",)),
    Listed("404.27", "alloying elements from the supplement", "- E E -", ("extra_filler_ratio",)),
    Listed("404.29", "trade name of the flux", "- N - -", ("flux_make",)),
    Listed("404.30", "deposited thickness", "E E E E", ("deposit_t",)),
    Listed("404.32", "deposited thickness, short-circuiting transfer", "- - E -", ("deposit_t",)),
    Listed("404.33", "classification or trade name", "N N N N", ("filler_designation", "filler_make")),
    Listed("404.34", "type of flux, P-1 in several layers", "- E - -", ("flux_type",)),
    Listed("404.35", "flux and wire classification", "- S/N - -", ("flux_designation",)),
    Listed("404.36", "recrushed slag", "- E - -", ("flux_recrushed",)),
    Listed("404.50", "penetration flux", "- - - N"),
    Listed("405.1", "position added", "N N N N", ("position",)),
    Listed("405.2", "change to vertical uphill", "S - S S", ("position",)),
    Listed("405.3", "vertical up or down", "N - N N", ("progression",)),
    Listed("406.1", "preheat", "E E E E", ("preheat",)),
    Listed("406.2", "preheat kept after welding", "N N N -", ("post_heat",)),
    Listed("406.3", "interpass temperature", "S S S S", ("interpass",)),
    Listed("407.1", "condition of heat treatment", "E E E E", ("pwht", "pwht_condition")),
    Listed("407.2", "time and temperature of heat treatment", "S S S S", ("pwht_minutes", "pwht_temperature")),
    Listed("407.4", "base thickness after normalising", "E E E E", ("parent_t",)),
    Listed("408.1", "trailing gas", "- - N N"),
    Listed("408.2", "shielding gas", "- - E E", ("gas",)),
    Listed("408.3", "flow of the shielding gas", "- - N N", ("gas_flow",)),
    Listed("408.5", "backing gas", "- - N N", ("backing_gas",)),
    Listed("408.9", "backing gas of special alloys", "- - E E", ("backing_gas",)),
    Listed("408.10", "trailing gas of special alloys", "- - E E"),
    Listed("409.1", "heat input", "S S S S", ("heat_input",)),
    Listed("409.2", "transfer mode", "- - E -", ("transfer_mode",)),
    Listed("409.3", "pulsing", "- - - N", ("pulsed_current",)),
    Listed("409.4", "current type and polarity", "S/N S/N S/N S/N", ("current_type",)),
    Listed("409.8", "current and voltage", "N N N N", ("current", "voltage", "wire_feed")),
    Listed("409.12", "tungsten electrode", "- - - N"),
    Listed("410.1", "stringer or weave", "N N N N", ("weave",)),
    Listed("410.3", "nozzle size", "- - N N"),
    Listed("410.5", "cleaning", "N N N N"),
    Listed("410.6", "back gouging", "N N N N", ("gouging",)),
    Listed("410.7", "oscillation", "- N N N", ("weave_width", "weave_frequency", "weave_dwell")),
    Listed("410.8", "contact tube distance", "- N N -"),
    Listed("410.9", "several passes per side to one", "S/N S/N S/N S/N", ("run_type",)),
    Listed("410.10", "one electrode to several", "- S/N S/N S/N", ("wire_system",)),
    Listed("410.11", "closed to out-of-chamber welding (titanium)", "- - - E"),
    Listed("410.15", "spacing of electrodes", "- N N N", ("arc_spacing_along", "arc_spacing_across")),
    Listed("410.25", "manual or semiautomatic to machine or automatic", "N N N N", ("mechanisation",)),
    Listed("410.26", "peening", "N N N N"),
    Listed("410.64", "thermal cutting of P-11A and P-11B", "E E E E"),
)


def listed(family: str, year: int) -> tuple[Listed, ...]:
    """The list of an AWS process in an edition. Example: 405.2 is in that of 2017 for SMAW, not in that of 2019."""
    return tuple(row for row in LISTED if row.kind(family) != "-" and stands(row.paragraph, year))
