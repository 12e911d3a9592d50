"""Addresses of the common ground that take arguments."""

SAMPLES = {
    "held:tables": lambda: {"package": "iso_9606_1_2012"},
    "held:reading": lambda: {"key": "iso_9606_1_mode_136"},
}
