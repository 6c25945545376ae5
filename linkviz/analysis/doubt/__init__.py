"""The measuring error: drawn vehicles, in a process of their own, and the words for it."""
