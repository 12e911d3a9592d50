"""Drawings beside the HTML of a sheet: each SVG becomes a file of its own that an `img` asks for.

The renderer matches every style rule with every element of the HTML; an outline of a joint alone has dozens.
"""

import re
from html import escape, unescape

SVG = re.compile(r"<svg\b([^>]*)>(.*?)</svg>", re.DOTALL)
TITLE = re.compile(r"<title>(.*?)</title>", re.DOTALL)
CLASS = re.compile(r'\bclass="([^"]*)"')
XMLNS = 'xmlns="http://www.w3.org/2000/svg"'
ASKED = re.compile(rb"""\b(?:href|src)\s*=\s*["']?([^"'\s>]*)|url\(\s*["']?([^"')\s]*)""", re.IGNORECASE)
FAMILY = 'font-family="Plex, Plex Ext"'


def drawn_apart(html: str, scheme: str) -> tuple[str, dict[str, bytes]]:
    """The HTML with an `img` for each drawing, and the drawings by name. Their titles become what is read aloud.

    A drawing without a title is an ornament beside words that say the same.
    """
    found: dict[str, bytes] = {}
    names: dict[bytes, str] = {}

    def img(match: re.Match[str]) -> str:
        attributes, content = match.groups()
        own = " ".join(part for part in (attributes.strip(), "" if "xmlns=" in attributes else XMLNS, FAMILY) if part)
        drawing = f"<svg {own}>{content}</svg>".encode()
        # A shape that stands at every line is one file.
        name = names.setdefault(drawing, f"drawing-{len(names)}.svg")
        found[name] = drawing
        title, cls = TITLE.search(content), CLASS.search(attributes)
        of = cls.group(1) if cls else ""
        if title is None:
            # A background is what a tagged PDF passes over when it is read aloud.
            return f'<span class="ornament {of}" style="background-image: url({scheme}:{name})"></span>'
        return f'<img class="{of}" alt="{escape(unescape(title.group(1)), quote=True)}" src="{scheme}:{name}">'

    return SVG.sub(img, html), found


def asked_by(drawing: bytes) -> list[str]:
    """What a drawing asks for beside itself. Ours ask for nothing; the renderer only finds out where it is painted."""
    found = [(first or second).decode() for first, second in ASKED.findall(drawing)]
    return [address[:200] for address in found if address and not address.startswith("#")]
