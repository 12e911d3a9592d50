"""What the renderer keeps between sheets: the fonts and the parsed style sheets, once in a process.

Unpacking the four font files takes as long as laying out a whole sheet. The renderer's text engine is not made for
several threads, so one sheet is rendered at a time: all of it is Python and would not go faster side by side.
"""

import logging
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from threading import RLock
from typing import Any
from xml.etree import ElementTree

from cssselect2 import ElementWrapper
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration

from register.base.pdf import OwnFiles, RefusedAddress, url_of

LOCK = RLock()
VOID = re.compile(r"<(meta|br|img|col)\b([^<>]*?)/?>")
"""Elements that HTML leaves open."""

TABLES = frozenset(("table", "colgroup", "col", "thead", "tbody", "tr", "td", "th"))
ELEMENTS = (
    TABLES
    | frozenset(("html", "head", "meta", "title", "body", "section", "header", "footer", "div", "p", "h1", "h2", "h3"))
    | frozenset(("dl", "dt", "dd", "b", "span", "br", "img"))
)
"""What `elements.css` knows."""

for _chatty in ("weasyprint.progress", "fontTools"):
    logging.getLogger(_chatty).setLevel(logging.WARNING)


@dataclass(frozen=True)
class Kept:
    """The fonts that a style sheet names, unpacked, and its rules, parsed."""

    fonts: FontConfiguration
    rules: CSS


@lru_cache(maxsize=16)
def kept(stylesheet: Path) -> Kept:
    """Read once. Raises RefusedAddress for a style sheet that asks for what is not ours."""
    files, fonts = OwnFiles(stylesheet), FontConfiguration()
    rules = CSS(url=url_of(files.stylesheet), url_fetcher=files, font_config=fonts)
    if files.refused:
        raise RefusedAddress(
            f"{stylesheet.name} asks for {', '.join(files.refused)}; a sheet reads its own files only."
        )
    return Kept(fonts, rules)


@lru_cache(maxsize=64)
def page_rules(size: str, type_size: str) -> CSS:
    """The size of the paper and of the type."""
    return CSS(string=f"@page {{ size: {size}; }} html {{ font-size: {type_size}; }}")


class OwnElements(HTML):
    """A page of none but `ELEMENTS`, styled from their rules alone."""

    def _ua_stylesheets(self, forms: bool = False) -> list[CSS]:
        return [element_rules()]


@lru_cache(maxsize=1)
def element_rules() -> CSS:
    """What stands before every style sheet."""
    return CSS(string=Path(__file__).with_name("elements.css").read_text())


def parsed(html: str, files: OwnFiles) -> HTML:
    """The HTML as the renderer wants it. Our templates are well-formed, so the parser of XML does, a hundred times as
    fast as the one that mends other people's pages; what it refuses goes to that one.
    """
    try:
        root = ElementTree.fromstring(VOID.sub(r"<\1\2/>", html[html.index("<html") :]))
    except (ElementTree.ParseError, ValueError):
        return HTML(string=html, url_fetcher=files)
    with_bodies(root)
    kind = OwnElements if ELEMENTS.issuperset(element.tag for element in root.iter()) else HTML
    source: HTML = kind.__new__(kind)
    source.base_url, source.url_fetcher, source.media_type = None, files, "print"
    source.wrapper_element = ElementWrapper.from_html_root(root, content_language=None)
    source.etree_element = root
    return source


def with_bodies(root: ElementTree.Element) -> None:
    """Put the rows that stand in a table itself into a body, as the parser of HTML does. Without it the tags of the PDF
    hold a table within each table.
    """
    for table in list(root.iter("table")):
        kids: list[ElementTree.Element] = []
        for kid in table:
            if kid.tag != "tr":
                kids.append(kid)
                continue
            if not kids or kids[-1].tag != "tbody" or kids[-1] in table:
                kids.append(ElementTree.Element("tbody"))
            kids[-1].append(kid)
        table[:] = kids


def laid_out(html: str, files: OwnFiles, size: str, type_size: str, options: Mapping[str, Any]) -> Any:
    """The document, its pages broken."""
    style = kept(files.path)
    sheets = [style.rules, page_rules(size, type_size)]
    source = parsed(html, files)
    return source.render(font_config=style.fonts, stylesheets=sheets, **options)
