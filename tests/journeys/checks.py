"""Runs `kitwright check` on kit files made in a test, in this process."""

from __future__ import annotations

import contextlib
import gc
import importlib
import io
import json
import re
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest.mock import patch

from tests.journeys.kitwright import CHECKOUT, Tree, read, written

KITS = CHECKOUT / "examples" / "kits"


@dataclass(frozen=True)
class Ran:
    """Exit code, standard output and standard error of one run."""

    code: int
    out: str
    err: str

    @property
    def answer(self) -> Tree:
        """The JSON document."""
        document: Tree = json.loads(self.out)
        return document


def run(*words: str) -> Ran:
    """Run the command line in this process."""
    main = importlib.import_module("configurator.cli.start").run
    out, err = io.StringIO(), io.StringIO()
    code = 0
    collecting = gc.isenabled()
    with (
        patch.object(sys, "argv", ["kitwright", *words]),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
    ):
        try:
            main()
        except SystemExit as stop:
            code = int(stop.code or 0)
        finally:
            if collecting:
                gc.enable()
    return Ran(code, out.getvalue(), err.getvalue())


def kit_file(name: str) -> Tree:
    """An example kit file as plain data."""
    data: Tree = read(KITS / f"{name}.yaml")
    return data


def check(kit: Tree | str, *options: str, brief: Tree | None = None, shelf: Tree | None = None) -> Ran:
    """Check a kit, as plain data, as text, or the name of an example."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        path = KITS / f"{kit}.yaml" if isinstance(kit, str) and "\n" not in kit else folder / "kit.yaml"
        if path.parent == folder:
            path.write_text(kit if isinstance(kit, str) else written(kit), encoding="utf-8")
        words = ["check", str(path), *options]
        if brief is not None:
            (folder / "brief.yaml").write_text(written(brief), encoding="utf-8")
            words += ["--brief", str(folder / "brief.yaml")]
        if shelf is not None:
            (folder / "shelf").mkdir()
            (folder / "shelf" / "parts.yaml").write_text(written(shelf), encoding="utf-8")
            words += ["--catalogue", str(folder / "shelf")]
        return run(*words)


def flowing(text: str) -> str:
    """Text without its line breaks: a word that was broken at its hyphen is whole again."""
    return " ".join(re.sub(r"-\n\s+", "-", text).split())


def bought(answer: dict[str, Any]) -> dict[str, float]:
    """What is to be bought off the shelf: quantities by id."""
    found: dict[str, float] = {}
    for line in answer["to_buy"]:
        if line["part"]:
            found[line["part"]] = found.get(line["part"], 0.0) + line["quantity"]
    return found
