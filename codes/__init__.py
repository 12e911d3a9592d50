"""The welding codes as plain Python: records become limits, demands are checked against them.

No Django, no clock, no database. Lengths in mm, temperatures in degC, stresses in MPa, heat input in kJ/mm;
all figures are `decimal.Decimal`. Start reading at `codes.limits`, then `codes.check`.
"""
