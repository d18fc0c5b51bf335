"""The use cases, one module each."""
