"""Equations as a list of numpy calls: written down once, then run over many states at a time.

A function of plain arithmetic (`linkviz.linkage.equations` and what is made of it) is called once with `Value` in place
of arrays. What it does to them is the tape. Run over arrays it does the same sums, but

- for a portion of the states at a time, every intermediate result in a place that is used again as soon as nothing
  needs what it held: all of them stay in the processor's cache;
- each place begins where a cache line begins: numpy adds and multiplies such arrays about twice as fast as others;
- what has been worked out once is not worked out again, and what no result needs is not worked out at all;
- a sum over the links is taken as soon as its terms are known.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from threading import local
from typing import Any

import numpy as np
from numpy.lib.mixins import NDArrayOperatorsMixin

from linkviz.frozen import Frozen
from linkviz.linkage.layout import Array

CHUNK = 2048
"""States carried side by side: many more would not fit the processor's cache."""
FEW, FEW_KEPT = 128, 8
"""A frame asks for one state, for two and for all of a window in turn: so many programs of so few states are kept."""
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


class _Node(Frozen):
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


class _Program(Frozen, eq=False):
    """A tape with its arrays in place, for one number of states."""

    inputs: list[Array]
    calls: list[tuple[Callable[..., Any], tuple[Any, ...]]]
    results: list[Array]


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
        self._results = [recorder.positive(v).node for v in function(*inputs)]
        self._nodes = recorder.nodes
        self._order = _needed(self._nodes, self._results)
        self._register, self._counts = _registers(self._nodes, self._order, self._results)
        self._kept = local()

    def __call__(self, n: int, *inputs: Any) -> list[Array]:
        """Return the results for n states, each of its extent; inputs are numbers or arrays."""
        given = [np.atleast_1d(v) for v in inputs]
        shapes = [(1,), (n,), (LINKS, n)]
        results = [np.empty(shapes[self._nodes[i].extent]) for i in self._results]
        # numpy's usual buffer is so long that it copies rows that are to be broadcast; errstate ends the change
        with np.errstate(all="ignore"):
            np.setbufsize(_BUFFER)
            for start in range(0, n, CHUNK):
                span = slice(start, min(start + CHUNK, n))
                pieces = [v[..., span] if v.shape[-1] == n else v for v in given]
                program = self._program(span.stop - span.start, tuple(v.shape for v in pieces))
                for place, piece in zip(program.inputs, pieces, strict=True):
                    place[...] = piece
                for call, arguments in program.calls:
                    call(*arguments)
                for result, piece in zip(results, program.results, strict=True):
                    result[..., span] = piece
        return results

    def _program(self, n: int, shapes: tuple[tuple[int, ...], ...]) -> _Program:
        """Return the program of this thread for n states; of each of three sizes the last ones asked for are kept."""
        sizes: tuple[dict[Any, _Program], ...] = self._kept.__dict__.setdefault("programs", ({}, {}, {}))
        kept, most = (sizes[0], FEW_KEPT) if n <= FEW else (sizes[1 if n < CHUNK else 2], 1)
        program = kept.pop((n, shapes), None) or self._laid_out(n, shapes)
        if len(kept) == most:
            del kept[next(iter(kept))]
        kept[n, shapes] = program
        return program

    def _laid_out(self, n: int, shapes: tuple[tuple[int, ...], ...]) -> _Program:
        width = [1, n, LINKS * n]
        registers = [[_aligned(width[extent]) for _ in range(count)] for extent, count in enumerate(self._counts)]
        registers[WIDE] = [v.reshape(LINKS, n) for v in registers[WIDE]]
        inputs = [_aligned(int(np.prod(shape))).reshape(shape) for shape in shapes]
        array: dict[int, Any] = dict(enumerate(inputs))
        array |= {i: node.constant for i, node in enumerate(self._nodes) if node.constant is not None}
        calls: list[tuple[Callable[..., Any], tuple[Any, ...]]] = []
        for i in self._order:
            node = self._nodes[i]
            array[i] = registers[node.extent][self._register[i]]
            operands = tuple(array[o] for o in node.operands)
            if node.total:
                calls.append((np.add.reduce, (*operands, 0, None, array[i])))
            elif node.ufunc in (np.maximum, np.minimum):  # these take their result by name only
                calls.append((partial(node.ufunc, *operands, out=array[i]), ()))
            elif node.ufunc is not None:
                calls.append((node.ufunc, (*operands, array[i])))
        return _Program(inputs, calls, [array[i] for i in self._results])


def _aligned(size: int) -> Array:
    """Return room for some numbers that begins where a cache line begins."""
    raw = np.empty(size + _LINE // 8)
    start = -raw.__array_interface__["data"][0] % _LINE // 8
    return raw[start : start + size]


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
