"""Calls of the API about people, certificates, what falls due, and the weld log."""
