"""ISO 9606-1:2012, welders of steel (EN ISO 9606-1:2013 and 2017 are the same text): ranges and validity.

Start at `ranges` (one test piece), `combine` (several pieces on one certificate) and `validity`. Also here:
`designation` reads and writes the designation line, `examination` names the tests that a certificate still lacks,
`joint` splits a joint welded by several processes.
"""

from codes.editions import Edition
from codes.iso_9606_1_2012.combine import limit_sets
from codes.iso_9606_1_2012.fields import DEMAND, FIELDS, RECORDED
from codes.iso_9606_1_2012.switches import SWITCHES
from codes.iso_9606_1_2012.validity import periods

EDITIONS = (
    Edition(
        key="ISO 9606-1:2012",
        title="Qualification testing of welders, fusion welding of steels",
        kinds=("welder",),
        fields=FIELDS,
        demand=DEMAND,
        limit_sets=limit_sets,
        aliases=(
            "ISO 9606-1",
            "EN ISO 9606-1",
            "EN ISO 9606-1:2013",
            "EN ISO 9606-1:2017",
            "AS/NZS ISO 9606.1:2017",
            "ISO 9606-1:2012 (EN ISO 9606-1:2017)",
        ),
        switches=SWITCHES,
        periods=periods,
        recorded_only=RECORDED,
    ),
)
