"""What README and guide say is so: commands, formats, keys, codes, names, links."""

from __future__ import annotations

import ast
import json
import re
import shlex
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

from configurator.brief.bay import Bay
from configurator.brief.request import Brief
from configurator.cli import exit_codes
from configurator.cli.suggest_command import CODES
from configurator.errors import BadInput, KitwrightError
from configurator.files.find_catalogue import shipped_catalogue
from configurator.files.load_catalogue import load_catalogue
from configurator.files.price_map import load_price_map
from configurator.parts.ends import End
from configurator.parts.kinds import PART_KINDS
from configurator.prediction.condensate import CUT_S
from configurator.prediction.surface_figures import BANDS
from configurator.reasons.wording import _CAUSES, _SENTENCES
from tests.house.checkout import GUIDE, PACKAGE, ROOT, kitwright
from tests.journeys.caution_codes import CODES as CAUTION_CODES
from tests.journeys.kitwright import command as run_here

README = (ROOT / "README.md").read_text(encoding="utf-8")
PAGES = {path.stem: path.read_text(encoding="utf-8") for path in sorted(GUIDE.glob("*.md"))}
TOLD = "\n".join((README, *PAGES.values()))
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
TEN_MINUTES = 2200
"""Words: 220 in a minute, as adults read prose that informs; from memory of published surveys of reading speed."""


def block(name: str) -> str:
    """What stands between a marker of the README and the next end."""
    return README.split(f"<!-- {name} -->", 1)[1].split("<!-- end -->", 1)[0]


