"""What made a reader fall or hang, each as it was found by fuzzing or by hand, and the files that broke a write."""

from __future__ import annotations

import contextlib
import os
import signal
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from configurator.brief.tables import Tables
from configurator.errors import BadInput, CannotWrite
from configurator.files import write_together as together
from configurator.files.add_part import checked_part
from configurator.files.first_bytes import first_bytes
from configurator.files.load_catalogue import load_catalogue, load_parts
from configurator.files.load_kit import load_kit
from configurator.files.price_list import load_price_list
from configurator.files.price_map import PriceMap
from configurator.files.read_yaml import TOO_DEEP, read_text, read_yaml
from configurator.files.write_file import write_whole
from configurator.files.write_together import write_together
from configurator.parts.shelf import Catalogue
from tests.files.good_files import SHELF, TABLES


@pytest.fixture(scope="module")
def shelf(tmp_path_factory: pytest.TempPathFactory) -> tuple[Catalogue, Tables]:
    folder = tmp_path_factory.mktemp("finds")
    (folder / "all.yaml").write_text(SHELF + TABLES, encoding="utf-8")
    return load_catalogue(folder)


@pytest.fixture
def two_seconds() -> Iterator[None]:
    """Whatever hangs is woken."""

    def late(*_: object) -> None:
        raise TimeoutError("it hangs")

    before = signal.signal(signal.SIGALRM, late)
    signal.alarm(2)
    yield
    signal.alarm(0)
    signal.signal(signal.SIGALRM, before)


@pytest.mark.parametrize("name", ["{a: b}", "[a]"])
def test_an_id_that_is_keys_or_a_list(tmp_path: Path, shelf: tuple[Catalogue, Tables], name: str) -> None:
    """Such a value cannot be looked up: a part to add, candidates, a part written into a box."""
    file = tmp_path / "f.yaml"
    with pytest.raises(BadInput) as refusal:
        checked_part(read_text(f"id: {name}\nname: X\n", "part.yaml"), "relay", {})
    assert [problem.key for problem in refusal.value.problems if problem.line == 1 and problem.key == "id"]
    file.write_text(f"relays:\n  - {{id: {name}, name: X}}\n", encoding="utf-8")
    with pytest.raises(BadInput):
        load_parts(file, shelf[0])
    file.write_text(f"kit: K\nparts:\n  - {{kind: relay, id: {name}, name: X}}\n", encoding="utf-8")
    with pytest.raises(BadInput):
        load_kit(file, shelf[0])


@pytest.mark.parametrize("letter", ["\u2028", "\u2029", "\x85", "\x0b", "\x0c", "\x1c", "\x1e"])
def test_only_line_ends_of_csv_end_a_row(tmp_path: Path, letter: str) -> None:
    """RFC 4180 ends a row with CR LF, and everyday files with LF; a row cut at any other letter lost its price."""
    columns = {"id": "Part", "price": "Net"}
    made = PriceMap.model_validate({"decimal": "point", "columns": columns})
    file = tmp_path / "list.csv"
    text = f"Part,Text,Net\r\na,one{letter}two,5\r\nb,\"two\nlines\",6\nc,,7\r\n"
    file.write_text(text, encoding="utf-8", newline="")
    assert [(row.line, row.part, row.price) for row in load_price_list(file, made)] == [
        (2, "a", "5"), (3, "b", "6"), (5, "c", "7"),
    ]  # fmt: skip


def test_what_is_nested_too_deeply_is_called_so() -> None:
    """However the loader words it: no colon and no bracket is missing."""
    for depth in (60, 100_000):
        for closed in ("", "]" * depth):
            told = [problem.text for problem in read_text("a: " + "[" * depth + closed, "f").problems]
            assert len(told) == 1 and (told == [TOO_DEEP] or (depth == 60 and not closed))


