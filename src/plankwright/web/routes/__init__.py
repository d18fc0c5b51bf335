"""The routes: one noun each."""
