"""Procedures of one plant of the manufacturer that another may weld to."""
