"""The languages there are. English is the one that is written, checked and approved."""

from wps.languages.de import GERMAN
from wps.languages.fr import FRENCH
from wps.languages.translate import Catalogue

LANGUAGES = {"en": "English", "de": "Deutsch", "fr": "français"}
CATALOGUES: dict[str, Catalogue] = {"de": GERMAN, "fr": FRENCH}
