"""Scans as evidence: checked by content, kept under their hash, given out as files only, never shown inside a page."""
