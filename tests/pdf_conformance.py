"""What a PDF for keeping must and must not hold: the rules of ISO 19005-3:2012 (PDF/A-3, level A) and of
ISO 14289-1:2014 (PDF/UA-1) that a program can ask of a file. Clauses from memory; no
certified validator stands behind it.

`violations(pdf)` names each broken rule once, with its clause and the first place.
"""

import io
import re
from collections.abc import Iterator
from typing import Any

from pypdf import PdfReader
from pypdf.generic import ContentStream, DictionaryObject, IndirectObject, NameObject, StreamObject

from tests.pdf_fonts import Font

ACTIONS_ALLOWED = {"/GoTo", "/GoToR", "/URI", "/Thread", "/SubmitForm", "/Named"}
BLENDS = {
    *("Normal", "Compatible", "Multiply", "Screen", "Overlay", "Darken", "Lighten", "ColorDodge", "ColorBurn"),
    *("HardLight", "SoftLight", "Difference", "Exclusion", "Hue", "Saturation", "Color", "Luminosity"),
}
STANDARD_TAGS = {
    *(
        "Document",
        "Part",
        "Art",
        "Sect",
        "Div",
        "BlockQuote",
        "Caption",
        "TOC",
        "TOCI",
        "Index",
        "NonStruct",
        "Private",
    ),
    *("P", "H", "H1", "H2", "H3", "H4", "H5", "H6", "L", "LI", "Lbl", "LBody", "Table", "TR", "TH", "TD", "THead"),
    *("TBody", "TFoot", "Span", "Quote", "Note", "Reference", "BibEntry", "Code", "Link", "Annot", "Ruby", "RB", "RT"),
    *("RP", "Warichu", "WT", "WP", "Figure", "Formula", "Form"),
}
PAINTS = {"Tj", "TJ", "'", '"', "S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "sh", "Do", "EI", "INLINE IMAGE", "BI"}
LONGEST_NAME, DEEPEST = 127, 28


def violations(pdf: bytes) -> list[str]:
    """Each broken rule once: "clause: what", in the order of the clauses."""
    found: dict[str, None] = {}
    reader = PdfReader(io.BytesIO(pdf))
    for rule in (_file, _every_object, _catalog, _metadata, _files, _structure, _annotations, _pages):
        for words in rule(pdf, reader):
            found.setdefault(words)
    return sorted(found)


def _file(pdf: bytes, reader: PdfReader) -> Iterator[str]:
    if not re.match(rb"%PDF-1\.[0-7]\r?\n%[\x80-\xff]{4}", pdf):
        yield "6.1.2: the header is not %PDF-1.n with four bytes above 127 in the next line"
    if len(re.findall(rb"%%EOF", pdf)) < 1 or not re.search(rb"%%EOF\r?\n?$", pdf):
        yield "6.1.3: something follows the end of the file"
    if "/ID" not in reader.trailer:
        yield "6.1.3: no ID in the trailer"
    if "/Encrypt" in reader.trailer:
        yield "6.1.3: it is encrypted"


def objects(reader: PdfReader) -> Iterator[Any]:
    """All that can be reached from the trailer, each object once."""
    seen: set[int] = set()
    wait: list[Any] = [reader.trailer]
    while wait:
        one = wait.pop()
        if isinstance(one, IndirectObject):
            if one.idnum in seen:
                continue
            seen.add(one.idnum)
            one = one.get_object()
        yield one
        if isinstance(one, dict):
            wait += dict.values(one)
        elif isinstance(one, list):
            wait += list.__iter__(one)


def _every_object(pdf: bytes, reader: PdfReader) -> Iterator[str]:
    for one in objects(reader):
        if isinstance(one, NameObject) and len(one.encode()) > LONGEST_NAME + 1:
            yield f"6.1.13: the name {one[:20]} is longer than {LONGEST_NAME} bytes"
        if not isinstance(one, DictionaryObject):
            continue
        if isinstance(one, StreamObject):
            if {"/F", "/FFilter", "/FDecodeParms"} & set(one):
                yield "6.1.7.1: a stream lies in another file"
            if any(name in str(one.get("/Filter")) for name in ("LZW", "Crypt")):
                yield "6.1.7.2: a stream is packed with LZW or encrypted"
        if "/AA" in one:
            yield "6.5.2: something happens by itself (AA)"
        yield from _action(one)
        yield from _look(one)


def _action(one: DictionaryObject) -> Iterator[str]:
    kind = one.get("/S")
    if (one.get("/Type") == "/Action" or "/URI" in one or "/JS" in one) and kind and kind not in ACTIONS_ALLOWED:
        yield f"6.5.1: the action {kind} is not allowed"
    if "/JS" in one:
        yield "6.5.1: there is a script"


def _look(one: DictionaryObject) -> Iterator[str]:
    if one.get("/Type") == "/ExtGState" or "/ca" in one or "/CA" in one or "/BM" in one:
        if "/TR" in one or one.get("/TR2", "/Default") != "/Default" or "/HTP" in one:
            yield "6.2.5: a graphics state has a transfer function"
        blend = one.get("/BM", "/Normal")
        if any(str(name)[1:] not in BLENDS for name in (blend if isinstance(blend, list) else [blend])):
            yield f"6.2.10: the blend mode {blend} is not in ISO 32000-1"
    if one.get("/Subtype") == "/Image":
        if one.get("/Interpolate", False) or {"/Alternates", "/OPI"} & set(one):
            yield "6.2.8: an image is interpolated, or has alternates"
        if "CMYK" in str(one.get("/ColorSpace")):
            yield "6.2.4.3: an image is in CMYK"
    if one.get("/Subtype") == "/Form" and {"/OPI", "/PS", "/Ref"} & set(one):
        yield "6.2.9: a form refers to something outside"
    if one.get("/Subtype") == "/PS":
        yield "6.2.9: there is PostScript"


def _catalog(pdf: bytes, reader: PdfReader) -> Iterator[str]:
    root = reader.root_object
    intents = [one.get_object() for one in root.get("/OutputIntents", [])]
    profiles = [one["/DestOutputProfile"].get_object() for one in intents if one.get("/S") == "/GTS_PDFA1"]
    if not profiles:
        yield "6.2.3: no output intent GTS_PDFA1 with a profile"
    for profile in profiles:
        data = profile.get_data()
        if data[36:40] != b"acsp" or data[16:20] != b"RGB " or profile.get("/N") != 3:
            yield "6.2.3: the profile is not one of RGB"
    if "/Requirements" in root:
        yield "6.11: the reader is required to do something"
    if "/AcroForm" in root and "/XFA" in root["/AcroForm"]:
        yield "6.4.2: there is a form in XFA"
    if "/OpenAction" in root and not isinstance(root["/OpenAction"].get_object(), list):
        yield "6.5.1: something is done on opening"


def _metadata(pdf: bytes, reader: PdfReader) -> Iterator[str]:
    root = reader.root_object
    if "/Metadata" not in root:
        yield "6.6.2: no metadata"
        return
    xmp = root["/Metadata"].get_object().get_data().decode()
    for name, value in (("part", "3"), ("conformance", "A")):
        if not re.search(rf"pdfaid:{name}(=\"{value}\"|>{value}<)", xmp):
            yield f"6.6.4: pdfaid:{name} is not {value}"
    if "dc:title" not in xmp:
        yield "UA 7.1: no dc:title"
    if not re.search(r"pdfuaid:part(=\"1\"|>1<)", xmp):
        yield "UA 5: pdfuaid:part is not 1"
    if "pdfuaid" in xmp and "pdfaSchema:namespaceURI" not in xmp:
        yield "6.6.2.3.2: the schema of pdfuaid is not described"


def _files(pdf: bytes, reader: PdfReader) -> Iterator[str]:
    specs = [one for one in objects(reader) if isinstance(one, dict) and "/EF" in one]
    listed = [one.get_object() for one in reader.root_object.get("/AF", [])]
    for spec in specs:
        if "/F" not in spec or "/UF" not in spec:
            yield "6.8: a file has no F and UF"
        if spec.get("/AFRelationship") not in ("/Source", "/Data", "/Alternative", "/Supplement", "/Unspecified"):
            yield "6.8: what a file is to the document is not said (AFRelationship)"
        if spec not in listed:
            yield "6.8: a file is not listed in AF"
        for stream in spec["/EF"].values():
            stream = stream.get_object()
            if "/" not in str(stream.get("/Subtype", ""))[1:].replace("#2f", "/").replace("#2F", "/"):
                yield "6.8: a file has no type (Subtype)"
            if "/ModDate" not in stream.get("/Params", {}):
                yield "6.8: a file has no date (ModDate)"
        if not spec.get("/Desc"):
            yield "UA 7.11: a file has no description (Desc)"


def _structure(pdf: bytes, reader: PdfReader) -> Iterator[str]:
    root = reader.root_object
    if not root.get("/MarkInfo", {}).get("/Marked", False):
        yield "6.7.2: not marked"
    if root.get("/MarkInfo", {}).get("/Suspects", False):
        yield "UA 7.1: suspects"
    if not re.fullmatch(r"[a-zA-Z]{1,8}(-[a-zA-Z0-9]{1,8})*", str(root.get("/Lang", ""))):
        yield "6.7.4: no language"
    if not root.get("/ViewerPreferences", {}).get("/DisplayDocTitle", False):
        yield "UA 7.1: the title is not shown (DisplayDocTitle)"
    if "/StructTreeRoot" not in root:
        yield "6.7.3: no structure"
        return
    tree = root["/StructTreeRoot"]
    if "/ParentTree" not in tree:
        yield "6.7.3: no way from the page to the structure (ParentTree)"
    roles = tree.get("/RoleMap", {})
    level = 0
    for node, path in elements(tree):
        tag = str(node["/S"])[1:]
        tag = str(roles.get("/" + tag, "/" + tag))[1:]
        if tag not in STANDARD_TAGS:
            yield f"6.7.3.4: {tag} is no standard type and has no role"
        if tag == "Figure" and not (node.get("/Alt") or node.get("/ActualText")):
            yield "UA 7.3: a figure has no words in its place (Alt)"
        if re.fullmatch("H[1-6]", tag):
            if int(tag[1]) > level + 1:
                yield f"UA 7.4.2: {tag} follows H{level}"
            level = int(tag[1])
        yield from _place(tag, path, node)


def elements(node: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[DictionaryObject, tuple[str, ...]]]:
    """The elements of the structure in reading order, each with the tags of what holds it."""
    kids = node.get("/K", [])
    kids = kids.get_object() if isinstance(kids, IndirectObject) else kids
    for kid in kids if isinstance(kids, list) else [kids]:
        kid = kid.get_object()
        if isinstance(kid, DictionaryObject) and "/S" in kid:
            yield kid, path
            yield from elements(kid, (*path, str(kid["/S"])[1:]))


PARENTS = {
    "TR": {"Table", "THead", "TBody", "TFoot"},
    "THead": {"Table"},
    "TBody": {"Table"},
    "TFoot": {"Table"},
    "TH": {"TR"},
    "TD": {"TR"},
    "LI": {"L"},
    "LBody": {"LI"},
}
KIDS = {
    "Table": {"TR", "THead", "TBody", "TFoot", "Caption"},
    "THead": {"TR"},
    "TBody": {"TR"},
    "TR": {"TH", "TD"},
    "L": {"LI", "L", "Caption"},
    "LI": {"Lbl", "LBody"},
}
"""What each may stand in, and may hold (ISO 32000-1:2008, tables 336 and 337)."""


def _place(tag: str, path: tuple[str, ...], node: DictionaryObject) -> Iterator[str]:
    if tag in PARENTS and (not path or path[-1] not in PARENTS[tag]):
        yield f"UA 7.2: {tag} stands in {path[-1] if path else 'nothing'}"
    if path and path[-1] in KIDS and tag not in KIDS[path[-1]]:
        yield f"UA 7.2: {path[-1]} holds {tag}"
    if tag == "Table":
        yield from _heads(node)


def _heads(table: DictionaryObject) -> Iterator[str]:
    """A cell names its heads, or the heads say what they head: one of the two, where there are heads at all."""
    cells = [one for one, _ in elements(table) if one["/S"] in ("/TH", "/TD")]
    heads = [one for one in cells if one["/S"] == "/TH"]
    names = {str(one.get("/ID")) for one in heads}
    for cell in cells:
        named = {str(one) for given in _attributes(cell) for one in given.get("/Headers", [])}
        if named - names:
            yield "UA 7.5: a cell names a head that is not in its table (Headers)"
        if cell["/S"] == "/TD" and heads and not named and not all(map(_scoped, heads)):
            yield "UA 7.5: a cell has no head (neither Headers nor Scope)"


def _attributes(node: DictionaryObject) -> list[Any]:
    given = node.get("/A", [])
    given = given.get_object() if isinstance(given, IndirectObject) else given
    return [one.get_object() for one in (given if isinstance(given, list) else [given])]


def _scoped(head: DictionaryObject) -> bool:
    return any("/Scope" in given for given in _attributes(head))


def _annotations(pdf: bytes, reader: PdfReader) -> Iterator[str]:
    for page in reader.pages:
        marks = [one.get_object() for one in page.get("/Annots", [])]
        if marks and page.get("/Tabs") != "/S":
            yield "UA 7.18.3: the order of the marks of a page is not that of its structure (Tabs)"
        for mark in marks:
            flags = mark.get("/F", 0)
            if not flags & 4 or flags & (1 | 2 | 32 | 256):
                yield f"6.3.2: a mark {mark.get('/Subtype')} is not printed, or hidden"
            if mark.get("/Subtype") not in ("/Link", "/Popup") and "/AP" not in mark:
                yield f"6.3.3: a mark {mark.get('/Subtype')} has no look of its own"
            if mark.get("/Subtype") == "/Link" and not mark.get("/Contents"):
                yield "UA 7.18.5: a link has no words (Contents)"
            if mark.get("/Subtype") == "/Link" and "/StructParent" not in mark:
                yield "UA 7.18.5: a link is not in the structure (StructParent)"


def _pages(pdf: bytes, reader: PdfReader) -> Iterator[str]:
    for number, page in enumerate(reader.pages, 1):
        width, height = (float(page.mediabox[n]) for n in (2, 3))
        if not 3 <= min(width, height) <= max(width, height) <= 14400:
            yield f"6.1.13: side {number} is {width:g} x {height:g}"
        contents = page.get_contents()
        if contents is not None:
            yield from _drawn(contents, page.get("/Resources", {}), reader, f"side {number}", set(), False)


def _drawn(stream: Any, resources: Any, reader: PdfReader, where: str, seen: set[int], marked: bool) -> Iterator[str]:
    """What is painted: fonts, colours, and whether each stroke is part of the structure or set apart from it."""
    font, depth, deepest, open_marks = None, 0, 0, []
    resources = resources.get_object() if isinstance(resources, IndirectObject) else resources
    for operands, operator in ContentStream(stream, reader).operations:
        name = operator.decode()
        if name == "q":
            depth += 1
            deepest = max(deepest, depth)
        elif name == "Q":
            depth -= 1
        elif name in ("BMC", "BDC"):
            in_tree = name == "BDC" and "/MCID" in _properties(operands)
            open_marks.append(in_tree or operands[0] == "/Artifact")
        elif name == "EMC":
            open_marks.pop()
        elif name in ("k", "K"):
            yield f"6.2.4.3: CMYK on {where}"
        elif name in ("ri",) and operands[0] not in (
            "/RelativeColorimetric",
            "/AbsoluteColorimetric",
            "/Perceptual",
            "/Saturation",
        ):
            yield f"6.2.6: the rendering intent {operands[0]} on {where}"
        elif name == "Tf":
            font = Font(resources["/Font"][operands[0]].get_object())
            yield from font.faults()
        elif name in ("Tj", "TJ", "'", '"') and font is not None:
            yield from font.wrong(operands)
        if name in PAINTS and not (marked or any(open_marks)):
            yield f"UA 7.1: something painted is neither in the structure nor set apart ({name})"
        if name == "Do":
            form = resources["/XObject"][operands[0]].get_object()
            if form.get("/Subtype") == "/Form" and id(form) not in seen:
                seen.add(id(form))
                inside = form.get("/Resources", resources)
                yield from _drawn(form, inside, reader, where, seen, marked or any(open_marks))
    if deepest > DEEPEST:
        yield f"6.1.13: {deepest} states within each other on {where}"
    if depth:
        yield f"6.2.2: q and Q are not in pairs on {where}"


def _properties(operands: Any) -> Any:
    return operands[1] if len(operands) > 1 and isinstance(operands[1], dict) else {}