def fenced(page: str, language: str) -> list[str]:
    """All fenced blocks of a language on a page."""
    return re.findall(rf"^```{language}\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)


def test_it_opens_with_the_job_then_the_two_commands() -> None:
    start, run, test = (README.index(mark) for mark in ("## Start", "<!-- run-command -->", "<!-- test-command -->"))
    assert start < run < test < README.index("## What comes out")
    opening = README[:start].strip().split("\n\n")
    assert opening[0] == "# kitwright" and len(opening) == 2


def test_it_takes_ten_minutes() -> None:
    assert len(README.split()) <= TEN_MINUTES < len(TOLD.split()) / 5, "the rest is in the guide"


def anchors(page: str) -> set[str]:
    """What links to headings of a page are called: small letters, words joined by dashes, other marks left out."""
    headings = re.findall(r"^#+ (.*)$", page, re.MULTILINE)
    return {re.sub(r"[^\w -]", "", heading.lower()).replace(" ", "-") for heading in headings}


def test_every_link_leads_somewhere_and_every_page_is_linked() -> None:
    reached = set()
    for path in (ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted(GUIDE.glob("*.md"))):
        text = path.read_text(encoding="utf-8")
        for link in re.findall(r"\]\(([^)\s]+)\)", text) + re.findall(r'src="([^"]+)"', text):
            name, _, heading = link.partition("#")
            to = (path.parent / name).resolve() if name else path
            assert to.is_file(), f"{path.name}: {link}"
            assert not heading or heading in anchors(to.read_text(encoding="utf-8")), f"{path.name}: {link}"
            reached |= {to} if path.name == "README.md" else set()
    assert set(GUIDE.glob("*.md")) <= reached


def test_the_commands_name_what_there_is() -> None:
    run, test = block("run-command"), block("test-command")
    scripts = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert "kitwright" in scripts["project"]["scripts"] and ".venv/bin/kitwright suggest examples/hatch.yaml" in run
    assert "--group core" in test and "core" in scripts["dependency-groups"]
    assert (ROOT / test.split("--ignore=", 1)[1].split()[0]).is_dir()


def test_every_option_is_told_and_every_option_told_is_there() -> None:
    told = set(re.findall(r"(?<![\w-])(--[a-z][a-z-]+)", TOLD))
    there = set(re.findall(r"^  (--[a-z-]+)", kitwright("suggest", "--help").stdout, re.MULTILINE))
    assert there <= told
    commands = kitwright("--help").stdout.split("Commands:\n", 1)[1]
    for command in re.findall(r"^  ([a-z]+)", commands, re.MULTILINE):
        assert f"kitwright {command} " in TOLD, command
        help_text = kitwright(command, "--help").stdout
        there |= set(re.findall(r"(--[a-z-]+)", help_text))
        for below in re.findall(r"^  ([a-z]+)", help_text.partition("Commands:\n")[2], re.MULTILINE):
            assert f"kitwright {command} {below}" in TOLD, below
            there |= set(re.findall(r"(--[a-z-]+)", kitwright(command, below, "--help").stdout))
    installer = {"--upgrade", "--group", "--ignore", "--dist", "--install-completion"}
    assert told - installer <= there


def test_the_lists_of_keys_are_the_models() -> None:
    """Every key of brief, engine, site, aim, limits and bay is named on the page of the brief."""
    chapter = PAGES["brief"]
    schema = json.loads(json.dumps(Brief.model_json_schema(by_alias=True)))
    for name in ("Engine", "Site", "Aim", "Limits", "CoolantWish", "Bay", "Zone", "StatedAir", "Corner"):
        for key in schema["$defs"][name]["properties"]:
            assert re.search(rf"\b{key}\b", chapter), f"{name}: {key}"
    for key in schema["properties"]:
        assert f"| `{key}` |" in chapter, key


def keys_of_documents() -> Iterator[tuple[str, str]]:
    """Every key that the modules for other programs write, with the module; a slot or a unit as a key is no word."""
    for path in sorted((PACKAGE / "presentation").glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if path.stem.endswith("_json") or (isinstance(node, ast.FunctionDef) and node.name.endswith("_json")):
                for inner in ast.walk(node):
                    for key in inner.keys if isinstance(inner, ast.Dict) else ():
                        if isinstance(key, ast.Constant) and isinstance(key.value, str):
                            yield key.value, path.stem


def test_every_key_of_the_json_documents_is_told() -> None:
    told = set(re.findall(r"[`{ \"]([a-z][a-z_0-9]*)[`\"]", PAGES["json"] + PAGES["shelf"]))
    keys = sorted(set(keys_of_documents()))
    assert len(keys) > 250 and [f"{module}: {key}" for key, module in keys if key not in told] == []


def test_its_bay_is_a_bay() -> None:
    bay = next(text for text in fenced(PAGES["brief"], "yaml") if text.startswith("bay:"))
    assert set(Bay.model_validate(yaml.safe_load(bay)["bay"]).zones) == {"nose", "side"}


def test_its_brief_is_a_brief() -> None:
    text = next(text for text in fenced(README, "yaml") if text.startswith("brief:"))
    short, whole = yaml.safe_load(text), yaml.safe_load((ROOT / "examples" / "hatch.yaml").read_text(encoding="utf-8"))
    assert Brief.model_validate(short).bay and short["brief"] == whole["brief"]
    for key, value in short["engine"].items():
        assert whole["engine"][key] == value, key


def test_its_pump_is_a_pump(tmp_path: Path) -> None:
    text = next(text for text in fenced(PAGES["catalogue"], "yaml") if text.startswith("pumps:"))
    (tmp_path / "pumps.yaml").write_text(text, encoding="utf-8")
    catalogue, tables = load_catalogue(tmp_path)
    assert list(catalogue.parts) == ["pump-46-mine"]
    assert "hill-climb" in tables.driving, "tables that the folder lacks come from the shipped one"
    (tmp_path / "pumps.yaml").write_text(text.replace("head: 45 kPa", "head: 65 kPa"), encoding="utf-8")
    with pytest.raises(BadInput):
        load_catalogue(tmp_path)


def test_its_map_of_a_price_list_is_one(tmp_path: Path) -> None:
    text = next(text for text in fenced(PAGES["shelf"], "yaml") if text.startswith("decimal:"))
    (tmp_path / "map.yaml").write_text(text, encoding="utf-8")
    read = load_price_map(tmp_path / "map.yaml", load_catalogue(shipped_catalogue())[0])
    assert read.between == ";" and read.columns.number == "Article" and len(read.numbers) == 2


def test_names_of_the_catalogue() -> None:
    _, tables = load_catalogue(shipped_catalogue())
    _, drives = PAGES["brief"].split("## How the car is driven\n", 1)
    told = re.findall(r"^\| `([a-z-]+)` \| (.*) \|$", drives.split("\n## ", 1)[0], re.MULTILINE)
    assert dict(told) == {drive: tables.driving[drive].name for drive in sorted(tables.driving)}
    for kind in PART_KINDS:
        assert re.search(rf"`{kind}(es|s)`", PAGES["catalogue"]), kind
    for form in End.model_fields["form"].annotation.__args__:  # type: ignore[union-attr]
        assert f"`{form}`" in PAGES["catalogue"], form


def test_the_bands() -> None:
    told = re.findall(r"^\| [a-z ]+ \|.*\| ± (\d+) % \| ± (\d+) % \|$", PAGES["catalogue"], re.MULTILINE)
    assert [(int(ua) / 100, int(loss) / 100) for ua, loss in told] == list(BANDS.values())


def test_the_cuts_in_which_water_falls_out() -> None:
    assert f"water may fall out are cut to {CUT_S:g} s," in " ".join(PAGES["figures"].split())


def test_outcomes_and_exit_codes() -> None:
    told = {}
    for line in PAGES["answer"].splitlines():
        row = re.match(r"^\| (`.*`)? ?\| (\d) \|", line)
        if row:
            told |= {outcome: int(row[2]) for outcome in re.findall(r"`([a-z_]+)`", row[1] or "`usage`")}
    assert told == CODES | {"bad_input": exit_codes.BAD_INPUT, "usage": exit_codes.USAGE}


def test_every_code_is_listed_with_its_cause() -> None:
    codes = [*_SENTENCES, *(error.code for error in KitwrightError.__subclasses__())]
    assert set(_SENTENCES) == set(_CAUSES) and len(codes) + len(CAUTION_CODES) > 30
    for code in (*codes, *CAUTION_CODES):
        assert f"| `{code}` |" in DEVELOPERS, code


def shown_commands() -> list[list[str]]:
    """Every command of `kitwright` in the README's blocks, without its remark."""
    lines = "".join(fenced(README, "bash")).splitlines()
    return [shlex.split(line, comments=True)[1:] for line in lines if line.startswith("kitwright ")]


def test_commands_of_the_readme_that_need_no_car_do_as_it_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Those of a car are run by the journeys on cars of their own."""
    monkeypatch.chdir(ROOT)
    done = {}
    for words in shown_commands():
        if words[0] in ("check", "mate") or "--fits-only" in words or "--new" in words:
            words = [str(tmp_path / word) if word.startswith("my-") else word for word in words]
            done[" ".join(words[:2])] = run_here(*words).code
    assert {words: code for words, code in done.items() if code} == {"mate orb:-10:male": 1}
    assert len(done) == 5 and len(shown_commands()) >= 15
    assert (tmp_path / "my-car.yaml").is_file() and (tmp_path / "my-core.yaml").is_file()
