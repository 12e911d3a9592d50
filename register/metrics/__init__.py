"""Figures for Prometheus: requests by view, waiting times, work in the background, the database."""
