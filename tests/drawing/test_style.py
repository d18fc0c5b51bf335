"""The sheet of styles: nothing too fine for 200 dpi, contrast of WCAG 2.2, names that are known."""

from typing import get_args

import pytest

from plankwright.drawing.style import (
    DARK,
    HATCHES,
    PAPER,
    PRINT,
    STYLES,
    TEXT_MM,
    Color,
    Palette,
    hatch_named,
    style_named,
)
from plankwright.errors import PlankwrightError


def luminance(color: str) -> float:
    """Relative luminance, WCAG 2.2 (W3C Recommendation), definition of relative luminance."""
    channels = [int(color[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_formula() -> None:
    assert contrast("#FFFFFF", "#000000") == pytest.approx(21.0)  # WCAG 2.2: the greatest there is


@pytest.mark.parametrize("palette", [PAPER, PRINT, DARK])
@pytest.mark.parametrize("ground", ["paper", "floor"])
@pytest.mark.parametrize("ink", ["ink", "pencil", "chalk", "crayon"])
def test_words_keep_contrast_aa(palette: Palette, ground: Color, ink: Color) -> None:
    assert contrast(palette[ink], palette[ground]) >= 4.5  # WCAG 2.2, success criterion 1.4.3


@pytest.mark.parametrize("palette", [PAPER, PRINT, DARK])
def test_palettes_are_complete(palette: Palette) -> None:
    assert set(palette) == set(get_args(Color))


def test_no_line_vanishes_at_200_dpi() -> None:
    dot_mm = 25.4 / 200.0
    assert all(style.width_mm >= dot_mm for style in STYLES.values() if style.line)
    assert all(hatch.spacing_mm >= 2.0 for hatch in HATCHES.values())


def test_text_is_ten_points() -> None:
    assert pytest.approx(3.5278, abs=1e-4) == TEXT_MM


def test_unknown_names_are_refused() -> None:
    with pytest.raises(PlankwrightError, match="wibble"):
        style_named("wibble")
    with pytest.raises(PlankwrightError, match="wibble"):
        hatch_named("wibble")
