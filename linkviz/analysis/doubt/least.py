"""The least of a gap over many states, of many drawn vehicles at once, without looking at every state.

A tube whose ends move by no more than m changes its gap to a solid by no more than m (`linkviz.clearance.gap`), and so
does the least of several gaps, each less its margin. From the vehicle as measured it is therefore known at which states
a drawn one cannot have its least; those are left out.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from linkviz.analysis.study import Study, shaft_ends
from linkviz.frozen import Frozen
from linkviz.linkage.layout import Array

Of = Callable[[Array, Array], Array]
"""From both ends of m shafts, shape (m, 3) each, to a gap of each, shape (m,), mm."""


class Measured(Frozen, eq=False):
    """What is looked for, and how it stands for the vehicle as measured at each of n states.

    Attributes
    ----------
    of : callable
        A gap, or the least of gaps less their margins.
    ends : tuple of ndarray, shape (n, 3) each
        Both ends of the shaft's axis, mm.
    values : ndarray, shape (n,)
        `of` at those ends, mm.
    """

    of: Of
    ends: tuple[Array, Array]
    values: Array

    @classmethod
    def at(cls, states: Study, of: Of) -> Measured:
        """Look at the states of a study of the vehicle as measured."""
        ends = shaft_ends(states.build, states.poses)
        return cls(of, ends, of(*ends))

    def least(self, front: Array, pinion: Array) -> Array:
        """Return the least over the states of each of b drawn vehicles, shape (b,), mm; ends of shape (b, n, 3)."""
        pairs = zip((front, pinion), self.ends, strict=True)
        bound = self.values - np.maximum(*(np.linalg.norm(drawn - here, axis=-1) for drawn, here in pairs))
        row, first = np.arange(len(front)), bound.argmin(axis=1)
        least = self.of(front[row, first], pinion[row, first])
        rows, columns = np.nonzero(bound < least[:, None])
        rest = columns != first[rows]
        rows, columns = rows[rest], columns[rest]
        np.minimum.at(least, rows, self.of(front[rows, columns], pinion[rows, columns]))
        return least
