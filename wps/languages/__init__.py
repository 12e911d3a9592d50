"""The sheet for the cell in other languages: our own words and the terms of the standards. Of a figure only the decimal
sign is another: the comma.

What somebody wrote (titles, notes, preparation in words) stays in the language it was written in.
"""

from wps.languages.translate import Catalogue, translated
from wps.languages.words import CATALOGUES, LANGUAGES

__all__ = ["CATALOGUES", "LANGUAGES", "Catalogue", "translated"]
