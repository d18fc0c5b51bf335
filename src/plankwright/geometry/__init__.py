"""Polygons in, rows and stretches out: pure functions over shapely values."""
