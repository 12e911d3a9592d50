"""A shop of its own to break: web and worker in processes of their own, on SQLite or on a PostgreSQL of its own."""
