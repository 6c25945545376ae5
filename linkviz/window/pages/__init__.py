"""The pages on the right: counter, vehicle, clearance."""
