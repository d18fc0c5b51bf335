"""Job files, GeoJSON, plan files, cut lists."""
