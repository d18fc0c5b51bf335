"""One display list, and its players."""
