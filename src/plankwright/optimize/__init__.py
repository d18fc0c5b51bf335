"""The cutting problem in integers: instance, bounds, search."""
