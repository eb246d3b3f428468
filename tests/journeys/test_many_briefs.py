"""`kitwright suggest BRIEF BRIEF …`: every answer as if it had been asked for alone, in the order given."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any, cast

import pytest

from configurator.cli import many_briefs
from configurator.cli.many_briefs import Told, answers
from configurator.cli.suggest_command import Asked, suggest_for
from configurator.errors import TooManyKits
from configurator.files.load_catalogue import load_catalogue
from tests.journeys.kitwright import CHECKOUT, Run, command, example, shipped_part, small_shelf, written

NO_MORE = ("--no-ways-out",)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small shelf, three briefs that end in three ways, and one that is none."""
    folder = tmp_path_factory.mktemp("many")
    (folder / "shelf").mkdir()
    parts = {
        "cores": [shipped_part("core-260-short")],
        "exchangers": [shipped_part("exchanger-350-slim")],
        "pumps": [shipped_part("pump-40-small")],
        "reservoirs": [shipped_part("reservoir-8-cube")],
    }
    (folder / "shelf" / "parts.yaml").write_text(written(small_shelf(**parts)), encoding="utf-8")
    for name, brief in (
        ("kits", example("hatch")),
        ("none", example("hatch", aim__charge_air="30 degC")),
        ("open", example("hatch", bay="unmeasured")),
        ("bad", example("hatch", engine__boost="1.4")),
    ):
        (folder / f"{name}.yaml").write_text(written(brief), encoding="utf-8")
    return folder


def asked(folder: Path, *names: str, options: tuple[str, ...] = ()) -> Run:
    """Run on these briefs."""
    briefs = [folder / f"{name}.yaml" for name in names]
    return command("suggest", *briefs, "--catalogue", folder / "shelf", *NO_MORE, *options)


@pytest.fixture(scope="module")
def alone(folder: Path) -> dict[str, Run]:
    return {name: asked(folder, name) for name in ("kits", "none", "open")}


@pytest.fixture(scope="module")
def together(folder: Path) -> Run:
    return asked(folder, "none", "kits", "bad", "open")


def test_alone_they_end_in_three_ways(alone: dict[str, Run]) -> None:
    assert {name: run.code for name, run in alone.items()} == {"kits": 0, "none": 1, "open": 4}


def test_each_answer_stands_under_its_name_byte_for_byte(folder: Path, alone: dict[str, Run], together: Run) -> None:
    told = re.split(r"(?:^|\n)=== (.*) ===\n\n", together.out)
    assert told[0] == ""
    assert told[1::2] == [*(str(folder / f"{name}.yaml") for name in ("none", "kits", "bad", "open")), "4 briefs"]
    none, kits, bad, undecided, in_short = told[2::2]
    assert [none, kits, undecided] == [alone[name].out for name in ("none", "kits", "open")]
    assert bad == "No answer: 1 problem to mend in this file.\n"
    files = {name: f"{folder / name}.yaml" for name in ("none", "bad", "open")}
    assert in_short.endswith(".\n")
    assert "".join(in_short.split()) == "".join(
        f"1 with kits; 1 without a kit: {files['none']}; 1 not decided, or cut short: {files['open']}; "
        f"1 that cannot be used: {files['bad']}.".split()
    )


def test_a_brief_named_twice_counts_twice() -> None:
    told = many_briefs._in_short([(Path("a.yaml"), 0), (Path("b.yaml"), 1), (Path("a.yaml"), 0)])
    assert told == "\n=== 3 briefs ===\n\n2 with kits; 1 without a kit: b.yaml.\n"


def test_a_bad_brief_is_told_with_its_place_and_the_others_are_answered(folder: Path, together: Run) -> None:
    line = (folder / "bad.yaml").read_text(encoding="utf-8").splitlines().index("  boost: '1.4'") + 1
    assert together.err.startswith(f"{folder / 'bad.yaml'}:{line}:10: ")
    assert together.err.endswith("1 problem to mend; this brief has no answer.\n")
    assert together.code == 3


@pytest.mark.parametrize(
    ("codes", "worst"), [((0, 0), 0), ((1, 0), 1), ((0, 4, 1, 0), 4), ((1, 3, 4), 3), ((3, 0), 3), ((4, 4), 4)]
)
def test_the_exit_code_is_the_worst(monkeypatch: pytest.MonkeyPatch, codes: tuple[int, ...], worst: int) -> None:
    """3 before 4 before 1 before 0, wherever they stand."""

    def given(*_: object) -> Iterator[Told]:
        yield from (Told(code, "", "") for code in codes)

    monkeypatch.setattr(many_briefs, "answers", given)
    shelf = cast(Any, (None, None))
    assert many_briefs.run([Path(f"{number}.yaml") for number, _ in enumerate(codes)], Asked(), *shelf) == worst


