"""A hand-commented file of parts under `shelf add` and `shelf prices --write`: what stood there stands there.

After each step the folder loads and says what was asked for; after a refusal it is byte for byte as it was.
"""

from __future__ import annotations

import io
import tempfile
from contextlib import redirect_stdout
from pathlib import Path

import pytest
from hypothesis import Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from configurator.cli import shelf_add_command, shelf_prices_command
from configurator.errors import KitwrightError
from configurator.files.load_catalogue import load_catalogue
from configurator.parts.kinds import Part
from tests.files.good_files import TABLES

HAND = """\
# Relays.   Prices are net.

relays:   # by the piece

  - id: r-1      # the good one
    name:  "Relay: 'A'"
    price:   9.50   # since March
    # stock is counted on Fridays
    rated: 20 A
    volts: 12

  - {id: r-2, name: Second, price: 8, rated: 30 A,  # braces
     volts: 12}
  -   price: 7
      id: r-3
      name: Third   # é, ß
      rated: 40 A
      stock: 3
      lead: 2 # days
      volts: 12

# Fuses now.

fuses: []   # none yet
"""
MAP = "decimal: point\ncolumns: {id: Part, price: Net, stock: Qty, lead: Days}\n"
BOTH = st.booleans()
ids = st.sampled_from([f"r-{number}" for number in range(1, 9)])
new_ids = st.sampled_from([f"r-{number}" for number in range(3, 20)])
cells = st.one_of(st.just(""), st.integers(0, 999).map(str))
prices = st.one_of(st.just(""), st.sampled_from(["0", "5", "7.5", "12.00", "1000000", "1000001", "x", "=1", "1,5"]))
comments = st.sampled_from(["", "   # by hand", "  #", " # : - {["])
names = st.sampled_from(["Plug", "Big one", "'it''s'", '"a: b # c"', "x # y", "[", "{a: b}", "null", "|", "12"])


class Shelf(RuleBasedStateMachine):
    """The file beside what it should say."""

    def __init__(self) -> None:
        super().__init__()
        self.home = tempfile.TemporaryDirectory(prefix="kitwright-edits-")
        self.folder = Path(self.home.name) / "shelf"
        self.folder.mkdir()
        self.parts: dict[str, Part] = {}

    @initialize(newline=st.sampled_from(["\n", "\r\n"]), mark=st.sampled_from([b"", b"\xef\xbb\xbf"]), cut=BOTH)
    def begin(self, newline: str, mark: bytes, cut: bool) -> None:
        """Windows or Unix, with a byte-order mark or not, ending in a line or in the midst of one."""
        (self.folder / "tables.yaml").write_text(TABLES, encoding="utf-8")
        hand = HAND.split("\n# Fuses now")[0].rstrip() if cut else HAND
        self.file = self.folder / "mine.yaml"
        self.file.write_bytes(mark + hand.replace("\n", newline).encode())
        self.first = self.text()
        self.parts = {part.id: part for part in load_catalogue(self.folder)[0].parts.values()}

    def text(self) -> str:
        return self.file.read_bytes().decode("utf-8-sig")

    def done(self, command: str, *given: object, **options: object) -> bool:
        before = self.file.read_bytes()
        try:
            with redirect_stdout(io.StringIO()):
                if command == "add":
                    shelf_add_command.run(*given)  # type: ignore[arg-type]
                else:
                    shelf_prices_command.take_in(*given, **options)  # type: ignore[arg-type]
        except KitwrightError:
            assert self.file.read_bytes() == before
            return False
        return True

    @rule(part=new_ids, name=names, price=st.sampled_from(["5", "7.50", "x"]), comment=comments)
    def add(self, part: str, name: str, price: str, comment: str) -> None:
        """A part more, with whatever comment; or a refusal."""
        answers = Path(self.home.name) / "part.yaml"
        lines = ["# Of its own.", f"id: {part}{comment}", f"name: {name}", f"price: {price}", "rated: 9 A", "volts: 12"]
        answers.write_text("\n".join(lines) + "\n", encoding="utf-8")
        if self.done("add", "relay", answers, None, None, self.folder):
            added = load_catalogue(self.folder)[0].parts[part]
            assert part not in self.parts and added.price == float(price)
            self.parts[part] = added

    @rule(rows=st.lists(st.tuples(ids, prices, cells, cells), min_size=1, max_size=4))
    def take_in(self, rows: list[tuple[str, str, str, str]]) -> None:
        """Prices, stocks and lead times of some parts; or a refusal."""
        files = Path(self.home.name) / "list.csv", Path(self.home.name) / "map.yaml"
        lines = ["Part,Net,Qty,Days", *(",".join(f'"{cell}"' for cell in row) for row in rows)]
        files[0].write_text("\n".join(lines) + "\n", encoding="utf-8")
        files[1].write_text(MAP, encoding="utf-8")
        if self.done("prices", *files, self.folder, write=True, as_json=False):
            for part, price, stock, lead in rows:
                if part in self.parts:
                    told = {"price": price, "stock": stock, "lead": lead}
                    changes = {key: (float if key == "price" else int)(cell) for key, cell in told.items() if cell}
                    known = {"lead_days" if key == "lead" else key: value for key, value in changes.items()}
                    self.parts[part] = self.parts[part].model_copy(update=known)

    @invariant()
    def it_says_what_was_asked_for_and_keeps_what_was_there(self) -> None:
        """Parts, their order, every line that no change touches, every comment, every end of a line."""
        if not self.parts:
            return
        found = load_catalogue(self.folder)[0].parts
        assert {name: part.model_dump() for name, part in found.items()} == {
            name: part.model_dump() for name, part in self.parts.items()
        }
        lines = iter(self.text().splitlines())
        touched = ("price:", "stock:", "lead:")
        for old in self.first.splitlines():
            kept = old if not any(key in old for key in touched) else "#" + old.partition("#")[2] if "#" in old else ""
            assert any(line == kept if kept == old else line.endswith(kept) for line in lines), old
        assert ("\r\n" in self.first) == ("\r\n" in self.text())
        assert self.text().count("\n") == self.text().count("\r\n") or "\r\n" not in self.first

    def teardown(self) -> None:
        """The folder goes."""
        self.home.cleanup()


Shelf.TestCase.settings = settings(
    max_examples=15, stateful_step_count=8, deadline=None, derandomize=True, phases=[Phase.generate]
)
TestShelf = pytest.mark.filterwarnings("default")(Shelf.TestCase)
