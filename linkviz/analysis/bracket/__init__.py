"""The drop bracket on a vehicle: bounds, goals, holes, strength, stock."""
