"""Mutants of a module: its source with one small fault. Each is found in the syntax tree and cut into the text.

Left alone are docstrings, types, decorators, imports, text (it is told to people) and what is raised with it.
"""

from __future__ import annotations

import ast
import random
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

COMPARED: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
COMPUTED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
    ast.BitOr: ast.BitAnd,
    ast.BitAnd: ast.BitOr,
}
SWAPPED = (("min", "max"), ("minimum", "maximum"), ("any", "all"), ("floor", "ceil"), ("union", "intersection"))
CALLED = {one: other for pair in SWAPPED for one, other in (pair, pair[::-1])}
LARGER = 1.1
"""What a number with a fraction is multiplied by: enough to leave the rounding of any table."""


@dataclass(frozen=True)
class Mutant:
    """One fault: where it stands, what it is, and what is written in place of the bytes that it takes away.

    `lines`: first and last line of what is changed, from the line where its statement starts. `at_import`: whether it
    is computed when the module is imported, not when one of its functions is called.
    """

    path: str
    column: int
    kind: str
    lines: tuple[int, int]
    was: str
    now: str
    at_import: bool
    taken: tuple[int, int]
    written: str

    @property
    def name(self) -> str:
        """One name for one mutant, the same in every run on the same source."""
        return f"{self.path}:{self.lines[1]}:{self.column} {self.kind}: {self.was} -> {self.now}"

    def text(self, root: Path) -> bytes:
        """The module with the fault in it."""
        raw = (root / self.path).read_bytes()
        return raw[: self.taken[0]] + self.written.encode() + raw[self.taken[1] :]


Change = tuple[str, ast.stmt | ast.expr, ast.AST]
"""The kind of a fault, the node that is replaced, and the node in its place."""


def _compared(node: ast.Compare) -> Iterator[Change]:
    for index, operator in enumerate(node.ops):
        for other in COMPARED[type(operator)]:
            ops = [*node.ops[:index], other(), *node.ops[index + 1 :]]
            yield "comparison", node, ast.Compare(node.left, ops, node.comparators)


def _joined(node: ast.BoolOp) -> Iterator[Change]:
    yield "and/or", node, ast.BoolOp(ast.And() if isinstance(node.op, ast.Or) else ast.Or(), node.values)
    for index in range(len(node.values)):
        rest = [value for at, value in enumerate(node.values) if at != index]
        yield "condition left out", node, rest[0] if len(rest) == 1 else ast.BoolOp(node.op, rest)


def _number(node: ast.Constant) -> Iterator[Change]:
    value = node.value
    if isinstance(value, bool):
        yield "true/false", node, ast.Constant(not value)
    elif isinstance(value, int):
        yield "number", node, ast.Constant(value + 1)
        yield "number", node, ast.UnaryOp(ast.USub(), ast.Constant(1)) if value == 0 else ast.Constant(value - 1)
    elif isinstance(value, float):
        yield "number", node, ast.Constant(value * LARGER or 1.0)


def _called(node: ast.Call) -> Iterator[Change]:
    function = node.func
    if isinstance(function, ast.Name) and function.id in CALLED:
        yield "function", function, ast.Name(CALLED[function.id])
    elif isinstance(function, ast.Attribute) and function.attr in CALLED:
        yield "function", function, ast.Attribute(function.value, CALLED[function.attr])


def _negated(test: ast.expr) -> Iterator[Change]:
    """A condition turned round, where no other fault does the same."""
    if not (isinstance(test, ast.Compare) or (isinstance(test, ast.UnaryOp) and isinstance(test.op, ast.Not))):
        yield "condition negated", test, ast.UnaryOp(ast.Not(), test)


