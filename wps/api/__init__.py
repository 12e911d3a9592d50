"""Calls of the API about test records, procedures and sheets."""
