"""The water in a kit's charge, in words."""

from __future__ import annotations

from configurator.joining.words import celsius_words
from configurator.prediction.report import Moisture
from configurator.reasons.cautions import grams


def moisture_words(told: Moisture) -> str:
    """The dew point under boost, and the water that falls out in the drive."""
    sheds = f"{grams(told.shed_kg)} in this drive" if told.shed_kg else "none in this drive"
    return f"{celsius_words(told.dew_point_k)}: a colder core sheds water, {sheds}"
