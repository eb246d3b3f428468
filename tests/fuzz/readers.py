"""Coverage-guided fuzzing of all that reads what people write. A script run by hand, no test; needs group `fuzz`.

    python tests/fuzz/readers.py TARGET [SECONDS]

A find is an exception that is not of the project's family, an answer that takes more than 2 s, or a figure that is not
finite; the input that made it lies beside the corpus, in the folder that is named at the start. Each find is mended and
stays as a named case in `tests/files/test_finds.py`.
"""

from __future__ import annotations

import os
import random
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

import atheris  # noqa: E402

with atheris.instrument_imports(include=["configurator"]):
    from configurator.errors import BadInput
    from configurator.files import load_catalogue as loading
    from configurator.files.add_part import appended, checked_part
    from configurator.files.answers_file import answers_text, from_file, read_given
    from configurator.files.edit_in_place import CannotEdit
    from configurator.files.load_brief import brief_of
    from configurator.files.load_kit import load_kit
    from configurator.files.part_places import part_places
    from configurator.files.price_list import load_price_list
    from configurator.files.price_map import PriceMap, load_price_map
    from configurator.files.problems import render
    from configurator.files.read_answer import choices_of, read_answer
    from configurator.files.read_yaml import read_raw, read_text
    from configurator.foundations.units import UNITS, read_figure
    from configurator.parts.end_text import EndQuestion, read_end
    from configurator.parts.kinds import PART_KINDS
    from configurator.questions.ask import Answers
    from configurator.questions.ask_table import QUESTIONS

from tests.files.good_files import BRIEF, SHELF, TABLES  # noqa: E402
from tests.fuzz.finite import unfit_figures  # noqa: E402

SECONDS = 90
SHELF_TEXT = SHELF + TABLES
COLUMNS = {"id": "Part", "price": "Net", "stock": "Qty", "lead": "Days", "discontinued": "End"}
MAPS = [
    PriceMap.model_validate({"decimal": decimal, "thousands": thousands, "columns": COLUMNS, "discontinued": ["EOL"]})
    for decimal, thousands in (("comma", "point"), ("point", "comma"), ("point", "none"), ("comma", "space"))
]
MAP = "decimal: comma\ncolumns: {number: No, price: Net}\nnumbers: {'4711': pump-a}\ndiscontinued: [EOL]\nheading: 2\n"
LIST = "Part;Net;Qty;Days;End\npump-a;1.234,50;3;14;\n\"core-a\";9;;;EOL\n"
KIT = "kit: A box\nparts:\n  - pump-a\n  - {kind: fuse, id: my-fuse, name: F, price: 0, rated: 10 A}\n  - my-fuse\n"
ANSWERS = "name: My car\npower: 230 kW\ndriving: own\nstretches: [20 s 80 % 65 km/h]\ngaps: [nose, side]\n"
ANSWERS += "gap-size: {nose: 600 mm, side: 1 1/2 in}\nafter: 5 min\nown: pump-a fitted\nprice: 900\n"
JUNK = ["", "~", "[]", "{}", "-1", "1e99", "0 mm", "'", "1,5 bar", "unmeasured", "\x85", "\u2028", "\ufeff", "[["]
JUNK += ["9" * 70, "nan", "inf", "{id: [x]}", "-300 degC"]

SCRATCH = Path(tempfile.mkdtemp(prefix="kitwright-fuzz-"))
CATALOGUE, TABLES_READ = loading._load([SCRATCH / "shelf.yaml"], [], {SCRATCH / "shelf.yaml": SHELF_TEXT.encode()})
PLACES = part_places([read_text(SHELF_TEXT, "shelf.yaml")])
CHOICES = choices_of(CATALOGUE, TABLES_READ)


def sound(*values: Any) -> None:
    """No figure of these may be infinite, no number at all or colder than can be."""
    found = [bad for value in values for bad in unfit_figures(value)]
    assert not found, found


def told(problems: Any, text: str = "") -> None:
    """Each problem has a place and words, and can be shown."""
    for problem in problems:
        assert problem.line >= 1 and problem.column >= 1 and problem.text and render(problem)
        assert "Input should" not in problem.text, problem.text


