"""Calculations of the welding engineer, one family of formulas a file: exact decimals, limits, all steps.

Each function returns a `Result` or raises `Refused` outside the range of its method. By name and with plain inputs they
are asked through `codes.calc.registry.calculate`. A result lies within the last of 28 digits; only `shown` is rounded
for print.
"""
