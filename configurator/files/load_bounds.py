"""What is usual for pumps, as the shipped catalogue has it."""

from __future__ import annotations

from configurator.errors import BadInput
from configurator.files.find_catalogue import shipped_catalogue
from configurator.files.read_record import read_record
from configurator.files.read_yaml import read_yaml
from configurator.parts.bounds import PumpBounds


def load_pump_bounds() -> PumpBounds:
    """The limits, each with its standing. Raises BadInput with every problem of them."""
    document = read_yaml(shipped_catalogue() / "bounds.yaml")
    path = ("bounds", "pump")
    limits, problems = read_record(PumpBounds, document.data["bounds"]["pump"], document, path)
    if limits is None:
        raise BadInput(tuple(problems))
    return limits
