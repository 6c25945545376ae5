"""What the mouse does in a pane: `hand` picks and moves what is there, `pencil` draws an envelope."""
