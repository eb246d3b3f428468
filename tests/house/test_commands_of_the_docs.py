"""What README and DEVELOPERS tell to type does run: every command of the README on a small shelf, with the README's
own files; commands that need minutes or other tools are held to what there is.
"""

from __future__ import annotations

import ast
import re
import shlex
import shutil
import tomllib
from pathlib import Path

import pytest

from tests.house.checkout import GUIDE, PACKAGE, ROOT
from tests.journeys.kitwright import EXAMPLES, command, shipped_part, small_shelf, written
from tests.journeys.person import CTRL_D, talk

README = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "README.md", *sorted(GUIDE.glob("*.md"))))
"""README and guide."""

DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
COMMANDS = list(dict.fromkeys(re.findall(r"(?:^\.venv/bin/|`)(kitwright [^`\n]+)(?:`|$)", README, re.MULTILINE)))
CHORES = re.findall(r"`([^`]+)`", "\n".join(re.findall(r"^\| [a-z]+ \| (`.*) \|$", DEVELOPERS, re.MULTILINE)))
NOT_RUN = {
    "kitwright --install-completion": "changes the shell of whoever runs it; test_completion.py has its words",
    "kitwright suggest examples/hatch.yaml": "on the whole shelf; its screen stands in the README, and is kept",
    "kitwright suggest my-car.yaml --improve": "many small searches; test_improve.py has them",
    "kitwright why my-car.yaml --first": "many predictions; test_why_first.py has them",
    "kitwright shelf": "a group of commands, not one",
}
"""Commands that are held to what there is, and why."""
ANSWERED_NO = {
    "kitwright mate orb:-10:male flare37:-10:female:swivel": "they share a thread and seal apart",
    "kitwright why my-car.yaml core-230-short pump-50-medium": "the pump finds no room in the hatch",
    "kitwright check my-parts.yaml --brief my-car.yaml --improve": "its parts make no kit for the hatch",
    "kitwright shelf check": "a small shelf of which much has nothing to go on",
}
"""Commands that end with exit code 1, and why."""


SEARCHING = ("suggest", "why", "sheet", "shelf")
"""Commands that get the small shelf; the others are quick on the shipped one."""


def block(begins: str) -> str:
    """The fenced block of the README that begins so."""
    found: list[str] = re.findall(rf"^```\w+\n({begins}.*?)^```$", README, re.MULTILINE | re.DOTALL)
    assert len(found) == 1, begins
    return found[0]


