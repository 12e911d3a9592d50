"""Filters of the templates of joints."""
