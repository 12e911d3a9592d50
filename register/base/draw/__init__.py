"""The one drawing language of screens and sheets: SVG strings from pure functions, no Django.

Shapes carry presentation attributes, so that they print anywhere in black on white, and classes, by which the
stylesheet gives them the colours of light and dark. No inline style. Every drawing has a title and role="img".
"""

from register.base.draw.positions import POSITIONS, position_icon
from register.base.draw.ruler import ruler
from register.base.draw.shapes import answer_shape
from register.base.draw.strip import Span, time_strip

__all__ = ["POSITIONS", "Span", "answer_shape", "position_icon", "ruler", "time_strip"]
