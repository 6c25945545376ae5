"""What the mouse does in a pane: `hand` picks and moves, `pencil` draws an envelope, `placer` lays a photo."""
