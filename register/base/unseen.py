"""Signs that nobody sees and that make two marks of one: left out of what is typed or sent in."""

import re

UNSEEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u00ad\u200b\u200e\u200f\u202a-\u202e\u2060-\u2069\ufeff]")
"""Neither the joiners of Persian and of signs put together, nor tabs and ends of lines."""
