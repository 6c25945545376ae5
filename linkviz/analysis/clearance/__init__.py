"""What moves, what it is watched against, and what that comes down to."""
