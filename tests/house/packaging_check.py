"""Does what is built hold what git has, and does it run where it is installed? A script, run by `.ci/run`.

python tests/house/packaging_check.py: needs git, hatchling and pip in the running environment, and a package index.

Wheel and sdist are built from a clean clone and held against it, file by file. Both are installed with all their
libraries into fresh environments of the oldest Python that the project is for and of the newest that this machine has
(of the running one alone where there is no other), and commands are run there from another folder. On the oldest, the
wheel has the lowest version of each library that pyproject.toml allows; afterwards the search is tested there on
`python-constraint`, the older library under the import name of `python-constraint2`.
"""

from __future__ import annotations

import re
import sys
import tarfile
import tempfile
import time
import tomllib
import zipfile
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from environments import OLDEST, Fresh, pythons, said

ROOT = Path(__file__).resolve().parents[2]
PACKAGED = ("configurator", "catalogue")
IN_SDIST = (*PACKAGED, "tests", "examples", "README.md", "DEVELOPERS.md", "pyproject.toml", ".gitignore")
LOOK = """
from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_catalogue import load_catalogue
folder = find_catalogue()
print(len(load_catalogue(folder)[0].parts), folder)
"""
VERSIONS = """
import importlib.metadata as of, configurator
licence = [file.read_text() for file in of.files("kitwright") if file.name == "LICENSE" and "licenses" in file.parts]
assert of.metadata("kitwright")["License-Expression"] == "MIT" and licence and "MIT License" in licence[0]
print(of.version("kitwright"), configurator.__version__)
"""
SEARCH_TESTS = ("skeletons", "missing_adapter")
CHECKED = "examples/kits/quick-connect-cap-1.1.yaml"
CHECK_SAYS = (ROOT / "tests/golden/check.txt").read_text(encoding="utf-8").removesuffix("[exit code 0]\n")
Built = tuple[Path, Path, Path]


def files_of(clone: Path, *names: str) -> dict[str, bytes]:
    """Every file below these names that git knows, by name."""
    listed = said("git", "ls-files", "-z", *names, cwd=clone).split("\0")
    return {name: (clone / name).read_bytes() for name in listed if name}


def built(folder: Path) -> Built:
    """The clone, its wheel and its sdist; files that git ignores lie about in it."""
    clone = folder / "clone"
    said("git", "clone", "-q", ROOT, clone)
    exclude = clone / ".git" / "info" / "exclude"
    exclude.write_text(".env\n", encoding="utf-8")
    with (clone / ".gitignore").open("a", encoding="utf-8") as ignored:
        ignored.write(".env\n")
    for place in (*PACKAGED, "tests", "examples"):
        (clone / place / ".env").write_text("SECRET=1\n", encoding="utf-8")
    (clone / "configurator" / "__pycache__").mkdir()
    (clone / "configurator" / "__pycache__" / "errors.cpython-311.pyc").write_bytes(b"old")
    said(sys.executable, "-m", "hatchling", "build", "-d", folder / "dist", cwd=clone)
    said("git", "checkout", "-q", ".gitignore", cwd=clone)
    return clone, next((folder / "dist").glob("*.whl")), next((folder / "dist").glob("*.tar.gz"))


def in_wheel(wheel: Path) -> tuple[dict[str, bytes], dict[str, bytes]]:
    """The files of a wheel by their names in git, and those that tell of the package by their own."""
    package, told = {}, {}
    with zipfile.ZipFile(wheel) as archive:
        for name in archive.namelist():
            if ".dist-info/" in name:
                told[name.partition(".dist-info/")[2]] = archive.read(name)
            else:
                package[re.sub(r"^configurator/_catalogue/", "catalogue/", name)] = archive.read(name)
    return package, told


def in_sdist(sdist: Path) -> dict[str, bytes]:
    """The files of an sdist by their names in git."""
    with tarfile.open(sdist) as archive:
        contents = {member.name: archive.extractfile(member) for member in archive.getmembers()}
        return {name.partition("/")[2]: file.read() for name, file in contents.items() if file is not None}


def same(what: str, found: Mapping[str, bytes], wanted: Mapping[str, bytes]) -> str:
    """Make sure that two sets of files are equal, byte for byte; say how many there are."""
    apart = sorted(name for name in {*found, *wanted} if found.get(name) != wanted.get(name))
    assert not apart, f"{what} and git differ in {len(apart)} files: {apart[:10]}"
    return f"{what:<9} holds git's {len(wanted)} files and nothing else"


def held_against_git(clone: Path, wheel: Path, sdist: Path) -> list[str]:
    """What is built is what git has, with the licence and the project's version."""
    package, told = in_wheel(wheel)
    from_sdist = in_sdist(sdist)
    metadata = from_sdist.pop("PKG-INFO")
    from_sdist[".gitignore"] = from_sdist[".gitignore"].replace(b".env\n", b"")
    licence = (clone / "configurator" / "LICENSE").read_bytes()
    assert licence in [content for name, content in told.items() if name.startswith("licenses/")]
    assert told["METADATA"] == metadata
    return [
        same("wheel", package, files_of(clone, *PACKAGED)),
        same("sdist", from_sdist, files_of(clone, *IN_SDIST)),
    ]


