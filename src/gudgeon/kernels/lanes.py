"""Eight numbers side by side that are reckoned with as if they were one: a row of an array, in one register.

Compiled code that adds, multiplies or compares such a value does so to all eight at once, whatever the compiler makes
of loops. It is loaded from row r of an array (rows, LANES), and stored there; it never leaves compiled code. A plain
number beside one stands for eight alike. A comparison gives eight yes-or-noes, for `select`, `both` and `any_of`.

Why not loops over the lanes: they become such instructions only where the compiler can prove that rows of one array do
not overlap, which it cannot for the small loops of a matrix.
"""

import operator
from collections.abc import Callable
from typing import Any

from llvmlite import ir
from numba import njit, types
from numba.core import cgutils
from numba.extending import intrinsic, models, overload, register_model

LANES = 8
"""How many stand side by side."""

Lanes = Any
"""What a value of this kind is called in signatures: Python itself never sees one."""
Emit = Callable[..., Any]
part = njit(no_cpython_wrapper=True, no_cfunc_wrapper=True)
"""Decorates what is compiled into other functions alone: a third less to compile than with an entry from Python."""

_VECTOR = ir.VectorType(ir.DoubleType(), LANES)
_BITS = ir.VectorType(ir.IntType(1), LANES)
_INDEX = ir.IntType(32)


class LanesType(types.Type):
    """The compiler's name for eight numbers."""

    def __init__(self) -> None:
        super().__init__("lanes")


class MaskType(types.Type):
    """The compiler's name for eight yes-or-noes."""

    def __init__(self) -> None:
        super().__init__("lane_mask")


_LANES, _MASK = LanesType(), MaskType()


@register_model(LanesType)
class _LanesModel(models.PrimitiveModel):
    def __init__(self, manager: Any, kind: Any) -> None:
        super().__init__(manager, kind, _VECTOR)


@register_model(MaskType)
class _MaskModel(models.PrimitiveModel):
    def __init__(self, manager: Any, kind: Any) -> None:
        super().__init__(manager, kind, _BITS)


def _alike(builder: Any, number: Any) -> Any:
    """One number in all eight places."""
    nothing = ir.Constant(_VECTOR, ir.Undefined)
    first = builder.insert_element(nothing, number, ir.Constant(_INDEX, 0))
    return builder.shuffle_vector(first, nothing, ir.Constant(ir.VectorType(_INDEX, LANES), [0] * LANES))


def _wide(context: Any, builder: Any, value: Any, kind: Any) -> Any:
    """A value as eight numbers, whether it is that already or one."""
    if isinstance(kind, LanesType):
        return value
    return _alike(builder, context.cast(builder, value, kind, types.float64))


def _is_number(kind: Any) -> bool:
    return isinstance(kind, LanesType | types.Float | types.Integer)


def _of_two(result: Any, emit: Emit) -> Any:
    """Compiled function of two values, each eight numbers or one."""

    @intrinsic
    def function(_typing: Any, a: Any, b: Any) -> Any:
        def generate(context: Any, builder: Any, signature: Any, given: Any) -> Any:
            return emit(builder, *(_wide(context, builder, *one) for one in zip(given, signature.args, strict=True)))

        return result(a, b), generate

    return function


def _of_one(emit: Emit) -> Any:
    """Compiled function of eight numbers, giving eight."""

    @intrinsic
    def function(_typing: Any, a: Any) -> Any:
        return _LANES(a), lambda _context, builder, _signature, given: emit(builder, *given)

    return function


def _understood(symbol: Any, function: Any) -> None:
    """Let the operator between two values of which one at least is eight numbers be this function."""

    @overload(symbol, strict=False)
    def chosen(a: Any, b: Any) -> Any:
        if LanesType in (type(a), type(b)) and _is_number(a) and _is_number(b):
            return lambda a, b: function(a, b)  # noqa: PLW0108  # the compiler reads its body
        return None


def _ordered(sign: str) -> Emit:
    """A comparison that is no where a number is none."""
    return lambda builder, a, b: builder.fcmp_ordered(sign, a, b)


