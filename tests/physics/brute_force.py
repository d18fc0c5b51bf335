"""A second, slow way to the worst gap: other triangles (scipy), sampled lines, all pairs."""

import math

import numpy as np
import numpy.typing as npt
from scipy.interpolate import LinearNDInterpolator

Floats = npt.NDArray[np.float64]


def random_points(rng: np.random.Generator, n: int, step_mm: float = 500.0) -> Floats:
    """A grid pushed about, so that its Delaunay triangles are one of a kind."""
    x, y = np.meshgrid(np.arange(n) * step_mm, np.arange(n) * step_mm)
    grid = np.stack([x.ravel(), y.ravel()], axis=1)
    return grid + rng.uniform(-0.2, 0.2, grid.shape) * step_mm


def hull_gap(t: Floats, h: Floats) -> float:
    """Largest distance of a profile below its upper hull (monotone chain)."""
    hull: list[int] = []
    for k in range(len(t)):
        while len(hull) > 1:
            a, b = hull[-2], hull[-1]
            if (h[b] - h[a]) * (t[k] - t[a]) > (h[k] - h[a]) * (t[b] - t[a]):
                break
            hull.pop()
        hull.append(k)
    return float(np.max(np.interp(t, t[hull], h[hull]) - h))


def sliding_gap(t: Floats, h: Floats, edge_mm: float) -> float:
    """Worst hull gap of every window of the edge's length along a sampled profile."""
    count = max(2, int(np.searchsorted(t, t[0] + edge_mm + 1e-6)))
    if count >= len(t):
        return hull_gap(t, h)
    return max(hull_gap(t[k : k + count], h[k : k + count]) for k in range(len(t) - count + 1))


def all_pairs_gap(h: Floats, step_mm: float, edge_mm: float) -> float:
    """Worst gap of an equally sampled profile below the chord of any two samples within reach."""
    worst = 0.0
    for apart in range(2, min(len(h) - 1, int(edge_mm / step_mm + 1e-9)) + 1):
        windows = np.lib.stride_tricks.sliding_window_view(h, apart + 1)
        first, last = windows[:, :1], windows[:, -1:]
        chords = first + (last - first) * (np.arange(apart + 1) / apart)
        worst = max(worst, float((chords - windows).max()))
    return worst


def sampled_gap(
    points: Floats, heights: Floats, edge_mm: float, *, angles: int, apart_mm: float, step_mm: float
) -> float:
    """Worst gap over lines in ``angles`` directions, ``apart_mm`` from each other."""
    surface = LinearNDInterpolator(points, heights)
    center, reach = points.mean(axis=0), float(np.ptp(points, axis=0).max())
    t = np.arange(-reach, reach, step_mm)
    worst = 0.0
    for angle in np.arange(angles) * math.pi / angles:
        along = np.array([math.cos(angle), math.sin(angle)])
        aside = np.array([-along[1], along[0]])
        for offset in np.arange(-reach, reach, apart_mm):
            h = surface(center + offset * aside + t[:, None] * along)
            inside = np.isfinite(h)
            if inside.sum() > 2:
                worst = max(worst, all_pairs_gap(h[inside], step_mm, edge_mm))
    return worst