def floors() -> dict[str, list[str]]:
    """The lowest version of each library that pyproject.toml allows, by group."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert project["project"]["requires-python"] == f">={OLDEST[0]}.{OLDEST[1]}"
    itself = [*project["project"]["dependencies"], *project["project"]["optional-dependencies"]["xlsx"]]
    groups = {"itself": itself, "core": project["dependency-groups"]["core"]}
    pinned = {}
    for group, asked in groups.items():
        floor = [re.fullmatch(r"([\w-]+)>=([\d.]+)", library) for library in asked]
        assert all(floor), f"a library without a lowest version: {asked}"
        pinned[group] = [f"{found[1]}=={found[2]}" for found in floor if found]
    return pinned


def commands_run(fresh: Fresh, place: str) -> str:
    """Run what a user runs, from another folder; the catalogue has to come from `place`. Tells where it lies."""
    number, version = fresh.run("python", "-c", VERSIONS).split()
    assert number == version
    for program in (("kitwright",), ("python", "-m", "configurator")):
        assert fresh.run(*program, "--version") == f"kitwright {version}\n"
        assert "suggest" in fresh.run(*program, "--help")
    assert fresh.run("kitwright", "check", CHECKED) == CHECK_SAYS
    looked = fresh.run("python", "-c", LOOK).strip()
    assert place in looked, (place, looked)
    return looked.split()[0]


def example_answered(fresh: Fresh, *options: str) -> None:
    """The worked example is answered with the guide's bytes, whatever the versions of Python and libraries."""
    page = (ROOT / "examples" / "guide" / "worked-example.md").read_text(encoding="utf-8")
    screen = page.partition("<!-- screen -->\n```text\n")[2].partition("```\n")[0]
    assert screen and fresh.run("kitwright", "suggest", "examples/hatch.yaml", *options) == screen


def newest_libraries(fresh: Fresh, of: Built, *, forms: tuple[str, ...]) -> list[str]:
    """Each form in turn, on the newest libraries that this Python takes."""
    clone, wheel, sdist = of
    what = {"wheel": [wheel], "sdist": [sdist], "editable": ["-e", clone]}
    told = []
    for form in forms:
        fresh.install(*what[form])
        fresh.pip("check")
        place = str(clone / "catalogue") if form == "editable" else str(Path("configurator", "_catalogue"))
        told.append(f"{form}: {commands_run(fresh, place)} parts")
        if form == "wheel":
            example_answered(fresh)
        fresh.pip("uninstall", "-q", "-y", "kitwright")
    if "editable" in forms:
        assert str(clone / "catalogue") in fresh.run("python", "-c", LOOK, cwd=clone)
        told.append("checkout")
    return told


def lowest_libraries(fresh: Fresh, of: Built) -> list[str]:
    """The wheel on the lowest libraries that it allows; then its search on the older library of that import name."""
    clone, wheel, _ = of
    lowest = floors()
    constraints = fresh.folder / "lowest.txt"
    constraints.write_text("\n".join([*lowest["itself"], *lowest["core"]]), encoding="utf-8")
    fresh.install("-c", constraints, f"{wheel}[xlsx]", *lowest["core"])
    fresh.pip("check")
    told = [f"wheel on lowest versions: {commands_run(fresh, str(Path('configurator', '_catalogue')))} parts"]
    example_answered(fresh, "--bill", "bill.xlsx")
    assert zipfile.is_zipfile(fresh.elsewhere / "bill.xlsx")
    fresh.pip("uninstall", "-q", "-y", "python-constraint2")
    fresh.install("python-constraint==1.4.0")
    assert fresh.run("python", "-c", "import constraint; print(constraint.__version__)") == "1.4.0\n"
    tests = [f"tests/search/test_{name}.py" for name in SEARCH_TESTS]
    closing = fresh.run("python", "-m", "pytest", "-v", "-p", "no:cacheprovider", *tests, cwd=clone).splitlines()[-1]
    assert re.search(r"\d+ passed", closing) and "skipped" not in closing, closing
    example_answered(fresh)
    return [*told, f"on python-constraint 1.4.0: {closing.strip('= ')}"]


def main() -> None:
    """Build, compare with git, then install in every way, two environments at a time."""
    unsaved = said("git", "status", "--porcelain", *IN_SDIST, cwd=ROOT)
    assert not unsaved, f"commit or put away these changes first, for a clone is built:\n{unsaved}"
    there = pythons()
    print("Python here:", ", ".join(f"{major}.{minor} {path}" for (major, minor), path in there.items()))
    oldest, newest = min(there), max(there)
    with tempfile.TemporaryDirectory() as name:
        of = built(Path(name))
        print(*held_against_git(*of), sep="\n")
        jobs: dict[str, tuple[tuple[int, int], Callable[[Fresh], list[str]]]] = {}
        if oldest == OLDEST:
            jobs["lowest"] = (oldest, lambda fresh: lowest_libraries(fresh, of))
        else:
            print(f"lowest versions: not tried, there is no Python {OLDEST[0]}.{OLDEST[1]} here")
        jobs["newest"] = (newest, lambda fresh: newest_libraries(fresh, of, forms=("wheel", "sdist", "editable")))
        if oldest != newest:
            jobs["oldest"] = (oldest, lambda fresh: newest_libraries(fresh, of, forms=("sdist",)))

        def done(job: str) -> str:
            started = time.monotonic()
            version, what = jobs[job]
            (Path(name) / job).mkdir()
            fresh = Fresh(there[version], Path(name) / job)
            fresh.bring(of[0] / "examples")
            told = "; ".join(what(fresh))
            return f"Python {version[0]}.{version[1]}: {told} ({time.monotonic() - started:.0f} s)"

        with ThreadPoolExecutor(2) as two:
            for line in two.map(done, jobs):
                print(line, flush=True)


if __name__ == "__main__":
    main()
