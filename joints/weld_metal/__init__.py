"""Weld metal, filler, arc time and gas of joints, and their sums for an assembly and a job."""
