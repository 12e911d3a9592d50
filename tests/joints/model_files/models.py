"""Models for the tests: the hand-written one of two welds, and the same with lines changed."""

import re
from pathlib import Path

TWO_WELDS = (Path(__file__).parent / "two-welds.ifc").read_bytes()
"""IFC4, mm. W-001: fillet a = 5 on PL1 (20) and PL2 (12); W-002: V butt of PL2 and PL3 (12); 300 mm each, S355J2+N."""


def model(changes: dict[int, str] | None = None, more: str = "", schema: str = "IFC4") -> bytes:
    """The model with instances written anew by number ("" takes one away), more lines, and another schema."""
    text = TWO_WELDS.decode()
    for number, line in (changes or {}).items():
        new = f"#{number}={line};" if line else ""
        text, found = re.subn(rf"(?m)^#{number}=.*;$", lambda _, new=new: new, text)
        assert found == 1, number
    text = text.replace("FILE_SCHEMA(('IFC4'))", f"FILE_SCHEMA(('{schema}'))")
    return text.replace("ENDSEC;\nEND-ISO", f"{more}\nENDSEC;\nEND-ISO").encode()


BEAM = {
    40: "IFCCARTESIANPOINT((0.,100.,-130.))",
    41: "IFCAXIS2PLACEMENT3D(#40,#16,#17)",
    43: "IFCISHAPEPROFILEDEF(.AREA.,'HEB300',#44,300.,300.,11.,19.,27.,$,$)",
    45: "IFCCARTESIANPOINT((0.,0.))",
    46: "IFCEXTRUDEDAREASOLID(#43,#11,#15,400.)",
    49: "IFCBEAM('1ZpkBQrrrVUufCg0BbOJjh',$,'PL1','HEB300','Beam',#42,#48,'PL1',.BEAM.)",
}
"""PL1 as a beam along x whose upper flange (19 mm, web 11) lies where the plate's face was."""
