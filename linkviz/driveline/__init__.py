"""The driveshaft and its two joints, from plain numbers."""
