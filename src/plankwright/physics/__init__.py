"""Slab, air, flatness, movement: formulas with their published source and range."""
