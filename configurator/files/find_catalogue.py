"""Where the catalogue is: the folder named, else the one of the environment, else the shipped one."""

from __future__ import annotations

import os
from pathlib import Path

from configurator.errors import CatalogueMissing

ENVIRONMENT_VARIABLE = "KITWRIGHT_CATALOGUE"
_PACKAGE = Path(__file__).resolve().parent.parent


def find_catalogue(named: str | Path | None = None) -> Path:
    """The catalogue folder in use. Raises CatalogueMissing with what was looked for."""
    for given, whence in (
        (named, "--catalogue"),
        (os.environ.get(ENVIRONMENT_VARIABLE), ENVIRONMENT_VARIABLE),
    ):
        if given:
            folder = Path(given)
            if not is_folder(folder):
                raise CatalogueMissing(f"{whence} names '{given}', which is not a folder")
            return folder
    return shipped_catalogue()


def is_folder(path: Path) -> bool:
    """Whether there is a folder of that name that may be looked at; a name that no file can have names none."""
    try:
        return path.is_dir()
    except OSError:
        return False


def shipped_catalogue(package: Path = _PACKAGE) -> Path:
    """The shipped folder: inside an installed package, else beside the package of a checkout."""
    for folder in (package / "_catalogue", package.parent / "catalogue"):
        if folder.is_dir():
            return folder
    raise CatalogueMissing(
        f"no catalogue was shipped with this installation ({package}); name a folder with --catalogue DIR"
    )