def test_a_list_for_programs(folder: Path) -> None:
    asks = (("kits", "bad"), ("kits",), ("bad",))
    run, single, refused = (asked(folder, *names, options=("--json",)) for names in asks)
    kits, bad = json.loads(run.out)
    assert (list(kits), list(bad)) == (["brief", "answer"], ["brief", "problems"])
    assert [kits["brief"], bad["brief"]] == [str(folder / "kits.yaml"), str(folder / "bad.yaml")]
    assert json.dumps(kits["answer"], indent=1, ensure_ascii=False) + "\n" == single.out
    assert bad["problems"] == json.loads(refused.out)["problems"]
    assert run.code == 3 and "bad.yaml:" in run.err


@pytest.mark.parametrize("as_json", [False, True])
def test_a_question_that_is_refused_is_told_and_the_others_are_answered(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], as_json: bool
) -> None:
    """Of the same text and exit code as alone: all kits are asked for, and the shelf has too many for that."""
    monkeypatch.setattr("configurator.questions.searches.MOST_WHOLE", 0)
    shelf = load_catalogue(folder / "shelf")
    briefs = [folder / f"{name}.yaml" for name in ("kits", "bad")]
    asks = Asked(folder / "shelf", no_ways_out=True, front=True, as_json=as_json)
    with pytest.raises(TooManyKits) as alone:
        suggest_for(briefs[0], asks, *shelf)
    capsys.readouterr()
    assert many_briefs.run(briefs, asks, *shelf) == 3
    out, err = capsys.readouterr()
    assert f"kitwright: {briefs[0]}: {alone.value}\n" in err and f"{briefs[1]}:" in err
    if as_json:
        refused, bad = json.loads(out)
        assert refused == {"brief": str(briefs[0]), "error": {"code": "too-many-kits", "text": str(alone.value)}}
        assert list(bad) == ["brief", "problems"]
    else:
        assert "No answer: the question was refused" in out
        assert "".join(out.split()).endswith(f"1thatcannotbeused:{briefs[1]};1refused:{briefs[0]}.")


def test_processes_that_are_started_afresh_answer_alike(folder: Path, alone: dict[str, Run]) -> None:
    """As where a process cannot be forked: they are sent the shelf. Fewer than the briefs, and one brief twice."""
    briefs = [folder / f"{name}.yaml" for name in ("open", "bad", "open")]
    shelf = load_catalogue(folder / "shelf")
    told = list(answers(briefs, Asked(folder / "shelf", no_ways_out=True), shelf, method="spawn", workers=2))
    assert [one.code for one in told] == [4, 3, 4]
    assert told[0].out == told[2].out == alone["open"].out
    assert [len(one.problems) for one in told] == [0, 1, 0] and told[1].out == ""


@pytest.mark.parametrize("option", ["--bill", "--draw", "--chart", "--trace"])
def test_one_file_for_several_briefs_is_refused(folder: Path, tmp_path: Path, option: str) -> None:
    run = asked(folder, "kits", "none", options=(option, str(tmp_path / "file")))
    assert run.code == 2 and run.out == "" and not (tmp_path / "file").exists()
    assert run.err == f"kitwright: {option} would write one file for 2 briefs: name one brief at a time with it\n"


def test_a_worker_that_dies_is_no_answer(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("configurator.cli.many_briefs._told", lambda *_: os._exit(1))
    shelf = load_catalogue(folder / "shelf")
    with pytest.raises(ChildProcessError, match=r"kits\.yaml"):
        list(answers([folder / "kits.yaml"], Asked(), shelf, method="fork"))


def test_an_interrupt_ends_all_of_it(folder: Path) -> None:
    """Ctrl-C reaches every process of the terminal's group at once."""
    words = ["suggest", *[str(folder / "kits.yaml")] * 12, "--catalogue", str(folder / "shelf")]
    environment = {**os.environ, "PYTHONPATH": str(CHECKOUT)}
    run = subprocess.Popen(
        [sys.executable, "-m", "configurator", *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        start_new_session=True, env=environment, text=True,
    )  # fmt: skip
    assert run.stdout is not None
    assert run.stdout.readline().startswith("=== ")
    os.killpg(run.pid, signal.SIGINT)
    out, err = run.communicate(timeout=60)
    assert run.returncode == 130 and err == "" and out.count("=== ") < 12
    with pytest.raises(ProcessLookupError):
        os.killpg(run.pid, 0)
