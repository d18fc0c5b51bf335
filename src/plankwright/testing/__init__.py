"""Rooms to test with, for this project's tests and for anyone who builds on it."""
