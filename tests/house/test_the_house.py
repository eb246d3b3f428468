"""The house rules that a tool can hold: size of files, floors, empty package files, one place for the version."""

from __future__ import annotations

import ast
import re
import tomllib
from pathlib import Path, PurePosixPath

import pytest

import configurator
from tests.house.checkout import PACKAGE, ROOT, kitwright, text_files

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


def test_the_version_stands_in_one_place() -> None:
    """The installed package says the same: `packaging_check.py` looks there."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert "version" in project["dynamic"] and "version" not in project
    assert TOOLS["hatch"]["version"]["path"] == "configurator/__init__.py"
    said = [path for path in MODULES if re.search(r"^__version__\b", path.read_text(encoding="utf-8"), re.MULTILINE)]
    assert said == [PACKAGE / "__init__.py"]
    assert kitwright("--version").stdout == f"kitwright {configurator.__version__}\n"


def exported(text: str) -> set[str]:
    """The names that a module offers to whoever imports all of it."""
    found: set[str] = set()
    for node in ast.parse(text).body:
        if isinstance(node, ast.Import | ast.ImportFrom):
            found |= {alias.asname or alias.name for alias in node.names}
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            found |= {ast.unparse(target) for target in targets}
        elif isinstance(node, ast.FunctionDef | ast.ClassDef):
            found.add(node.name)
    return found


def test_the_package_exports_its_version_alone() -> None:
    """As DEVELOPERS.md says: there is no public Python interface, so nothing looks as if there were one."""
    assert exported((PACKAGE / "__init__.py").read_text(encoding="utf-8")) == {"__version__"}
    assert [path for path in MODULES if "__all__" in exported(path.read_text(encoding="utf-8"))] == []
    assert not (PACKAGE / "py.typed").exists(), "types are promised to nobody"
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["scripts"] == {"kitwright": "configurator.cli.start:run"} and "entry-points" not in project
    assert "no public Python interface" in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert exported("from a import b\n__all__ = ['b']\ndef c(): pass\nd: int = 1") == {"b", "__all__", "c", "d"}


def floors() -> list[list[str]]:
    """The rooms of each floor as the contract in pyproject.toml has them, top floor first."""
    contract = next(c for c in TOOLS["importlinter"]["contracts"] if c["type"] == "layers")
    return [[room.strip() for room in floor.split("|")] for floor in contract["layers"]]


def test_every_room_has_a_floor() -> None:
    rooms = {path.name for path in PACKAGE.iterdir() if (path / "__init__.py").is_file()}
    rooms |= {path.stem for path in PACKAGE.glob("*.py")} - {"__init__", "__main__"}
    assert sorted(room for floor in floors() for room in floor) == sorted(rooms)


def test_a_room_without_a_floor_breaks_the_contract() -> None:
    contract = next(c for c in TOOLS["importlinter"]["contracts"] if c["type"] == "layers")
    assert contract["exhaustive"] is True and contract["containers"] == ["configurator"]
    assert contract["exhaustive_ignores"] == ["__main__"]


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


OF_ONE_MACHINE = re.compile(r"(?<![\w.])/(?:home|root|Users|work)/")


def test_no_file_names_a_folder_of_one_machine() -> None:
    """What is read or written is named from the checkout, the user's folders or the command line."""
    for path in text_files():
        found = OF_ONE_MACHINE.search(path.read_text(encoding="utf-8"))
        assert found is None, f"{path.relative_to(ROOT)}: {found and found.group()}"
    assert OF_ONE_MACHINE.search(str(PurePosixPath("/", "home", "someone", "shelf")))
