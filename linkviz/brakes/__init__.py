"""The load-sensing brake valve and the balance of brakes; plain numbers. `THEORY.md` explains it."""
