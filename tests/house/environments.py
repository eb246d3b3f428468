"""Pythons of this machine, and fresh environments into which libraries are really installed."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

OLDEST = (3, 11)
"""The oldest Python that the project is for: `requires-python` says the same, which the check makes sure of."""

CALLERS_OWN = ("PYTHONPATH", "PYTHONHOME", "VIRTUAL_ENV", "KITWRIGHT_CATALOGUE", "PIP_CONSTRAINT")


def said(*command: str | Path, cwd: Path | None = None, **added: str) -> str:
    """What a command prints; it has to end well. Nothing of the caller's settings comes along but `added`."""
    environment = {name: value for name, value in os.environ.items() if name not in CALLERS_OWN}
    words = [str(word) for word in command]
    done = subprocess.run(words, cwd=cwd, env=environment | added, capture_output=True, encoding="utf-8", check=False)
    assert done.returncode == 0, f"{' '.join(words)} ended with {done.returncode}\n{done.stdout}\n{done.stderr}"
    return done.stdout


def version_of(python: Path) -> tuple[int, int] | None:
    """Which Python it is; None where it does not start, is not CPython, or cannot make environments."""
    script = "import sys, venv, ssl; print(sys.implementation.name, *sys.version_info[:2])"
    try:
        done = subprocess.run([python, "-c", script], capture_output=True, encoding="utf-8", check=False)
    except OSError:
        return None
    name, *numbers = done.stdout.split() or [""]
    return (int(numbers[0]), int(numbers[1])) if done.returncode == 0 and name == "cpython" else None


def pythons() -> dict[tuple[int, int], Path]:
    """One interpreter of each release from `OLDEST` on, oldest first: the running one, those on PATH, pyenv's."""
    found = {sys.version_info[:2]: Path(sys.executable)}
    places = [Path(folder) for folder in os.environ.get("PATH", "").split(os.pathsep) if folder]
    places += sorted(Path(os.environ.get("PYENV_ROOT") or Path.home() / ".pyenv").glob("versions/*/bin"))
    for place in places:
        for python in sorted(place.glob("python3.*")):
            if python.name.removeprefix("python3.").isdigit() and os.access(python, os.X_OK):
                version = version_of(python)
                if version is not None and version >= OLDEST:
                    found.setdefault(version, python)
    return dict(sorted(found.items()))


class Fresh:
    """An environment without a single library at first, and a folder elsewhere in which its commands are run."""

    def __init__(self, python: Path, folder: Path) -> None:
        self.folder = folder
        self.elsewhere = folder / "elsewhere"
        said(python, "-m", "venv", "--without-pip", folder / "env")
        self.elsewhere.mkdir()
        self.programs = next(place for place in (folder / "env" / "bin", folder / "env" / "Scripts") if place.is_dir())
        self.python = self.programs / "python"

    def pip(self, *words: str | Path) -> None:
        """Have the running pip do something in this environment."""
        said(sys.executable, "-m", "pip", "--python", self.python, "--disable-pip-version-check", *words)

    def install(self, *what: str | Path) -> None:
        """Install from the package index, or pip's cache of it; modules are compiled when they are first used."""
        self.pip("install", "-q", "--no-compile", *what)

    def run(self, program: str | Path, *words: str | Path, cwd: Path | None = None) -> str:
        """What one of its programs prints, run in the folder elsewhere; caches lie in a folder of its own."""
        environment = {"COLUMNS": "80", "NO_COLOR": "1", "PYTHONIOENCODING": "utf-8"}
        environment |= {"XDG_CACHE_HOME": str(self.folder / "cache"), "PYTHONDONTWRITEBYTECODE": ""}
        return said(self.programs / program, *words, cwd=cwd or self.elsewhere, **environment)

    def bring(self, folder: Path) -> None:
        """Lay a copy of a folder beside its commands."""
        shutil.copytree(folder, self.elsewhere / folder.name)
