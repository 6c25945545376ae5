"""The tests of Linkviz: the paths of the code, and ``external`` for checks against outside sources."""
