"""Every rule, entered in the order of the page: contradictions first, what is missing last."""

from importlib import import_module

from joints.weld_data.registry import RULES

MODULES = (
    "contradictions",
    "steel",
    "heats",
    "aws_sizes",
    "en_sizes",
    "runs",
    "preparations",
    "lengths",
    "intermittent",
    "tacks",
    "positions",
    "missing",
)
for _name in MODULES:
    import_module(f"joints.weld_data.{_name}")

__all__ = ["RULES"]