@pytest.mark.usefixtures("two_seconds")
def test_a_pipe_without_a_writer_is_empty_and_one_with_a_slow_writer_is_read(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    assert [problem.text for problem in read_yaml(pipe).problems] == ["the file is empty"]

    def slowly() -> None:
        with os.fdopen(ends[1], "wb") as stream:
            time.sleep(0.2)
            stream.write(b"a: 1\n")

    ends = os.pipe()
    writer = threading.Thread(target=slowly)
    writer.start()
    assert first_bytes(Path(f"/dev/fd/{ends[0]}"), 100) == b"a: 1\n"
    writer.join()
    os.close(ends[0])


@pytest.mark.usefixtures("two_seconds")
def test_lists_without_an_end_are_refused(tmp_path: Path) -> None:
    made = PriceMap.model_validate({"decimal": "point", "columns": {"id": "Part", "price": "Net"}})
    os.mkfifo(tmp_path / "pipe.csv")
    for file, said in ((Path("/dev/zero"), "larger than 16 MiB"), (tmp_path / "pipe.csv", "the list is empty")):
        with pytest.raises(BadInput) as refusal:
            load_price_list(file, made)
        assert said in refusal.value.problems[0].text


def _places(folder: Path) -> dict[str, Path]:
    (folder / "file").write_bytes(b"old")
    (folder / "folder").mkdir()
    os.mkfifo(folder / "pipe")
    for name, target in {"broken": "nowhere", "loop": "loop", "to-folder": "folder", "to-full": "/dev/full"}.items():
        (folder / name).symlink_to(target)
    names = ("folder", "pipe", "broken", "loop", "to-folder", "to-full", "x" * 300, "file/x", "none/x")
    return {name: folder / name for name in names}


@pytest.mark.usefixtures("two_seconds")
def test_nothing_but_a_file_is_ever_replaced(tmp_path: Path) -> None:
    """Pipes, devices and links to nothing were, with `--force` and some without."""
    places = _places(tmp_path)
    before = sorted((path.name, path.lstat().st_ino) for path in tmp_path.iterdir())
    for name, path in places.items():
        for force in (True, False, None):
            with pytest.raises(CannotWrite, match="cannot be written" if "x" in name else "is no file"):
                write_whole(path, "new", force=force)
    assert sorted((path.name, path.lstat().st_ino) for path in tmp_path.iterdir()) == before


def test_a_link_to_a_file_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"old")
    link = tmp_path / "link"
    link.symlink_to("file")
    with pytest.raises(CannotWrite, match="there already"):
        write_whole(link, "new", force=False)
    write_whole(link, "new", force=True)
    assert link.is_symlink() and (tmp_path / "file").read_bytes() == b"new"


def test_of_two_who_write_at_once_the_second_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Both have read the same file: whoever comes second would undo the work of the first."""
    file = tmp_path / "f.yaml"
    file.write_bytes(b"old")
    plain, met, told = together._beside, threading.Barrier(2, timeout=0.5), []

    def slow(path: Path, content: bytes) -> Path:
        with contextlib.suppress(threading.BrokenBarrierError):
            met.wait()  # both are here at once only where nothing keeps them apart
        return plain(path, content)

    def write(new: bytes) -> None:
        try:
            write_together({file: (b"old", new)}, tmp_path)
            told.append(new)
        except CannotWrite as error:
            told.append(str(error))

    monkeypatch.setattr(together, "_beside", slow)
    writers = [threading.Thread(target=write, args=(new,)) for new in (b"one", b"two")]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    done, refused = sorted(told, key=lambda word: isinstance(word, str))
    assert file.read_bytes() == done and "was changed while it was being read" in refused


def test_half_a_backup_is_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a full disk a folder of backups with nothing or half a file in it was left."""

    def full(path: Path, content: bytes) -> None:
        path.write_bytes(content[:1])
        raise OSError(28, "No space left on device")

    (tmp_path / "f.yaml").write_bytes(b"old")
    monkeypatch.setattr(together, "_written", full)
    with pytest.raises(CannotWrite, match="No space left on device; every file is as it was"):
        write_together({tmp_path / "f.yaml": (b"old", b"new")}, tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["f.yaml"]
