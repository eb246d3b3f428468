"""New prices in the files of a catalogue: nothing is written that could not be read again."""

from __future__ import annotations

from pathlib import Path

import pytest

from configurator.errors import BadInput
from configurator.files.load_catalogue import load_catalogue
from configurator.files.write_prices import write_prices
from configurator.questions.shelf_prices import PriceChange

CAPS = """\
caps:
  - {id: cap-b, name: Narrow cap, price: 8, opens: 0.9 bar, stock: 2, source: invented,
     coolant: {ends: [{name: cap, form: neck, size: 32 mm, sex: female}]}}
  - {id: cap-c, name: Other cap, price: 7, opens: 0.9 bar, source: invented,
     coolant: {ends: [{name: cap, form: neck, size: 32 mm, sex: female}]}}
sources: {invented: Invented for these tests.}
"""


def shelf(tmp_path: Path, more: str = "") -> Path:
    (tmp_path / "caps.yaml").write_text(CAPS + more, encoding="utf-8")
    assert set(load_catalogue(tmp_path)[0].parts) == {"cap-b", "cap-c"}
    return tmp_path


def refused(folder: Path, *changes: PriceChange) -> BadInput:
    before = (folder / "caps.yaml").read_bytes()
    with pytest.raises(BadInput) as refusal:
        write_prices(folder, changes)
    assert (folder / "caps.yaml").read_bytes() == before and len(list(folder.iterdir())) == 1
    return refusal.value


def test_what_was_written_loads_and_says_what_was_asked(tmp_path: Path) -> None:
    folder = shelf(tmp_path)
    dearer = PriceChange("cap-c", "price", 7.0, "9.50", 2)
    backup = write_prices(folder, [dearer, PriceChange("cap-c", "stock", None, "4", 2)])
    assert backup is not None and (backup / "caps.yaml").read_text(encoding="utf-8") == CAPS
    changed = load_catalogue(folder)[0]
    assert (changed["cap-c"].price, changed["cap-c"].stock) == (9.5, 4)
    assert changed["cap-b"].price == 8


@pytest.mark.parametrize(("key", "new"), [("price", "2000000"), ("price", "-1"), ("stock", "1.5"), ("lead", "soon")])
def test_a_value_that_no_part_may_have_is_refused_in_its_place(tmp_path: Path, key: str, new: str) -> None:
    problem, = refused(shelf(tmp_path), PriceChange("cap-c", key, 7.0, new, 2)).problems  # type: ignore[arg-type]
    assert problem.line == 4 and problem.key == f"cap-c.{key}"


def test_a_file_that_would_grow_too_large_to_be_read_stays(tmp_path: Path) -> None:
    room = 1024 * 1024 - len(CAPS) - 5
    problem, = refused(shelf(tmp_path, f"#{'x' * room}\n"), PriceChange("cap-c", "stock", None, "4", 2)).problems
    assert "larger than 1 MiB" in problem.text