@pytest.fixture
def counter(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with all files that the README's commands name, and a small shelf as the catalogue."""
    shelf = small_shelf(
        cores=[shipped_part("core-230-short"), shipped_part("core-260-short")],
        exchangers=[shipped_part("exchanger-398-double")],
        pumps=[shipped_part("pump-50-medium"), shipped_part("pump-40-small")],
        reservoirs=[shipped_part("reservoir-8-cube")],
    )
    for name in ("shelf", "my-shelf", "monday", "enquiries"):
        (tmp_path / name).mkdir()
    for name in ("shelf", "my-shelf"):
        (tmp_path / name / "parts.yaml").write_text(written(shelf), encoding="utf-8")
    shutil.copytree(EXAMPLES, tmp_path / "examples")
    for name in ("my-car.yaml", "monday/hatch.yaml", "monday/again.yaml", "enquiries/hatch.yaml"):
        shutil.copy(EXAMPLES / "hatch.yaml", tmp_path / name)
    pump = shipped_part("pump-50-medium", id="pump-51-mine")
    files = {
        "my-parts.yaml": block("kit: "),
        "answers.yaml": block("name: "),
        "supplier.yaml": block("decimal: "),
        "new-parts.yaml": block("pumps:"),
        "my-pump.yaml": written(pump),
        "list.csv": "Article;Net;Qty;Days;Status\n4711;159,90;3;;\n4712;310,00;0;10;EOL\n",
    }
    for name, text in files.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("KITWRIGHT_CATALOGUE", raising=False)
    return tmp_path


def test_there_are_commands_to_look_at() -> None:
    assert len(COMMANDS) > 20 and len(CHORES) > 15 and set(COMMANDS) >= {*NOT_RUN, *ANSWERED_NO}


@pytest.mark.parametrize("line", [line for line in COMMANDS if line not in NOT_RUN])
def test_a_command_of_the_readme_runs(line: str, counter: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    words = shlex.split(line)[1:]
    if words[0] in SEARCHING:
        monkeypatch.setenv("KITWRIGHT_CATALOGUE", str(counter / "shelf"))
    if "monday/*.yaml" in words:
        words[-1:] = sorted(str(path) for path in Path("monday").glob("*.yaml"))
    out = {words[words.index(option) + 1] for option in ("-o", "--new", "--draw", "--chart") if option in words}
    for name in out:
        Path(name).unlink(missing_ok=True)
    done = command(*words, *(("--answers", "answers.yaml") if words[0] == "ask" and out else ()))
    assert done.code == (1 if line in ANSWERED_NO else 0), done.err or done.out
    assert done.out or done.err
    assert [name for name in out if not Path(name).is_file()] == []


def options_of(*names: str) -> set[str]:
    """The options of a command, as its help has them."""
    return set(re.findall(r"(?<![\w-])--?[a-z][a-z-]*", command(*names, "--help").out))


@pytest.mark.parametrize("line", NOT_RUN)
def test_a_command_that_is_not_run_is_one(line: str) -> None:
    words = shlex.split(line)[1:]
    names = words[: words[0].isalpha()]
    assert {word for word in words if word.startswith("-")} <= options_of(*names)
    assert all(Path(ROOT, word).is_file() for word in words if word.startswith("examples/"))


def test_the_readmes_talk_is_what_is_said(counter: Path) -> None:
    told = block("How much boost").splitlines()
    replies = [line.removeprefix("> ") for line in told if line.startswith("> ")]
    known = ("--name", "Hatch", "--power", "230 kW", "--fuel", "petrol", "--charger", "turbo")
    screen = talk(counter, ["ask", "-o", "talk.yaml", *known], [*replies, CTRL_D]).screen
    said = [line for line in told if not line.startswith("> ")]
    at = [screen.find(line) for line in said]
    assert said and -1 not in at and at == sorted(at), screen


def test_the_chores_name_what_there_is() -> None:
    """Scripts and folders that are there, tools and groups that pyproject.toml asks for, and options of pytest."""
    groups = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["dependency-groups"]
    asked = {re.split(r"[>=]", library)[0] for group in groups.values() for library in group}
    tool_of = {"lint-imports": "import-linter"}
    for chore in CHORES:
        words = shlex.split(chore)
        if words[0] == "python":
            names = [word.rpartition("=")[2] for word in words if "/" in word]
            assert all((ROOT / name).exists() for name in names), chore
            assert names or words[1:3] == ["-m", "pytest"], chore
        elif words[0] == ".ci/run":
            assert not (ROOT / ".ci").is_dir() or (ROOT / ".ci" / "run").is_file()
        elif words[:2] == ["pip", "install"]:
            assert {words[at + 1] for at, word in enumerate(words) if word == "--group"} <= set(groups), chore
        elif words[0] != "apt-get":
            assert tool_of.get(words[0], words[0]) in asked, chore
    setup = re.findall(r"^After `(pip install [^`]+)`", DEVELOPERS, re.MULTILINE)
    assert setup and set(re.findall(r"--group (\w+)", setup[0])) <= set(groups)


def modules_named(text: str) -> list[str]:
    """Modules and files in backticks, as `search/sieve.py` or, with one of its names, `search/sieve.every_reason`."""
    found: list[str] = re.findall(r"`((?:[a-z_.]+/)+[\w-]+\.\w+)`", text)
    return found


def there(name: str) -> bool:
    """Whether a file, or a name of a module, is where it is said to be, from the root, the package or the tests."""
    whole, _, last = name.rpartition(".")
    for root in (ROOT, PACKAGE, ROOT / "tests"):
        if (root / name).is_file():
            return True
        module = root / f"{whole}.py"
        if module.is_file():
            body = ast.parse(module.read_text(encoding="utf-8")).body
            return last in {node.name for node in body if isinstance(node, ast.FunctionDef | ast.ClassDef)}
    return False


def test_modules_and_files_that_are_named_are_there() -> None:
    named = modules_named(DEVELOPERS) + modules_named(README)
    own = {"monday/hatch.yaml"}
    assert len(named) > 100 and [name for name in named if name not in own and not there(name)] == []
    assert not there("search/sieve.py_") and not there("search/sieve.no_reason") and not there("search/riddle.py")