def units(data: bytes) -> None:
    """A figure of each kind, or a sentence."""
    kind = [*UNITS][data[0] % len(UNITS)] if data else "length"
    try:
        sound(read_figure(data[1:].decode(errors="replace"), kind))
    except ValueError as refusal:
        assert str(refusal)


def ends(data: bytes) -> None:
    """An end, or a question with its column."""
    text = data.decode(errors="replace")
    found = read_end(text)
    if isinstance(found, EndQuestion):
        assert found.question and 1 <= found.column <= len(text) + 1
    else:
        sound(found.end)


def yaml(data: bytes) -> None:
    """A document or problems."""
    document = read_raw(data, "f.yaml")
    assert document.problems or document.root is not None
    told(document.problems)
    sound(document.data)


def brief(data: bytes) -> None:
    """A brief or problems."""
    try:
        sound(brief_of(read_raw(data, "brief.yaml"), CATALOGUE, TABLES_READ))
    except BadInput as refusal:
        assert refusal.problems
        told(refusal.problems)


def catalogue(data: bytes) -> None:
    """A shelf with its tables, or problems."""
    path = SCRATCH / "shelf.yaml"
    try:
        shelf, tables = loading._load([path], [], {path: data})
        sound(list(shelf.parts.values()), shelf.layouts, [[*table.values()] for table in vars(tables).values()])
    except BadInput as refusal:
        assert refusal.problems
        told(refusal.problems)


def part(data: bytes) -> None:
    """One part's answers, put behind the others of its kind as `shelf add` does."""
    kind = [*PART_KINDS][data[0] % len(PART_KINDS)] if data else "pump"
    document = read_raw(data[1:], "part.yaml")
    try:
        sound(checked_part(document, kind, PLACES))
    except BadInput as refusal:
        assert refusal.problems
        return told(refusal.problems)
    try:
        appended(read_text(SHELF_TEXT, "shelf.yaml"), f"{kind}s", document)
    except CannotEdit as refusal:
        assert str(refusal)


def kit(data: bytes) -> None:
    """A box of parts, or problems."""
    file = SCRATCH / "kit.yaml"
    file.write_bytes(data)
    try:
        sound(load_kit(file, CATALOGUE))
    except BadInput as refusal:
        assert refusal.problems
        told(refusal.problems)


def parts(data: bytes) -> None:
    """Candidates for the gaps of a shelf, or problems."""
    file = SCRATCH / "parts.yaml"
    file.write_bytes(data)
    try:
        sound(loading.load_parts(file, CATALOGUE))
    except BadInput as refusal:
        assert refusal.problems
        told(refusal.problems)


def prices(data: bytes) -> None:
    """Rows of a list, or problems."""
    file = SCRATCH / "list.csv"
    file.write_bytes(data[1:])
    try:
        load_price_list(file, MAPS[data[0] % len(MAPS) if data else 0])
    except BadInput as refusal:
        assert refusal.problems
        told(refusal.problems)


def map_of_prices(data: bytes) -> None:
    """The map of a list, or problems."""
    file = SCRATCH / "map.yaml"
    file.write_bytes(data)
    try:
        load_price_map(file, CATALOGUE)
    except BadInput as refusal:
        assert refusal.problems
        told(refusal.problems)


def answers(data: bytes) -> None:
    """A file of answers; what is understood is written as a draft that is read back as the same."""
    file = SCRATCH / "answers.yaml"
    file.write_bytes(data)
    given = from_file(file)
    for whole in (False, True):
        found, problems = read_given(given, CHOICES, whole=whole)
        told(problems)
    file.write_text(answers_text(found), encoding="utf-8")
    again, problems = read_given(from_file(file), CHOICES, whole=False)
    told(problems)
    assert problems or again == found, (found, again)


def answer(data: bytes) -> None:
    """One answer as it is typed."""
    question = QUESTIONS[data[0] % len(QUESTIONS)] if data else QUESTIONS[0]
    try:
        assert read_answer(question, data[1:].decode(errors="replace"), CHOICES, Answers())
    except ValueError as refusal:
        assert str(refusal)


