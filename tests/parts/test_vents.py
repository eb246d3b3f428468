"""Which ends let air out of a part as it is turned: common practice, no source."""

from __future__ import annotations

import pytest

from configurator.parts.ends import End
from configurator.parts.vents import vents

SIZE = (80, 160, 120)


def end(role: str, face: str, **at: str) -> End:
    """A small threaded end."""
    return End.model_validate(
        {"name": "port", "role": role, "form": "npt", "size": "1/8", "sex": "female", "face": face, "at": at}
    )


@pytest.mark.parametrize(
    ("role", "up", "lets_out"),
    [
        ("bleed", "+z", True),
        ("bleed", "-z", False),
        ("bleed", "+y", False),
        ("bleed", "-x", False),
        ("drain", "+z", True),
        ("drain", "+y", False),
        ("in", "+z", False),
    ],
)
def test_a_bleed_in_the_middle_of_a_face_lets_air_out_on_top_alone(role: str, up: str, lets_out: bool) -> None:
    """A core on its side, its bleed at half height, keeps the air of its upper half."""
    assert vents(end(role, "+z", x="40 mm", y="80 mm"), up, SIZE) is lets_out  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("y", "up", "lets_out"), [(120, "+y", True), (119, "+y", False), (40, "-y", True), (41, "-y", False)]
)
def test_a_bleed_in_a_side_lets_air_out_within_a_quarter_of_the_height_below_the_top(
    y: int, up: str, lets_out: bool
) -> None:
    assert vents(end("bleed", "+z", x="40 mm", y=f"{y} mm"), up, SIZE) is lets_out  # type: ignore[arg-type]
