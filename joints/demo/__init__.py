"""The demonstration: an invented fabricator with its records, procedures, people and joints.

Every name is made up. Days are counted from the day it is loaded, so that what is about to lapse stays about to lapse.
"""
