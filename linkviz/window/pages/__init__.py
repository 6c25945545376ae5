"""The pages on the right, one at a time, listed in `registry`; each is made when it is first shown."""