def _machine(name: str, *, of: int) -> Emit:
    """The machine's own function of so many vectors."""

    def emit(builder: Any, *given: Any) -> Any:
        kind = ir.FunctionType(_VECTOR, [_VECTOR] * of)
        return builder.call(cgutils.get_or_insert_function(builder.module, kind, f"llvm.{name}.v{LANES}f64"), given)

    return emit


_understood(operator.add, _of_two(_LANES, lambda builder, a, b: builder.fadd(a, b)))
_understood(operator.sub, _of_two(_LANES, lambda builder, a, b: builder.fsub(a, b)))
_understood(operator.mul, _of_two(_LANES, lambda builder, a, b: builder.fmul(a, b)))
_understood(operator.truediv, _of_two(_LANES, lambda builder, a, b: builder.fdiv(a, b)))
_understood(operator.lt, _of_two(_MASK, _ordered("<")))
_understood(operator.gt, _of_two(_MASK, _ordered(">")))

least = _of_two(_LANES, lambda builder, a, b: builder.select(builder.fcmp_ordered("<", a, b), a, b))
"""The smaller of two."""
most = _of_two(_LANES, lambda builder, a, b: builder.select(builder.fcmp_ordered(">", a, b), a, b))
"""The larger of two."""
root = _of_one(_machine("sqrt", of=1))
"""The square root."""
size = _of_one(_machine("fabs", of=1))
"""The number without its sign."""
sine = _of_one(_machine("sin", of=1))
"""The sine [rad]."""
cosine = _of_one(_machine("cos", of=1))
"""The cosine [rad]."""
_minus = _of_one(lambda builder, a: builder.fneg(a))


@overload(operator.neg, strict=False)
def _negative(a: Any) -> Any:
    if isinstance(a, LanesType):
        return lambda a: _minus(a)  # noqa: PLW0108
    return None


@intrinsic
def select(_typing: Any, mask: Any, a: Any, b: Any) -> Any:
    """The first where the mask says yes, else the second."""

    def generate(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        kinds = signature.args[1:]
        return builder.select(given[0], *(_wide(context, builder, *one) for one in zip(given[1:], kinds, strict=True)))

    return _LANES(mask, a, b), generate


@intrinsic
def both(_typing: Any, a: Any, b: Any) -> Any:
    """Yes where two masks say so."""
    return _MASK(a, b), lambda _context, builder, _signature, given: builder.and_(*given)


@intrinsic
def any_of(_typing: Any, mask: Any) -> Any:
    """Whether any of the eight is a yes."""

    def generate(_context: Any, builder: Any, _signature: Any, given: Any) -> Any:
        packed = builder.bitcast(given[0], ir.IntType(LANES))
        return builder.icmp_unsigned("!=", packed, ir.Constant(ir.IntType(LANES), 0))

    return types.boolean(mask), generate


def _row(context: Any, builder: Any, signature: Any, given: Any) -> Any:
    """Where a row of an array (rows, LANES) lies in memory."""
    array = context.make_array(signature.args[0])(context, builder, given[0])
    row = context.cast(builder, given[1], signature.args[1], types.intp)
    start = builder.gep(array.data, [builder.mul(row, ir.Constant(row.type, LANES))])
    return builder.bitcast(start, _VECTOR.as_pointer())


@intrinsic
def load(_typing: Any, array: Any, row: Any) -> Any:
    """Row of an array (rows, LANES) that lies in memory row after row."""

    def generate(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        return builder.load(_row(context, builder, signature, given), align=8)

    return _LANES(array, row), generate


@intrinsic
def store(_typing: Any, array: Any, row: Any, value: Any) -> Any:
    """Put eight numbers, or one in all eight places, into a row of an array (rows, LANES)."""

    def generate(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        wide = _wide(context, builder, given[2], signature.args[2])
        builder.store(wide, _row(context, builder, signature, given), align=8)
        return context.get_dummy_value()

    return types.void(array, row, value), generate
