"""Elements of an SVG drawing as escaped text. Coordinates are pixels of the drawing, never limits of a code."""

from collections.abc import Iterable
from decimal import Decimal
from html import escape

from register.judged_words import told

Number = int | float | Decimal


def pixels(value: Number) -> str:
    """A coordinate with at most one decimal. Example: pixels(12.04) gives "12"."""
    text = f"{float(value):.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def element(name: str, content: str = "", **attributes: Number | str) -> str:
    """One element; `cls` is the class, underscores become hyphens, numbers are rounded to a tenth.

    The content is taken as it is: escape text with `words`.
    """
    parts = [f' {_key(k)}="{_value(v)}"' for k, v in attributes.items() if v != ""]
    return f"<{name}{''.join(parts)}/>" if not content else f"<{name}{''.join(parts)}>{content}</{name}>"


def words(text: str) -> str:
    """Text made safe inside an element."""
    return escape(text, quote=True)


def line(x1: Number, y1: Number, x2: Number, y2: Number, cls: str, width: Number = 1) -> str:
    """A straight line."""
    return element("line", x1=x1, y1=y1, x2=x2, y2=y2, cls=cls, stroke="currentColor", stroke_width=width)


def path(d: str, cls: str, width: Number = 1, fill: str = "none") -> str:
    """A path, outlined and by default not filled."""
    return element("path", d=d, cls=cls, fill=fill, stroke="currentColor", stroke_width=width)


def label(x: Number, y: Number, text: str, anchor: str = "middle", cls: str = "label", size: Number = 11) -> str:
    """A piece of text; y is its baseline."""
    return element("text", words(text), x=x, y=y, cls=cls, text_anchor=anchor, font_size=size, fill="currentColor")


def drawing(width: Number, height: Number, title: str, cls: str, parts: Iterable[str], box: str = "") -> str:
    """The whole drawing with its title, which is also what a screen reader says.

    An empty title makes it an ornament beside a text that says the same: hidden from a screen reader.
    """
    title = told(title)
    said = {"role": "img", "aria_label": title} if title else {"aria_hidden": "true", "focusable": "false"}
    return element(
        "svg",
        (element("title", words(title)) if title else "") + "".join(parts),
        xmlns="http://www.w3.org/2000/svg",
        cls=f"drawing {cls}",
        width=width,
        height=height,
        viewBox=box or f"0 0 {pixels(width)} {pixels(height)}",
        **said,
    )


def _key(name: str) -> str:
    return "class" if name == "cls" else name if name == "viewBox" else name.replace("_", "-")


def _value(value: Number | str) -> str:
    return words(value) if isinstance(value, str) else pixels(value)
