"""Bent plates: bends, flat patterns, holes and checks, in plain numbers (mm, rad, N, MPa, kg)."""
