"""What no line ends in: designations, figures with their units, days. One list for screens and papers.

`register.js` wraps what `UNTORN` finds in the texts of a page, `kept_whole` in those of a paper, each in an element
that does not break. The texts themselves stay as they are: copied, searched and read aloud they are the same as ever.
"""

import re

ELEMENT = "kept-whole"
"""An element of our own: no rule for a `span` meets it."""
BLANK = "blank-before"
"""That of the blank before it, on paper."""

_UNIT = (
    "(?:ml/100 g|kJ/mm|kJ/in|mm/min|m/min|in/min|l/min|l/h|ft³/h|kg/h|lb/h|lb/in³|g/cm³|°[CF]/h|K/s|N/mm²|mm²|mm|"
    "cm|m|in²|in|ft|Δ?°[CF]|kJ|kg|lb|t|l|MPa|ksi|J|A|V|W|K|s|h|min|%)(?![\\w/²³])"
)
_NUMBER = r"\d+(?:[.,]\d+){0,6}(?:-\d+/\d+|/\d+)?"
_FIGURE = f"{_NUMBER}(?:–{_NUMBER})?"
_BELOW_IT = f"(?: \\[{_FIGURE} {_UNIT}\\])?"
_RELATION = "(?:[=≤≥<>]|&[lg]t;)"

KEPT = {
    "a day": r"(?:\bas of )?\b\d{4}-\d\d-\d\d\b|\b\d{1,2} [A-Z][a-z]{2} \d{4}\b",
    "a standard": (
        r"\b(?:DIN )?(?:ISO|EN|AWS|ASME)(?: (?:ISO|EN))?(?:/TR)? [A-Z]?\d[\d.]*\d(?:/D[\d.]+M)?"
        r"(?:-\d+)*(?:-[A-Z]\b)?(?::\d{4})?|\bASME [IVX]+\b(?::\d{4})?"
    ),
    "a process or position with its other name": (
        r"\b(?:[HJ]-L045|[A-Za-z\d]{1,6}[-+]?) · [A-Z\d][\w+-]{0,8}(?: / \d[FG])?(?: (?:up|down)\b)?"
    ),
    "a penetration with its letters": r"\b\w+ · [CP]JP\b",
    "a position with its direction": r"\b\d[FG](?: / \d[FG])?(?: (?:up|down)\b)",
    "a thing with its number": (
        r"\b(?:WPS|WPQR|PQR|BPS|rev|heat|[Jj]ob|[Jj]oint|part|[Ww]eek|[Ll]evel|[Mm]ethod|page|line|Table|Annex|[Gg]roups?"
        r"|[Cc]lause|[A-Z]-No\.) (?:(?:[A-Z]{2}-)?[A-Z]{0,2}\d(?:[\w.-]*\w)?"
        r"(?: rev [A-Z]{1,2}\b| note [a-z]\b| [A-Z]{1,3}\d{1,4}/\d{1,4}\b)?|[IVX]+\b|[A-Z]\b)"
    ),
    "a designation of a filler": (r"\b[EGOSTW] \d\d(?: (?:[A-Z]{1,2}\b|[A-Z]{0,2}\d[A-Za-z\d]{0,4}\b(?!\.\d))){1,7}"),
    "one side with its backing": r"\b(?:ss|bs) (?:nb|mb|gb|fb|gg|ng)\b",
    "a size with its letter": f"\\b[asztT] {_FIGURE}(?: {_UNIT})?",
    "a name of a size with its letter": (
        r"\b(?:thickness|throat|leg|diameter|depth) [asztTD]\b" f"(?: {_RELATION} {_FIGURE}(?: {_UNIT}{_BELOW_IT})?)?"
    ),
    "a sum of two sizes": f"\\b{_FIGURE} {_UNIT} \\+ {_FIGURE} {_UNIT}(?! to\\b)",
    "a figure with its factor": f"\\b{_NUMBER} × {_NUMBER}(?: {_UNIT})?",
    "a figure with its sign": (
        f"(?:\\b[A-Za-z][A-Z\\d]?\\d?(?:\\([A-Z]\\))? )?{_RELATION} ?[−-]?{_FIGURE}(?: {_UNIT}{_BELOW_IT})?"
        f"|[⌀×±−+] ?(?:{_NUMBER} to )?{_FIGURE}(?: {_UNIT}{_BELOW_IT})?"
    ),
    "a figure with its unit": f"\\b(?:{_NUMBER} to )?{_FIGURE} {_UNIT}{_BELOW_IT}",
    "a figure with its letter": r"\b\d+(?:(?:\.\d+){1,6} [a-z]| [az])\b(?![\w/²³-])",
    "a range": f"\\b{_NUMBER}–{_NUMBER}|\\b\\d+-\\d+/\\d+",
    "an angle with its positions": r"\b\d+° \((?:[A-Z], )*[A-Z]\)",
    "a stretch of time": r"\b\d+ (?:day|week|month|year)s?\b",
    "a designation with hyphens or strokes": (
        r"\b[A-Z\d]{1,8}(?:\.\d+){0,6}[a-z]?"
        r"(?:[-/][A-Z\d]{1,8}(?:\.\d+){0,6}[a-z]?){1,3}\b(?: [A-Z]{1,3}\d{1,4}/\d{1,4}\b)?"
    ),
    "a name with its number": f"\\b[A-Z][a-z]{{2,}} [A-Z]?\\d{{1,2}}\\b(?![.,/–-]\\d| {_UNIT})",
    "a short compound": r"\b(?:[A-Z]{1,2}-[a-z]{3,8}|[a-z]{2,5}-[a-z]{2,5})\b",
    "a unit with a stroke": r"\bml/100 g\b|\b(?:kJ|mm|m|l|in|ft³|kg|lb)/(?:mm|min|in|h)(?![\w/²³])",
    "a last figure with the word before it": r"\b[a-z]{3,12} \d{1,2}(?=\s*$)",
}
"""What is kept, and the pattern by which it is known: read by Python and by browsers alike, hence without look-behind.
What repeats is bounded: a long row of figures and points takes no longer than other text.
Where two begin at the same letter the first counts."""
UNTORN = "|".join(KEPT.values())
_UNTORN = re.compile(f"(?P<blank> ?)(?P<kept>{UNTORN})")
_MARKUP = re.compile(r"(<(style|title|script)\b.*?</\2>|<[^>]*>)", re.DOTALL)


def kept_whole(html: str) -> str:
    """The HTML of a paper, in whose texts no line ends within what is kept. Markup stays as it is."""
    parts = _MARKUP.split(html)
    # Of three parts one is text, one markup, one the name that the markup was known by.
    parts[0::3] = [_UNTORN.sub(_wrapped, text) for text in parts[0::3]]
    parts[2::3] = [""] * len(parts[2::3])
    return "".join(parts)


def _wrapped(found: re.Match[str]) -> str:
    """The renderer of papers ends a line at the first blank of a text that ends in one before such an element; a blank
    in an element of its own is not part of that text.
    """
    before = f"<{BLANK}> </{BLANK}>" if found["blank"] else ""
    return f"{before}<{ELEMENT}>{found['kept']}</{ELEMENT}>"
