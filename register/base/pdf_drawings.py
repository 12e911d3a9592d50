"""Drawings beside the HTML of a sheet: each SVG becomes a file of its own that an `img` asks for.

The renderer matches every style rule with every element of the HTML; an outline of a joint alone has dozens.
"""

import re
from html import escape, unescape

SVG = re.compile(r"<svg\b([^>]*)>(.*?)</svg>", re.DOTALL)
TITLE = re.compile(r"<title>(.*?)</title>", re.DOTALL)
CLASS = re.compile(r'\bclass="([^"]*)"')
XMLNS = 'xmlns="http://www.w3.org/2000/svg"'
FAMILY = 'font-family="Plex, Plex Ext"'


def drawn_apart(html: str, scheme: str) -> tuple[str, dict[str, bytes]]:
    """The HTML with an `img` for each drawing, and the drawings by name. Their titles become what is read aloud.

    A drawing without a title is an ornament beside words that say the same.
    """
    found: dict[str, bytes] = {}

    def img(match: re.Match[str]) -> str:
        attributes, content = match.groups()
        name = f"drawing-{len(found)}.svg"
        own = " ".join(part for part in (attributes.strip(), "" if "xmlns=" in attributes else XMLNS, FAMILY) if part)
        found[name] = f"<svg {own}>{content}</svg>".encode()
        title, cls = TITLE.search(content), CLASS.search(attributes)
        alt = escape(unescape(title.group(1)), quote=True) if title else ""
        return f'<img class="{cls.group(1) if cls else ""}" alt="{alt}" src="{scheme}:{name}">'

    return SVG.sub(img, html), found
