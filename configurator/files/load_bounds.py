"""What is usual for parts, as the shipped catalogue has it."""

from __future__ import annotations

from configurator.errors import BadInput
from configurator.files.find_catalogue import shipped_catalogue
from configurator.files.read_record import read_record
from configurator.files.read_yaml import read_yaml
from configurator.parts.bounds import Bounds


def load_bounds() -> Bounds:
    """The limits, each with its standing. Raises BadInput with every problem of them."""
    document = read_yaml(shipped_catalogue() / "bounds.yaml")
    limits, problems = read_record(Bounds, document.data["bounds"], document, ("bounds",))
    if limits is None:
        raise BadInput(tuple(problems))
    return limits
