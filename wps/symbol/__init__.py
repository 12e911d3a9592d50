"""Welding symbols as SVG: ISO 2553 (system A) and AWS A2.4, made from the joint that a procedure or a list states.

Pure functions without Django. Both standards' rules for the placing of the marks are entered from memory and as common
practice in drawing offices; the standards' own text decides.
"""

from wps.symbol.draw import aws_symbol, iso_symbol
from wps.symbol.spec import Form, Side, Symbol, symbol_of

__all__ = ["Form", "Side", "Symbol", "aws_symbol", "iso_symbol", "symbol_of"]
