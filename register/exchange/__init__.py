"""The whole register in an open form: out as JSON lines and files, and in again into an empty register.

docs/exchange.md describes the form. No pickle, no dump of a database, nothing that only this program reads.
"""
