"""ISO 14732:2013: rules whose reading is doubtful. The strict one is the default."""

from codes.iso_9606_1_2012.switches import FILLET_PH_PC
from codes.readings import Switch

SENSOR_ADDED = Switch(
    key="iso_14732_sensor_added",
    question="Does a qualification made without a sensor cover welding with it?",
    options={"strict": "the sensor must have been in use in the test", "wide": "a sensor may be added"},
    default="strict",
    clause="ISO 14732:2013, 4.2",
)
BACKING_KIND = Switch(
    key="iso_14732_backing",
    question="Mechanised welding tested with one kind of backing: which others are covered?",
    options={"strict": "the tested kind only", "as 9606": "those of ISO 9606-1, Table 11"},
    default="strict",
    clause="ISO 14732:2013, 4.2",
)
# The position tables are those of ISO 9606-1, with their own reading.
SWITCHES = (SENSOR_ADDED, BACKING_KIND, FILLET_PH_PC)
