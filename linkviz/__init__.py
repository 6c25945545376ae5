"""Linkviz: what a lift does to a rear five-link axle, and which bracket puts it right."""

__version__ = "0.1.0"
