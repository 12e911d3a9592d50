"""The tests that a certificate states results of: key -> name (ISO 9606-1:2012 Table 13, from memory)."""

METHODS = {
    "vt": "Visual (VT)",
    "rt": "Radiography (RT)",
    "ut": "Ultrasonic (UT)",
    "bend": "Bend",
    "fracture": "Fracture",
    "notched_tensile": "Notched tensile",
    "macro": "Macro",
    "additional": "Additional",
}
