"""Welds out of IFC4 and IFC4.3 models, and the answers written back into them.

The file is read by a process of its own with bounds on memory and time (`sandbox`, `reader`); what it found goes the
way of every list (joints.imports). Sources: the entity and property pages of buildingSMART's IFC4.3 documentation and
the schemas IFC4 and IFC4X3_ADD2.
"""
