"""What is printed of jobs and assemblies: coverage report, weld map, sheets of a cell, audit pack."""
