"""The tables of the codes as they are laid out for a reader, by the package whose page shows them."""

from collections.abc import Mapping

from register.held.laid_out import asme, aws, aws_before, aws_people, en, iso
from register.held.laid_out.layout import DataTable, Layout, Place, cited

LAYOUTS: Mapping[str, tuple[Layout, ...]] = {
    "asme_ix_2021": asme.PROCEDURES,
    "asme_ix_people_2021": asme.PEOPLE,
    "aws_d1_1_2020": aws.PROCEDURES,
    "aws_d1_1_people_2020": aws_people.PEOPLE,
    "aws_d1_1_prequalified": aws_before.PREQUALIFIED,
    "en_1090_2_2018": en.LAYOUTS,
    "iso_14732_2013": iso.OPERATORS,
    "iso_15614_1_2017": iso.PROCEDURES,
    "iso_9606_1_2012": iso.PEOPLE,
}
FIGURES_OF: Mapping[str, str] = {
    "asme_ix_people_2023": "asme_ix_people_2021",
    "aws_d1_1_people_2015": "aws_d1_1_people_2020",
    "en_1090_2_2008": "en_1090_2_2018",
}
"""Packages whose figures are those of another one."""
NOT_FIGURES: frozenset[str] = frozenset(
    {
        "asme_ix_2021.listed.COLUMNS",
        "asme_ix_2021.listed.TABLES",
        "aws_d1_1_2020.metals.THICKNESSES",
        "aws_d1_1_2020.position.BY_PRODUCT",
        "aws_d1_1_prequalified.detail_rows.FLARE",
        "aws_d1_1_prequalified.detail_rows.TIGHT",
        "aws_d1_1_prequalified.detail_rows.TIGHT_45",
        "aws_d1_1_prequalified.detail_rows.UP_TO_EIGHTH",
        "aws_d1_1_prequalified.detail_rows.DETAILS",
        "aws_d1_1_prequalified.filler.CO2_ONLY",
        "aws_d1_1_prequalified.filler.FAMILY",
        "aws_d1_1_prequalified.filler.MATCHING",
        "aws_d1_1_prequalified.preheat.SURE",
        "aws_d1_1_prequalified.preheat_rows.BANDS",
        "en_1090_2_2018.facts.USUAL",
        "iso_14732_2013.automatic.SENSORS",
        "iso_14732_2013.mechanised.AIDS",
        "iso_9606_1_2012.combine.DIFFER",
        "iso_9606_1_2012.designation_tokens.DETAILS",
        "iso_9606_1_2012.examination.NAMES",
        "iso_9606_1_2012.process.MIG_MAG_PAIR",
    }
)
"""Names of the machinery: parts of tables that are shown whole, and words."""

__all__ = ["FIGURES_OF", "LAYOUTS", "NOT_FIGURES", "DataTable", "Layout", "Place", "cited"]
