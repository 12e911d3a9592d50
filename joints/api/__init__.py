"""The API put together, and its calls about jobs, joints, coverage, lists of joints and weld values."""
