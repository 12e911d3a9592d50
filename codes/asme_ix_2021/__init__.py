"""ASME IX, Part QW, procedures: what a record (PQR) covers, by the edition of 2017, 2019, 2021 or 2023.

Start at `limit_sets` (the coupons of one record, with what they earn together) and `combine` (several records). Each
group of paragraphs has its own file, tables are data, `listed` holds the variables of every process, `edition_table`
what differs between editions. SMAW, SAW, GMAW, FCAW and GTAW only. Not entered: plasma, oxyfuel and resistance
welding, overlay and buttering, temper bead, standard procedures of Article V, strip electrodes.
"""

from collections.abc import Sequence
from functools import partial

from codes.asme_ix_2021.combine import combined
from codes.asme_ix_2021.fields import DEMAND, FIELDS, RECORDED_ONLY
from codes.asme_ix_2021.piece import Piece, pieces_of
from codes.asme_ix_2021.record import limit_set
from codes.asme_ix_2021.sources import YEARS, standard
from codes.asme_ix_2021.switches import SWITCHES
from codes.editions import Edition, Tested
from codes.limits import LimitSet
from codes.readings import Settings


def limit_sets(year: int, pieces: Sequence[Tested], settings: Settings) -> tuple[LimitSet, ...]:
    """One set for each process and F-number of each coupon, then what two coupons earn together.

    Raises BadField for a value no coupon can have. Example: a groove coupon of T = 12 mm covers 5 to 24 mm.
    """
    found = pieces_of(pieces, year, settings)
    return (*map(limit_set, found), *combined(found))


def combine(year: int, records: Sequence[Sequence[Tested]], settings: Settings) -> tuple[LimitSet, ...]:
    """What several records earn together and none alone (QW-200.4(b), 403.5, 403.6); their own sets are not repeated.

    Example: a root by GTAW from a coupon of 13 mm on the base thickness of a SMAW record of 40 mm.
    """
    found: list[Piece] = []
    record_of: dict[int, int] = {}
    for number, record in enumerate(records, start=1):
        start = 1 + max(record_of, default=-1)
        for piece in pieces_of(record, year, settings):
            record_of[start + piece.coupon] = number
            found.append(Piece(piece.values, year, settings, start + piece.coupon, f"record {number}, {piece.label}"))
    return combined(found, record_of)


EDITIONS = tuple(
    Edition(
        key=standard(year),
        title="Boiler and Pressure Vessel Code, Section IX: qualification of procedures",
        kinds=("procedure",),
        fields=FIELDS,
        demand=DEMAND,
        limit_sets=partial(limit_sets, year),
        aliases=(f"ASME BPVC IX:{year}", f"ASME BPVC.IX-{year}", f"ASME Section IX:{year}", f"ASME IX-{year}"),
        switches=SWITCHES,
        recorded_only=RECORDED_ONLY,
        combine=partial(combine, year),
    )
    for year in YEARS
)

_NAME_IT = "name the edition on the record: " + ", ".join(map(standard, YEARS))
NOT_JUDGED = {
    "ASME IX": _NAME_IT,
    "ASME Section IX": _NAME_IT,
    "ASME BPVC IX": _NAME_IT,
    "ASME IX:2015": "its tables are not entered; a record stays valid as made, judge it by hand",
    "ASME IX:2025": "its changes are not entered yet",
}
