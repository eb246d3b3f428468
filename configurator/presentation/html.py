"""Pieces of an HTML page. Everything that comes from a file goes through `text`; nothing else makes HTML of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape
from typing import Final, NewType

from configurator.presentation.plain_text import plain

Html = NewType("Html", str)
"""Text that is HTML already."""

NOTHING: Final = Html("")
_POLICY: Final = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
"""Nothing is fetched and nothing runs, whatever a page holds; the page's own style is all it may have."""


def text(words: str) -> Html:
    """Words as they are, for the inside of an element or of a quoted attribute."""
    return Html(escape(plain(words)))


def joined(parts: Iterable[Html]) -> Html:
    """Pieces under each other, without the empty ones."""
    return Html("\n".join(part for part in parts if part))


def paragraph(words: str, look: str = "") -> Html:
    """A paragraph; nothing for no words."""
    return Html(f"<p{_class(look)}>{text(words)}</p>") if words else NOTHING


def listing(entries: Iterable[str], look: str = "") -> Html:
    """A list; nothing where there are no entries."""
    items = "\n".join(f"<li>{text(entry)}</li>" for entry in entries)
    return Html(f"<ul{_class(look)}>\n{items}\n</ul>") if items else NOTHING


def table(caption: str, heads: Sequence[str], rows: Iterable[Sequence[str]], look: str = "") -> Html:
    """A table with the names of its columns, the first cell of a row naming the row; nothing without rows."""
    lines = [row(cells) for cells in rows]
    if not lines:
        return NOTHING
    names = "".join(f'<th scope="col">{text(head)}</th>' for head in heads)
    top = f"<thead><tr>{names}</tr></thead>\n" if heads else ""
    name = f"<caption>{text(caption)}</caption>\n" if caption else ""
    return Html(f"<table{_class(look)}>\n{name}{top}<tbody>\n" + "\n".join(lines) + "\n</tbody>\n</table>")


def row(cells: Sequence[str]) -> Html:
    """One row of a table."""
    first, *rest = cells
    others = "".join(f"<td>{text(cell)}</td>" for cell in rest)
    return Html(f'<tr><th scope="row">{text(first)}</th>{others}</tr>')


def document(title: str, style: str, body: Html) -> str:
    """A whole page that asks nobody for anything."""
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8"/>\n'
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}"/>\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1"/>\n'
        f"<title>{text(title)}</title>\n<style>{style}</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n"
    )


def _class(look: str) -> str:
    return f' class="{look}"' if look else ""
