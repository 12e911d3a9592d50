"""Pages of jobs, assemblies, joints, workstations and imports, and the first page."""
