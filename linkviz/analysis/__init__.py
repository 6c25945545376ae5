"""A vehicle with what is done to it: builds, studies, goals, limits and brackets, in numbers and plain words."""
