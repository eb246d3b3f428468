"""Catalogues kept in the user's cache folder: the same answer with and without, whatever happens to what is kept."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from configurator.errors import BadInput
from configurator.files import kept_catalogue
from configurator.files import load_catalogue as loading
from configurator.files.kept_catalogue import MOST_KEPT, cache_folder, name_of
from configurator.files.load_catalogue import load_catalogue
from tests.journeys.kitwright import CATALOGUE, CHECKOUT, command, example, shipped_part, small_shelf, written

PUMP = "pumps:\n  - {id: pump-one, name: One, price: 10, mass: 1 kg, size: {x: 100 mm, y: 100 mm, z: 100 mm},\n"
PUMP += "     coolant: {working: 1.5 bar, ends: [{name: in, form: spigot, size: 19 mm, barb: true, face: -x,\n"
PUMP += "     at: {y: 50 mm, z: 50 mm}}, {name: out, form: spigot, size: 19 mm, barb: true, face: +x,\n"
PUMP += "     at: {y: 50 mm, z: 50 mm}}]}, curve: [{flow: 0 L/min, head: 30 kPa}, {flow: 40 L/min, head: 0 kPa}],\n"
PUMP += "     volts: 12, current: 3 A}\n"


@pytest.fixture(autouse=True)
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder of each test's own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "kitwright" / "catalogues"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "pumps.yaml").write_text(PUMP, encoding="utf-8")
    return tmp_path / "shelf"


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How many YAML files each loading read."""
    counts: list[int] = []
    plain = loading._load

    def counted(*arguments: object) -> object:
        counts.append(len(arguments[0]))  # type: ignore[arg-type]
        return plain(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(loading, "_load", counted)
    return counts


def test_the_tests_leave_the_users_cache_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.undo()
    place = cache_folder()
    assert place is not None and "kitwright-tests-" in str(place) and Path.home() not in place.parents


def test_a_second_start_reads_no_yaml_and_has_the_same_records(folder: Path, cache: Path, read: list[int]) -> None:
    first, again = load_catalogue(folder), load_catalogue(folder)
    assert read == [1] and len(list(cache.iterdir())) == 1
    assert first == again and repr(first) == repr(again)
    assert list(first[0].parts) == list(again[0].parts) and first[0].fingerprint == again[0].fingerprint
    for table in vars(first[1]):
        assert list(getattr(first[1], table).items()) == list(getattr(again[1], table).items()), table


def test_any_change_of_a_file_is_read(folder: Path, read: list[int]) -> None:
    load_catalogue(folder)
    file = folder / "pumps.yaml"
    file.write_text(PUMP.replace("price: 10", "price: 11"), encoding="utf-8")
    assert load_catalogue(folder)[0].parts["pump-one"].price == 11.0
    (folder / "clamps.yaml").write_text("clamps: []\n", encoding="utf-8")
    load_catalogue(folder)
    file.rename(folder / "more.yaml")
    load_catalogue(folder)
    assert len(read) == 4
    file.write_text(PUMP.replace("price: 10", "price: 11"), encoding="utf-8")
    with pytest.raises(BadInput):  # the same pump twice
        load_catalogue(folder)


def test_files_that_only_together_have_the_same_bytes_are_others() -> None:
    assert name_of([("a", b"one"), ("b", b"two")]) != name_of([("a", b"onetwo"), ("b", b"")])
    assert name_of([("a", b"one")]) != name_of([("b", b"one")])


def test_the_name_is_the_same_in_another_process_and_after_a_touch(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It hangs on what stands in the sources alone: not on their dates, their folder or a process's hash seed."""
    script = "from configurator.files.kept_catalogue import name_of; print(name_of([('a', b'one')]))"
    told = {
        subprocess.run(
            [sys.executable, "-c", script],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONPATH": str(CHECKOUT), "PYTHONHASHSEED": seed},
        ).stdout.strip()
        for seed in ("1", "2")
    }
    assert told == {name_of([("a", b"one")])}
    package = tmp_path / "configurator"
    shutil.copytree(CHECKOUT / "configurator", package, ignore=shutil.ignore_patterns("__pycache__"))
    for source in package.rglob("*.py"):
        os.utime(source, (1e9, 1e9))
    monkeypatch.setattr(kept_catalogue, "_PACKAGE", package)
    assert {name_of([("a", b"one")])} == told
    (package / "parts" / "kinds.py").write_text("", encoding="utf-8")
    assert name_of([("a", b"one")]) not in told


def test_a_changed_model_or_version_is_another_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "configurator"
    for room in ("foundations", "standards", "parts", "brief", "files"):
        shutil.copytree(CHECKOUT / "configurator" / room, package / room, ignore=shutil.ignore_patterns("__pycache__"))
    monkeypatch.setattr(kept_catalogue, "_PACKAGE", package)
    names = [name_of([])]
    for changed in ("parts/kinds.py", "foundations/units.py", "foundations/coolant_tables.json", "brief/driving.py"):
        path = package / changed
        path.write_text(path.read_text(encoding="utf-8") + "\n", encoding="utf-8")
        names.append(name_of([]))
    monkeypatch.setattr(kept_catalogue, "__version__", "another")
    names.append(name_of([]))
    assert None not in names and len(set(names)) == 6
    monkeypatch.setattr(kept_catalogue, "_PACKAGE", tmp_path / "nowhere")
    assert name_of([]) is None


def test_a_folder_with_problems_is_never_kept_and_told_each_time(folder: Path, cache: Path) -> None:
    (folder / "pumps.yaml").write_text(PUMP.replace("volts: 12", "volts: 12 V"), encoding="utf-8")
    told = []
    for _ in range(2):
        with pytest.raises(BadInput) as caught:
            load_catalogue(folder)
        told.append([(problem.line, problem.column, problem.text) for problem in caught.value.problems])
    assert told[0] == told[1] and told[0][0][0] == 6
    assert not cache.exists()


@pytest.mark.parametrize("harm", ["half", "nothing", "one byte", "no JSON", "not a hash"])
def test_what_is_not_whole_is_read_afresh_and_mended(folder: Path, cache: Path, read: list[int], harm: str) -> None:
    first = load_catalogue(folder)
    (kept,) = cache.iterdir()
    whole = kept.read_bytes()
    middle = len(whole) // 2
    kept.write_bytes(
        {
            "half": whole[:middle],
            "nothing": b"",
            "one byte": whole[:middle] + bytes([whole[middle] ^ 1]) + whole[middle + 1 :],
            "no JSON": whole[:65] + b"{",
            "not a hash": b"\xff" + whole,
        }[harm]
    )
    assert load_catalogue(folder) == first and len(read) == 2
    assert kept.read_bytes() == whole
    assert load_catalogue(folder) == first and len(read) == 2


def test_where_nothing_can_be_kept_the_answer_is_the_same(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = load_catalogue(folder)
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    assert load_catalogue(folder) == first
    monkeypatch.setattr(kept_catalogue, "cache_folder", lambda: None)
    assert load_catalogue(folder) == first


def test_a_full_disk_leaves_nothing_behind(folder: Path, cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(self: Path, other: Path) -> Path:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as now:
        now.setattr(Path, "replace", full)
        first = load_catalogue(folder)
    assert list(cache.iterdir()) == []
    assert load_catalogue(folder) == first and len(list(cache.iterdir())) == 1


def test_the_oldest_go(folder: Path, cache: Path) -> None:
    names = []
    for price in range(MOST_KEPT + 2):
        (folder / "pumps.yaml").write_text(PUMP.replace("price: 10", f"price: {price}"), encoding="utf-8")
        load_catalogue(folder)
        new = {path.name for path in cache.iterdir()} - set(names)
        names += sorted(new)
        for age, name in enumerate(reversed(names)):
            if (cache / name).exists():
                os.utime(cache / name, (1e9 - age, 1e9 - age))
    assert {path.name for path in cache.iterdir()} == set(names[-MOST_KEPT:])


def test_one_that_is_asked_for_again_stays(folder: Path, cache: Path) -> None:
    load_catalogue(folder)
    (first,) = cache.iterdir()
    os.utime(first, (1e9, 1e9))
    load_catalogue(folder)
    assert first.stat().st_mtime > 1e9 + 1


def test_several_processes_at_once(folder: Path, cache: Path) -> None:
    script = "import sys; from pathlib import Path; from configurator.files.load_catalogue import load_catalogue\n"
    script += "for _ in range(5): print(load_catalogue(Path(sys.argv[1]))[0].fingerprint)\n"
    environment = {**os.environ, "PYTHONPATH": str(CHECKOUT)}
    runs = [
        subprocess.Popen([sys.executable, "-c", script, str(folder)], stdout=subprocess.PIPE, env=environment)
        for _ in range(3)
    ]
    said = {line for run in runs for line in run.communicate()[0].split()}
    assert said == {load_catalogue(folder)[0].fingerprint.encode()} and [run.returncode for run in runs] == [0, 0, 0]
    assert len(list(cache.iterdir())) == 1, "no unfinished file is left"


def test_where_it_is_kept(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """XDG Base Directory Specification 0.8: a path that is not absolute is ignored, ~/.cache is taken then."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setattr(sys, "platform", "linux")
    below = Path("kitwright") / "catalogues"
    assert cache_folder() == tmp_path / "cache" / below
    for value in ("", "not/absolute"):
        monkeypatch.setenv("XDG_CACHE_HOME", value)
        assert cache_folder() == tmp_path / ".cache" / below
    monkeypatch.setattr(sys, "platform", "darwin")
    assert cache_folder() == tmp_path / "Library" / "Caches" / below
    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "local"))
    assert cache_folder() == tmp_path / "local" / below
    monkeypatch.setattr(Path, "home", lambda: (_ for _ in ()).throw(RuntimeError("no home")))
    monkeypatch.delenv("LOCALAPPDATA")
    assert cache_folder() is None


def test_commands_print_the_same_bytes_with_and_without(tmp_path: Path, cache: Path) -> None:
    """On the shipped shelf what is light, and on a small one a whole search."""
    small = tmp_path / "small"
    small.mkdir()
    parts = {
        "cores": [shipped_part("core-260-short")],
        "exchangers": [shipped_part("exchanger-350-slim"), shipped_part("exchanger-398-double")],
        "pumps": [shipped_part("pump-40-small")],
        "reservoirs": [shipped_part("reservoir-8-cube")],
    }
    (small / "parts.yaml").write_text(written(small_shelf(**parts)), encoding="utf-8")
    (tmp_path / "brief.yaml").write_text(written(example("hatch")), encoding="utf-8")
    asked = (
        ("shelf", "show", "core-230-short", "--json", "--catalogue", CATALOGUE),
        ("shelf", "list", "--json"),
        ("shelf", "check", "--catalogue", small),
        ("check", CHECKOUT / "examples" / "kits" / "good.yaml", "--json"),
        ("mate", "orb:-10:male", "flare37:-10:female:swivel", "--json"),
        ("suggest", tmp_path / "brief.yaml", "--json", "--no-ways-out", "--catalogue", small),
    )
    for words in asked:
        afresh, again = command(*words), command(*words)
        assert afresh == again and len(afresh.out) > 500, words
    assert len(again.kits) == 2, "the search has found something"
    assert len(list(cache.iterdir())) == 2
