"""Equations as a list of numpy calls: written down once, then run over many states at a time.

A function of plain arithmetic (`linkviz.linkage.equations` and what is built of it) is called once with `Value` in place
of arrays. What it does to them is the tape. Run over arrays it does the same sums, but

- for a portion of the states at a time, every intermediate result in a place that is used again as soon as nothing
  needs what it held: all of them stay in the processor's cache;
- each place begins where a cache line begins: numpy adds and multiplies such arrays about twice as fast as others;
- what has been worked out once is not worked out again, and what no result needs is not worked out at all;
- a sum over the links is taken as soon as its terms are known.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from threading import local
from typing import Any

import numpy as np
from numpy.lib.mixins import NDArrayOperatorsMixin

from linkviz.linkage.layout import Array

CHUNK = 2048
"""States carried side by side: many more would not fit the processor's cache."""
LINKS = 5
NUMBER, STATES, WIDE = 0, 1, 2
"""Extents of a value: one number, shape (1,); one per state, shape (n,); one per link and state, shape (5, n)."""
_LINE = 64
"""Bytes of a cache line."""
_BUFFER = 64
"""Elements of numpy's buffer; with its usual 8192 it copies operands that are to be broadcast over short rows."""


class Value(NDArrayOperatorsMixin):
    """What is on the tape in place of an array; its sign is kept beside it, so that to negate costs nothing."""

    def __init__(self, recorder: _Recorder, node: int, negative: bool = False) -> None:
        self.recorder, self.node, self.negative = recorder, node, negative

    def __array_ufunc__(self, ufunc: np.ufunc, method: str, *inputs: Any, **_: Any) -> Value:
        """Write a call down instead of making it."""
        values = [v if isinstance(v, Value) else self.recorder.constant(v) for v in inputs]
        if method == "reduce":
            return self.recorder.total(values[0])
        return self.recorder.call(ufunc, *values)


@dataclass(frozen=True)
class _Node:
    """One step: a call on earlier nodes, or, with no call, an input or a constant."""

    ufunc: np.ufunc | None
    operands: tuple[int, ...]
    extent: int
    constant: float | None = None
    total: bool = False


class _Recorder:
    def __init__(self) -> None:
        self.nodes: list[_Node] = []
        self._known: dict[_Node, int] = {}

    def input(self, extent: int) -> Value:
        self.nodes.append(_Node(None, (), extent))
        return Value(self, len(self.nodes) - 1)

    def constant(self, number: float) -> Value:
        return self._add(_Node(None, (), NUMBER, float(number)))

    def total(self, value: Value) -> Value:
        return self._add(_Node(np.add, (value.node,), STATES, total=True), value.negative)

    def call(self, ufunc: np.ufunc, *values: Value) -> Value:
        """Return the value of a call, with signs drawn out and powers taken apart."""
        first, last = values[0], values[-1]
        if ufunc is np.negative:
            return Value(self, first.node, not first.negative)
        if ufunc is np.power:
            return self._power(first, self.nodes[last.node].constant)
        if ufunc is np.subtract:
            return self.call(np.add, first, -last)
        if ufunc is np.add and first.negative != last.negative:
            plus, minus = (last, first) if first.negative else (first, last)
            return self._call(np.subtract, plus.node, minus.node)
        if ufunc is np.add:
            return self._call(ufunc, first.node, last.node, negative=first.negative)
        if ufunc in (np.multiply, np.divide):
            return self._call(ufunc, first.node, last.node, negative=first.negative != last.negative)
        if ufunc in (np.absolute, np.square):
            return self._call(ufunc, first.node)
        return self._call(ufunc, *(self.positive(v).node for v in values))

    def positive(self, value: Value) -> Value:
        """Return a value that has its sign in it."""
        return self._call(np.negative, value.node) if value.negative else value

    def _power(self, base: Value, exponent: float | None) -> Value:
        if exponent == 2.0:
            return self.call(np.square, base)
        if exponent is not None and exponent < 0:
            return self.call(np.divide, self.constant(1.0), self._power(base, -exponent))
        if exponent == 1.0:
            return base
        raise NotImplementedError(f"a power of {exponent}")

    def _call(self, ufunc: np.ufunc, *nodes: int, negative: bool = False) -> Value:
        return self._add(_Node(ufunc, nodes, max(self.nodes[i].extent for i in nodes)), negative)

    def _add(self, node: _Node, negative: bool = False) -> Value:
        if node not in self._known:
            self.nodes.append(node)
            self._known[node] = len(self.nodes) - 1
        return Value(self, self._known[node], negative)


@dataclass(frozen=True)
class _Step:
    """A call on the arrays at some slots, the second -1 where it takes but one; what comes of it goes to slot `out`."""

    call: Callable[..., Any]
    first: int
    second: int
    out: int


