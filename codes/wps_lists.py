"""Which list a procedure is held to: that of its own code, else ISO 15609-1."""

from codes import asme_ix_wps, aws_d1_1_wps, iso_15609_1_2019
from codes.editions import UnknownEdition, edition
from codes.wps_fields import WpsField


def fields_of(code: str, prequalified: bool = False) -> tuple[WpsField, ...]:
    """What a procedure to a code states, by the road it takes.

    Example: "AWS D1.1:2015" asks for the weld's leg, "ISO 15614-1:2017" for its throat.
    """
    try:
        key = edition(code).key
    except UnknownEdition:
        key = code
    known = {**aws_d1_1_wps.BY_TEST, **asme_ix_wps.FIELDS}
    if prequalified:
        known |= aws_d1_1_wps.PREQUALIFIED
    return known.get(key, iso_15609_1_2019.FIELDS)


def list_name(code: str) -> str:
    """The standard whose list it is. Example: "ISO 15609-1:2019"."""
    return fields_of(code)[0].clause.standard
