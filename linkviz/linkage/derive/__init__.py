"""Derivation of the link equations with sympy, and the printer of `linkviz.linkage.equations`.

The only place that imports sympy; nothing that runs in the window imports this package.
Run ``python -m linkviz.linkage.derive`` to print the equations anew.
"""