FIGURES = ["1 1/2 in", "-40 degC", ".5 bar", "12 US gal/min", "1/0 mm", "620 mm"]
TARGETS: dict[str, tuple[Callable[[bytes], None], list[str]]] = {
    "units": (units, [chr(n) + figure for n, figure in enumerate(FIGURES)]),
    "ends": (ends, ["orb:-12:female:swivel", "spigot:19mm:bead", "metric:M22x1.5:male", "qc-fuel:16mm:male:x", "-12"]),
    "yaml": (yaml, [BRIEF, "a: &x [1, {b: 0,5 bar}]\nc: *x\n<<: !!t {}\n? [a]\n: |\n  x\n--- \n", "\ufeffa: 'x'\r\n"]),
    "brief": (brief, [BRIEF]),
    "catalogue": (catalogue, [SHELF_TEXT]),
    "part": (part, [chr(2) + "id: pump-b\n" + SHELF[SHELF.index("name: Pump A") :].replace("\n    ", "\n")]),
    "kit": (kit, [KIT]),
    "parts": (parts, [SHELF.replace("pump-a", "pump-b").replace("core-a", "core-b")]),
    "prices": (prices, [chr(n) + LIST for n in range(len(MAPS))]),
    "map": (map_of_prices, [MAP]),
    "answers": (answers, [ANSWERS]),
    "answer": (answer, [chr(n) + text for n in range(0, len(QUESTIONS), 3) for text in ("1 1/2 in", "none", "a, b=c")]),
}


def words_of(seeds: list[str]) -> Iterator[str]:
    """Lines and words to be put elsewhere."""
    for seed in seeds:
        yield from seed.splitlines(keepends=True)
        yield from seed.replace("{", " ").replace("}", " ").replace(",", " ").split()
    yield from (spelling for spellings in UNITS.values() for spelling in spellings)
    yield from JUNK


def main() -> None:
    """Fuzz one target for some time."""
    if len(sys.argv) < 2 or sys.argv[1] not in TARGETS:
        sys.exit(f"name a target: {', '.join(TARGETS)}")
    target, seeds = TARGETS[sys.argv[1]]
    corpus = SCRATCH / "corpus"
    corpus.mkdir()
    for number, seed in enumerate(seeds):
        (corpus / f"seed-{number}").write_text(seed, encoding="utf-8", newline="")
    pieces = [*dict.fromkeys(words_of(seeds))]

    def mutated(data: bytes, most: int, seed: int) -> bytes:
        """Half of the time as bytes, else a line or word put in, put away or put elsewhere."""
        drawn = random.Random(seed)
        lines = data.decode(errors="replace").splitlines(keepends=True)
        if drawn.random() < 0.5 or not lines:
            return bytes(atheris.Mutate(data, most))
        for _ in range(drawn.randint(1, 3)):
            place = drawn.randrange(len(lines))
            line = lines[place]
            deed = drawn.randrange(5)
            if deed == 0:
                lines.insert(drawn.randrange(len(lines)), line)
            elif deed == 1 and len(lines) > 1:
                del lines[place]
            elif deed == 2:
                at = drawn.randrange(len(line) + 1)
                lines[place] = line[:at] + drawn.choice(pieces) + line[at:]
            else:
                words = line.split(" ")
                words[drawn.randrange(len(words))] = drawn.choice(pieces)
                lines[place] = " ".join(words)
        return "".join(lines).encode(errors="replace")[:most]

    seconds = int(sys.argv[2]) if len(sys.argv) > 2 else SECONDS
    print(f"finds of '{sys.argv[1]}' lie in {SCRATCH}", flush=True)
    flags = [f"-max_total_time={seconds}", "-timeout=2", "-rss_limit_mb=1500", f"-artifact_prefix={SCRATCH}{os.sep}"]
    flags += ["-max_len=6000", "-print_final_stats=1", "-verbosity=0" if "-q" in sys.argv else "-verbosity=1"]
    atheris.Setup([sys.argv[0], *flags, str(corpus)], target, custom_mutator=mutated)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
