#!/usr/bin/env python3
"""Run a management command of the register."""

import os
import sys

from django.core.management import execute_from_command_line

if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "register.settings")
    execute_from_command_line(sys.argv)
