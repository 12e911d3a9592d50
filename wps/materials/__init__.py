"""Certificates of parent materials: heat, analysis, mechanical values, and the carbon equivalents they give."""
