"""The laying log and the jobs, kept in SQLite."""
