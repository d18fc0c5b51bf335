"""Least-squares adjustment of a tape survey."""
