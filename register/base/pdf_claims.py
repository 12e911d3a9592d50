"""What a paper says of itself beside PDF/A: that it can be read aloud (PDF/UA-1, ISO 14289-1:2014, clause 5).

PDF/A lets a file use a name of its own in its metadata only where it describes it (ISO 19005-3:2012, 6.6.2.3.2). Both
clauses from memory; the file is asked by rules of ours in the tests, never by a certified validator.
"""

from collections.abc import Callable
from typing import Any

_END = b"</rdf:RDF>"
ACCESSIBLE = b"""<rdf:Description xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"
 xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/" rdf:about="" pdfuaid:part="1"/>
<rdf:Description xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"
 xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/" xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#"
 xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#" rdf:about="">
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>PDF/UA identification</pdfaSchema:schema>
<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource">
<pdfaProperty:name>part</pdfaProperty:name>
<pdfaProperty:valueType>Integer</pdfaProperty:valueType>
<pdfaProperty:category>internal</pdfaProperty:category>
<pdfaProperty:description>The part of ISO 14289 that the file follows</pdfaProperty:description>
</rdf:li></rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas></rdf:Description>
"""


def say_accessible(metadata: Any) -> None:
    """Let the metadata of one document name PDF/UA-1 beside what the renderer writes.

    The renderer puts what it is given after the end of its own description, where there may be one only.
    """
    written: Callable[..., bytes] = metadata.generate_rdf_metadata

    def with_it(*arguments: Any) -> bytes:
        before, end, after = written(*arguments).rpartition(_END)
        if not end:
            raise ValueError(f"the renderer's metadata do not end in {_END!r}: look at what it writes now")
        return before + ACCESSIBLE + end + after

    metadata.generate_rdf_metadata = with_it
