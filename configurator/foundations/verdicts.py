"""What a rule says of its subjects: a value, never an exception."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

State = Literal["kept", "broken", "not checked"]


@dataclass(frozen=True)
class Verdict:
    """One rule, judged: stable code, what it was about, what was found, the limit and their unit.

    `cause`: of a rule that is broken in several ways, a code of the one that something else would mend.
    """

    rule: str
    state: State
    subjects: tuple[str, ...]
    found: float | str | None = None
    limit: float | str | None = None
    unit: str = ""
    text: str = ""
    cause: str = ""


@dataclass(frozen=True)
class Caution:
    """A warning that is never dropped: a stable code and a sentence."""

    code: str
    text: str
