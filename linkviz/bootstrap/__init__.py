"""Making the program runnable in a fresh clone, with nothing but Python's own library.

`start.ready` is the one call from outside; `qt_libraries` also serves the commands that open a window.
"""
