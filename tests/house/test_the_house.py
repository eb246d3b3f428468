"""The house rules that a tool can hold: size of files, floors, empty package files, docstrings of the physics."""

from __future__ import annotations

import ast
import re
import tomllib
from pathlib import Path

import pytest

from tests.house.checkout import PACKAGE, ROOT, text_files

MOST_LINES = 320
MODULES = sorted(PACKAGE.rglob("*.py"))
TOOLS = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]


def test_there_are_modules_to_look_at() -> None:
    assert len(MODULES) > 80
    assert len(text_files()) > 150


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_no_module_is_too_long_to_read(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES


def test_package_files_hold_a_docstring_only() -> None:
    for path in PACKAGE.glob("*/__init__.py"):
        body = ast.parse(path.read_text(encoding="utf-8")).body
        assert len(body) == 1 and isinstance(body[0], ast.Expr), path
        assert isinstance(body[0].value, ast.Constant) and isinstance(body[0].value.value, str), path


def floors() -> list[list[str]]:
    """The rooms of each floor as the contract in pyproject.toml has them, top floor first."""
    contract = next(c for c in TOOLS["importlinter"]["contracts"] if c["type"] == "layers")
    return [[room.strip() for room in floor.split("|")] for floor in contract["layers"]]


def test_every_room_has_a_floor() -> None:
    rooms = {path.name for path in PACKAGE.iterdir() if (path / "__init__.py").is_file()}
    rooms |= {path.stem for path in PACKAGE.glob("*.py")} - {"__init__", "__main__"}
    assert sorted(room for floor in floors() for room in floor) == sorted(rooms)


def imports_of(path: Path) -> set[str]:
    """The rooms that a module imports from, at whatever depth of its code."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        names += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        found |= {name.split(".")[1] for name in names if name.startswith("configurator.")}
    return found


def climbers(level: dict[str, int]) -> list[tuple[str, str]]:
    """Modules that import from their own floor's other rooms or from a floor above, with the room."""
    wrong = []
    for path in MODULES:
        room = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
        if room in level:
            for other in imports_of(path) - {room}:
                if level[other] <= level[room]:
                    wrong.append((str(path.relative_to(PACKAGE)), other))
    return wrong


def test_rooms_import_only_from_floors_below() -> None:
    level = {room: number for number, floor in enumerate(floors()) for room in floor}
    assert climbers(level) == []
    upside_down = {room: -number for room, number in level.items()}
    assert climbers(upside_down), "a house on its head must be noticed"


STANDING = re.compile(r"[Pp]ublished|[Cc]ommon practice|from memory")


def physics_functions() -> list[tuple[str, ast.FunctionDef, dict[str, str], str]]:
    """Public functions of the physics, with all docstrings of their module and the module's own."""
    found = []
    for path in sorted((PACKAGE / "physics").glob("*.py")):
        module = ast.parse(path.read_text(encoding="utf-8"))
        functions = [node for node in module.body if isinstance(node, ast.FunctionDef)]
        said = {function.name: ast.get_docstring(function) or "" for function in functions}
        for function in functions:
            if not function.name.startswith("_"):
                found.append((path.stem, function, said, ast.get_docstring(module) or ""))
    return found


@pytest.mark.parametrize(
    ("function", "said", "of_module"),
    [pytest.param(f, said, of, id=f"{module}.{f.name}") for module, f, said, of in physics_functions()],
)
def test_a_formula_names_its_arguments_and_where_it_comes_from(
    function: ast.FunctionDef, said: dict[str, str], of_module: str
) -> None:
    """Its docstring does, or that of the function of the module which it refers to (`as of` another)."""
    own = said[function.name]
    referred = [other for other in said if re.search(rf"(?:as of|as in)\s+`{other}`", own)]
    words = "\n".join([own, *(said[other] for other in referred)])
    arguments = [argument.arg for argument in (*function.args.args, *function.args.kwonlyargs)]
    assert [name for name in arguments if not re.search(rf"\b{name}\b", words)] == []
    assert STANDING.search(words) or STANDING.search(of_module)


SAID_ELSEWHERE = re.compile(
    "|".join(
        [
            "tran" + "script",
            "seed " + "document",
            r"issue #" + r"\d",
            "design" + r"\.md",
            r"\bA\d+" + r"-\d+\b",
            r"\bjoin" + r"-\d",
            r"\balike" + r"-\d",
            "/work" + "/",
        ]
    )
)


def test_files_speak_of_the_product_alone() -> None:
    for path in text_files():
        found = SAID_ELSEWHERE.search(path.read_text(encoding="utf-8"))
        assert found is None, f"{path.relative_to(ROOT)}: {found and found.group()}"
    assert SAID_ELSEWHERE.search("as join" + "-4 has it")