class Tape:
    """What a function does to its arguments; called like the function, with arrays.

    Parameters
    ----------
    function : callable
        Of as many arguments as there are extents; returns a sequence of values.
    extents : sequence of int
        The largest extent of each argument; an array that broadcasts to it will do.
    """

    def __init__(self, function: Callable[..., Sequence[Any]], extents: Sequence[int]) -> None:
        recorder = _Recorder()
        inputs = [recorder.input(extent) for extent in extents]
        results = [recorder.positive(v).node for v in function(*inputs)]
        nodes = recorder.nodes
        order = _needed(nodes, results)
        self._extents = [nodes[i].extent for i in results]
        constants = [
            i for i in dict.fromkeys(o for s in order for o in nodes[s].operands) if nodes[i].constant is not None
        ]
        self._constants = [nodes[i].constant for i in constants]
        slots = {node: slot for slot, node in enumerate([*range(len(inputs)), *constants])}
        registers, self._counts = _registers(nodes, order, results)
        starts = np.cumsum([len(slots), *self._counts])
        slots |= {node: int(starts[nodes[node].extent]) + register for node, register in registers.items()}
        self._steps = [_step(nodes[i], slots, slots[i]) for i in order]
        self._results = [slots[i] for i in results]
        self._places = local()

    def __call__(self, n: int, *inputs: Any) -> list[Array]:
        """Return the results for n states, each of its extent; inputs are numbers or arrays."""
        shapes = [(1,), (n,), (LINKS, n)]
        results = [np.empty(shapes[extent]) for extent in self._extents]
        # numpy's usual buffer is so long that it copies rows that are to be broadcast; errstate ends the change
        with np.errstate(all="ignore"):
            np.setbufsize(_BUFFER)
            for start in range(0, n, CHUNK):
                span = slice(start, min(start + CHUNK, n))
                arrays = [v[..., span] if isinstance(v, np.ndarray) and v.shape[-1] == n else v for v in inputs]
                arrays += self._constants
                arrays += self._registers(span.stop - span.start)
                for step in self._steps:
                    if step.second < 0:
                        step.call(arrays[step.first], out=arrays[step.out])
                    else:
                        step.call(arrays[step.first], arrays[step.second], out=arrays[step.out])
                for result, slot in zip(results, self._results, strict=True):
                    result[..., span] = arrays[slot]
        return results

    def _registers(self, n: int) -> list[Array]:
        """Return the places of intermediate results, those of this thread; all begin where a cache line does."""
        if getattr(self._places, "states", None) != n:
            line = _LINE // 8
            width = -(-n // line) * line
            rows = [(line, 1), (width, 1), (width, LINKS)]
            size = sum(count * w * r for count, (w, r) in zip(self._counts, rows, strict=True))
            raw = np.empty(size + line)
            at = (-raw.ctypes.data % _LINE) // 8
            places: list[Array] = []
            for extent, (count, (w, r)) in enumerate(zip(self._counts, rows, strict=True)):
                for _ in range(count):
                    place = raw[at : at + w * r].reshape(r, w)
                    places.append((place[0, :1], place[0, :n], place[:, :n])[extent])
                    at += w * r
            self._places.states, self._places.arrays = n, places
        arrays: list[Array] = self._places.arrays
        return arrays


def _needed(nodes: list[_Node], results: list[int]) -> list[int]:
    """Return the calls that results come from, each sum right behind its terms."""
    needed, waiting = set[int](), list(results)
    while waiting:
        node = waiting.pop()
        if node not in needed:
            needed.add(node)
            waiting += nodes[node].operands
    calls = [i for i in needed if nodes[i].ufunc is not None]
    return sorted(calls, key=lambda i: (nodes[i].operands[0], 1, i) if nodes[i].total else (i, 0, i))


def _registers(nodes: list[_Node], order: list[int], results: list[int]) -> tuple[dict[int, int], list[int]]:
    """Return the register of each call's result, and how many registers there are of each extent."""
    last = {operand: at for at, node in enumerate(order) for operand in nodes[node].operands}
    last |= dict.fromkeys(results, len(order))
    register: dict[int, int] = {}
    free: list[list[int]] = [[], [], []]
    counts = [0, 0, 0]
    for at, node in enumerate(order):
        for operand in set(nodes[node].operands):
            if operand in register and last[operand] == at:
                free[nodes[operand].extent].append(register[operand])
        extent = nodes[node].extent
        if not free[extent]:
            free[extent].append(counts[extent])
            counts[extent] += 1
        register[node] = free[extent].pop()
    return register, counts


def _step(node: _Node, slots: dict[int, int], out: int) -> _Step:
    call = np.add.reduce if node.total else node.ufunc
    assert call is not None
    first, second = (*(slots[i] for i in node.operands), -1)[:2]
    return _Step(call, first, second, out)
