"""EN 1090-2:2018: gates whose reading is doubtful. The strict one is the default."""

from codes.readings import Switch

MACHINE_ROUTES = Switch(
    key="en_1090_machine_routes",
    question="May a route without a test piece of the shop serve fully mechanised or automatic welding?",
    options={
        "strict": "a robot or rig needs ISO 15614-1 or ISO 15613",
        "wide": "ISO 15610, 15611 and 15612 serve it too",
    },
    default="strict",
    clause="EN 1090-2:2018, 7.4.1, Table 12",
)
STANDARD_PROCEDURE_CAP = Switch(
    key="en_1090_swps_cap",
    question="Up to which grade does a standard welding procedure (ISO 15612) serve?",
    options={"S355": "up to S355", "S460": "up to S460"},
    default="S355",
    clause="EN 1090-2:2018, 7.4.1, Table 12",
)
SWITCHES = (MACHINE_ROUTES, STANDARD_PROCEDURE_CAP)
