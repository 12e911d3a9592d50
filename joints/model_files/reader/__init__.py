"""The program that reads a model, alone in a process: no Django, no network, nothing written but its answer."""
