"""A tangle: lines or outlines of which each meets so many others that they cannot be a house."""

from collections.abc import Sequence

from shapely import STRtree
from shapely.geometry.base import BaseGeometry

MOST_EACH = 20  # that one meets, on average
MOST_NEAR_EACH = 400  # whose boxes meet, on average: then nobody need look closer
SAMPLE = 300


def is_tangle(shapes: Sequence[BaseGeometry]) -> bool:
    """Whether a sample of the shapes meets more others than walls and rooms do."""
    if len(shapes) <= MOST_EACH:
        return False
    tree = STRtree(shapes)
    sample = list(shapes)[:: -(-len(shapes) // SAMPLE)]
    near, _ = tree.query(sample)
    if len(near) > MOST_NEAR_EACH * len(sample):
        return True
    meeting, _ = tree.query(sample, predicate="intersects")
    return len(meeting) > MOST_EACH * len(sample)
