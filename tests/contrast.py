"""Contrast of two colours as WCAG 2.2 defines it (relative luminance, contrast ratio)."""

from __future__ import annotations


def luminance(colour: str) -> float:
    """Return the relative luminance of ``#rrggbb``, 0 to 1."""
    parts = [int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(a: str, b: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21."""
    low, high = sorted((luminance(a), luminance(b)))
    return (high + 0.05) / (low + 0.05)
