"""Text from files shown as it is written: Qt takes what looks like HTML for HTML, wherever it is not told otherwise."""

from __future__ import annotations

from html import escape


def plain_tip(text: str) -> str:
    """Return a tool tip that shows a text as it is written, whatever it looks like."""
    if "<" not in text and "&lt;" not in text:
        return text
    return f"<div style='white-space:pre-wrap'>{escape(text)}</div>"
