"""What the docstring of a formula has to say, read beside its signature."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

QUANTITIES = {"Numbers", "Array", "float", "float | None"}
"""Types of what has a unit. Words, counts, flags, functions and records have none of their own."""

_ONE = r"(?:mm|m|kg|s|K|°C|Pa|W|J|deg|1)[²³⁴]?"
_UNIT = re.compile(rf"-|{_ONE}(?: {_ONE})*(?:/{_ONE}|/\({_ONE}(?: {_ONE})+\))?(?: absolute| gauge)?")
RANGE = re.compile(r"[<>]=? ?\d|\d <|\d to [-\d]|[Rr]ange|\b[Aa]ny\b|vouched|up to \d")
NOT_PHYSICS = {"boxes.millimetres_up", "boxes.millimetres_down", "units.comma_words", "units.read_figure"}
"""Rounding and reading: neither a range nor a source beyond the rule that their docstrings state."""

STANDING = re.compile(r"[Pp]ublished|[Cc]ommon practice|from memory|our own|[Dd]efinition")
REFERRED = re.compile(r"(?:as of|as in|as|of)\s+`(\w+)`")


@dataclass(frozen=True)
class Formula:
    """A public function, and what is said of it: by itself, by those it refers to, and by its module."""

    name: str
    function: ast.FunctionDef
    own: str
    words: str
    of_module: str
    records: frozenset[str]
    """Names of the records of its module whose fields have their units."""


def formulas(path: Path) -> Iterator[Formula]:
    """The public functions of a module."""
    module = ast.parse(path.read_text(encoding="utf-8"))
    functions = [node for node in module.body if isinstance(node, ast.FunctionDef)]
    said = {function.name: ast.get_docstring(function) or "" for function in functions}
    records = frozenset(node.name for node in module.body if isinstance(node, ast.ClassDef) and _has_units(node))
    for function in functions:
        if not function.name.startswith("_"):
            own = said[function.name]
            words = "\n".join([own, *(said[name] for name in REFERRED.findall(own) if name in said)])
            of_module = ast.get_docstring(module) or ""
            yield Formula(f"{path.stem}.{function.name}", function, own, words, of_module, records)


def unit_in(words: str) -> bool:
    """Whether something in square brackets is a unit, `[-]` for a plain number."""
    return any(_UNIT.fullmatch(" ".join(said.split())) for said in re.findall(r"\[([^\[\]]*)\]", words))


def _has_units(record: ast.ClassDef) -> bool:
    """Whether each number in a record has its unit, in the docstring of its field or in that of the record."""
    of_record = ast.get_docstring(record) or ""
    for field, after in zip(record.body, [*record.body[1:], None], strict=True):
        if isinstance(field, ast.AnnAssign) and ast.unparse(field.annotation) in QUANTITIES:
            own = ast.unparse(after) if isinstance(after, ast.Expr) else ""
            name = ast.unparse(field.target)
            if not unit_in(own) and not any(unit_in(said) for said in sentences_with(name, of_record)):
                return False
    return True


def sentences_with(name: str, words: str) -> list[str]:
    """What is said from each mention of a name to the end of its sentence."""
    return [
        re.split(r"\.\s+(?=[A-Z`])|\n\n", words[found.start() :], maxsplit=1)[0]
        for found in re.finditer(rf"`{name}\b", words)
    ]


def _of_result(words: str) -> str:
    """What is said of the result: the first paragraph and the sentence of `Returns`, less the units of arguments."""
    told = words.split("\n\n")[0] + words.partition("Returns")[2].split(". ")[0]
    return re.sub(r"`\w+`(?: \w+)?\s\[[^\[\]]*\]", "", told)


def lacks(formula: Formula) -> list[str]:
    """What the docstring leaves out."""
    arguments = [*formula.function.args.args, *formula.function.args.kwonlyargs]
    found = []
    for argument in arguments:
        of_type = ast.unparse(argument.annotation) if argument.annotation else ""
        sentences = sentences_with(argument.arg, formula.words)
        if not sentences:
            found.append(f"does not name `{argument.arg}`")
        elif of_type in QUANTITIES and not any(unit_in(sentence) for sentence in sentences):
            found.append(f"has no unit of `{argument.arg}`")
    result = ast.unparse(formula.function.returns) if formula.function.returns else ""
    numbers = any(part in QUANTITIES for part in re.split(r"[\[\], ]+", result))
    if numbers and not unit_in(_of_result(formula.own)):
        found.append("has no unit of the result")
    elif not numbers and result and result[0].isupper() and result not in formula.records:
        found.append(f"has no units in {result}")
    raised = {
        ast.unparse(node.exc.func if isinstance(node.exc, ast.Call) else node.exc)
        for node in ast.walk(formula.function)
        if isinstance(node, ast.Raise) and node.exc is not None
    }
    found += [f"does not say that it raises {e}" for e in sorted(raised) if f"Raises {e}" not in formula.own]
    if formula.name not in NOT_PHYSICS and not RANGE.search(" ".join(formula.words.split())):
        found.append("says no range")
    if formula.name not in NOT_PHYSICS and not STANDING.search(formula.words + formula.of_module):
        found.append("says no source")
    return found