def _of_expression(node: ast.AST) -> Iterator[Change]:
    """The faults of one expression, without those of what it is made of."""
    match node:
        case ast.Compare():
            yield from _compared(node)
        case ast.BoolOp():
            yield from _joined(node)
        case ast.BinOp() if type(node.op) in COMPUTED:
            yield "arithmetic", node, ast.BinOp(node.left, COMPUTED[type(node.op)](), node.right)
        case ast.UnaryOp(op=ast.Not() | ast.USub() | ast.Invert()):
            yield "sign or not", node, node.operand
        case ast.Constant():
            yield from _number(node)
        case ast.Call():
            yield from _called(node)
        case ast.IfExp():
            yield from _negated(node.test)
        case ast.ListComp() | ast.SetComp() | ast.DictComp() | ast.GeneratorExp():
            for part in node.generators:
                for condition in part.ifs:
                    yield "filter left out", condition, ast.Constant(True)
        case ast.Slice():
            for end in (node.lower, node.upper):
                if end is not None and not isinstance(end, ast.Constant):
                    yield "slice", end, ast.BinOp(end, ast.Add(), ast.Constant(1))


def _of_statement(node: ast.AST, yes_or_no: bool) -> Iterator[Change]:
    """The faults of a statement itself; `yes_or_no`: its function returns true or false."""
    match node:
        case ast.Return(value=ast.expr() as value) if not (isinstance(value, ast.Constant) and value.value is None):
            told = ast.UnaryOp(ast.Not(), value) if yes_or_no else ast.Constant(None)
            yield "answer", value, told
        case ast.If() | ast.While():
            yield from _negated(node.test)
        case ast.Continue() | ast.Break() | ast.Raise() | ast.AugAssign():
            yield "statement left out", node, ast.Pass()
        case ast.Expr(value=ast.Call() | ast.Yield() | ast.YieldFrom()):
            yield "statement left out", node, ast.Pass()


class _Finder:
    """Walks a module and gathers its mutants."""

    def __init__(self, path: str, text: str) -> None:
        self.path = path
        self.starts = [0]
        for line in text.encode().splitlines(keepends=True):
            self.starts.append(self.starts[-1] + len(line))
        self.found: list[Mutant] = []

    def walk(self, node: ast.AST, first: int, inside: bool, yes_or_no: bool) -> None:
        """`first`: the line where the statement starts that the node is part of; `inside`: a function."""
        if isinstance(node, ast.JoinedStr | ast.Import | ast.ImportFrom):
            return
        if isinstance(node, ast.stmt):
            first = node.lineno
        for kind, old, new in (*_of_statement(node, yes_or_no), *_of_expression(node)):
            self.keep(kind, old, new, first, inside)
        if isinstance(node, ast.Raise):
            return
        function = isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yes_or_no = isinstance(node.returns, ast.Name) and node.returns.id == "bool"
        for field, value in ast.iter_fields(node):
            if field in ("annotation", "returns", "decorator_list", "type_params"):
                continue
            within = inside or (function and field == "body") or isinstance(node, ast.Lambda)
            for child in value if isinstance(value, list) else [value]:
                if isinstance(child, ast.AST):
                    self.walk(child, first, within, yes_or_no)

    def keep(self, kind: str, old: ast.stmt | ast.expr, new: ast.AST, first: int, inside: bool) -> None:
        assert old.end_lineno is not None and old.end_col_offset is not None
        start = self.starts[old.lineno - 1] + old.col_offset
        end = self.starts[old.end_lineno - 1] + old.end_col_offset
        was, now = ast.unparse(old), ast.unparse(ast.fix_missing_locations(new))
        written = now if isinstance(new, ast.stmt | ast.Constant | ast.Name | ast.Attribute) else f"({now})"
        lines = (first, old.end_lineno)
        self.found.append(Mutant(self.path, old.col_offset, kind, lines, was, now, not inside, (start, end), written))


def mutants_of(path: Path, root: Path) -> list[Mutant]:
    """All mutants of a module, in the order of its tree."""
    text = path.read_text(encoding="utf-8")
    finder = _Finder(path.relative_to(root).as_posix(), text)
    finder.walk(ast.parse(text), 1, False, False)
    return list({mutant.name: mutant for mutant in finder.found}.values())


def sample(root: Path, package: str, count: int, seed: int) -> tuple[list[Mutant], int]:
    """`count` mutants of a package drawn by `seed`, in the order of the files, and how many there are in all."""
    every = [
        mutant for path in sorted((root / "configurator" / package).glob("*.py")) for mutant in mutants_of(path, root)
    ]
    drawn = random.Random(f"{seed}/{package}").sample(range(len(every)), min(count, len(every)))
    return [every[index] for index in sorted(drawn)], len(every)
