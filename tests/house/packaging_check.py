"""Is the catalogue found from a wheel, an sdist, an editable install and a checkout? A script, run by `.ci/run`.

python tests/house/packaging_check.py: needs git, hatchling and the libraries in the running environment, no network.
"""

from __future__ import annotations

import subprocess
import sys
import tarfile
import tempfile
import venv
import zipfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LOOK = """
from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_catalogue import load_catalogue
folder = find_catalogue()
print(len(load_catalogue(folder)[0].parts), folder)
"""


def said(*command: str | Path, cwd: Path = ROOT) -> str:
    """What a command prints; it has to end well."""
    return subprocess.run(
        [str(word) for word in command], cwd=cwd, check=True, stdout=subprocess.PIPE, encoding="utf-8"
    ).stdout


def tracked() -> dict[str, bytes]:
    """Every file of the catalogue that git knows, by name."""
    names = said("git", "ls-files", "catalogue").split()
    return {name.removeprefix("catalogue/"): (ROOT / name).read_bytes() for name in names}


def built(folder: Path) -> tuple[Path, Path]:
    """Wheel and sdist, built from a clean clone in which an untracked file lies beside the catalogue."""
    clone = folder / "clone"
    said("git", "clone", "-q", ROOT, clone)
    (clone / ".gitignore").open("a", encoding="utf-8").write("catalogue/.env\n")
    (clone / "catalogue" / ".env").write_text("SECRET=1\n", encoding="utf-8")
    said(sys.executable, "-m", "hatchling", "build", "-d", folder / "dist", cwd=clone)
    return next((folder / "dist").glob("*.whl")), next((folder / "dist").glob("*.tar.gz"))


def of_wheel(wheel: Path) -> dict[str, bytes]:
    """The catalogue inside a wheel, by name."""
    inside = "configurator/_catalogue/"
    with zipfile.ZipFile(wheel) as archive:
        assert any(name.endswith("LICENSE") for name in archive.namelist())
        return {n.removeprefix(inside): archive.read(n) for n in archive.namelist() if n.startswith(inside)}


def of_sdist(sdist: Path) -> dict[str, bytes]:
    """The catalogue inside an sdist, by name."""
    found = {}
    with tarfile.open(sdist) as archive:
        for member in archive.getmembers():
            _, _, below = member.name.partition("/catalogue/")
            content = archive.extractfile(member) if below else None
            if content is not None:
                found[below] = content.read()
    return found


def main() -> None:
    """Build, compare with git, then install each form in turn and look for the catalogue from elsewhere."""
    committed = said("git", "status", "--porcelain", "catalogue").strip() == ""
    assert committed, "commit or put away the changes of the catalogue first"
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        wheel, sdist = built(folder)
        assert of_wheel(wheel) == tracked(), "the wheel's catalogue is not git's"
        assert of_sdist(sdist) == tracked(), "the sdist's catalogue is not git's"
        print(f"wheel and sdist hold git's {len(tracked())} catalogue files and nothing else")
        venv.create(folder / "env", with_pip=True, system_site_packages=False)
        python = folder / "env" / "bin" / "python"
        libraries = next(Path(path) for path in sys.path if path.endswith("site-packages"))
        own = next((folder / "env" / "lib").glob("python*")) / "site-packages"
        (own / "libraries.pth").write_text(f"{libraries}\n", encoding="utf-8")
        elsewhere = folder / "elsewhere"
        elsewhere.mkdir()
        alone = ("--no-deps", "--no-build-isolation", "--no-index", "--ignore-installed")
        where = {}
        for form, what in (("wheel", [wheel]), ("sdist", [sdist]), ("editable", ["-e", folder / "clone"])):
            said(python, "-m", "pip", "install", "-q", *alone, *what)
            where[form] = said(python, "-c", LOOK, cwd=elsewhere).strip()
            said(folder / "env" / "bin" / "kitwright", "--version", cwd=elsewhere)
            said(python, "-m", "pip", "uninstall", "-q", "-y", "kitwright")
        where["checkout"] = said(python, "-c", LOOK, cwd=folder / "clone").strip()
        for form, told in where.items():
            inside = "_catalogue" if form in ("wheel", "sdist") else str(folder / "clone" / "catalogue")
            assert inside in told, (form, told)
            print(f"{form:<9} {told}")


if __name__ == "__main__":
    main()
