"""Weld data as sent in: what is missing, contradictory or against a rule, what would be right, and what was taken over.

A rule is a small function of one weld (`registry`); it proposes, and only somebody's word changes a joint (`accept`).
"""
