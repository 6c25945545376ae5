"""How high a coil-sprung axle carries the body, and what that does; plain numbers. `THEORY.md` explains it."""
