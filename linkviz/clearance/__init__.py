"""Clearance between a round tube and a solid given by two outlines: exact gaps, depths, and zones of interference."""
