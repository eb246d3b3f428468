"""The constraint solver: variables, their values, and rules as tables of what may go together. Knows no cooling."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from constraint import Problem


@dataclass(frozen=True)
class Table:
    """One rule: the variables it speaks of, and every combination of their values that keeps it."""

    rule: str
    variables: tuple[str, ...]
    allowed: frozenset[tuple[str, ...]]

    def keeps(self, *values: str) -> bool:
        """Whether these values, in the order of `variables`, keep the rule."""
        return values in self.allowed


def solve(domains: Mapping[str, Sequence[str]], tables: Sequence[Table]) -> Iterator[dict[str, str]]:
    """Every assignment of one value to each variable that keeps every table.

    The order is that of the domains: same input, same order. An empty domain has no solution; ask which variable
    it is before asking here.
    """
    if any(not values for values in domains.values()):
        return
    problem = Problem()
    for variable, values in domains.items():
        problem.addVariable(variable, list(values))
    for table in tables:
        problem.addConstraint(table.keeps, list(table.variables))
    yield from problem.getSolutionIter()
