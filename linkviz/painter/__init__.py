"""The writer that paints with Qt: on the screen, into PNG and GIF files."""
