"""Plankwright plans, checks and explains a floating click-together floor."""

__version__ = "0.1.0"
