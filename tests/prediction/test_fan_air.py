"""The face speed that a fan gives: the fan's curve against the loss of the fins."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.parts.kinds import Exchanger, Fan
from configurator.prediction.fan_air import fan_face_speed
from tests.prediction.made_kits import exchangers, shelf


def fan(*points: tuple[float, float]) -> Fan:
    """A fan of the curve given [m3/h, Pa]."""
    curve = [{"flow": f"{flow:g} m3/h", "rise": f"{rise:g} Pa"} for flow, rise in points]
    size = dict.fromkeys("xyz", "100 mm")
    rest: dict[str, Any] = {"id": "f", "name": "f", "price": 1, "volts": 12, "current": "5 A", "size": size}
    return Fan.model_validate({**rest, "curve": curve})


def front(wide: str = "200 mm", high: str = "250 mm", depth: str = "40 mm") -> Exchanger:
    """An exchanger of the face given."""
    known = next(part for part in exchangers() if part.id == "exchanger-250-square")
    face = type(known.face).model_validate({"wide": wide, "high": high})
    return known.model_copy(update={"face": face, "fin_depth_m": float(depth.split()[0]) / 1000})


def test_a_straight_curve_meets_the_fins_where_the_quadratic_says() -> None:
    """Fan 200 - 1000 Q [Pa, m3/s]; fins 40 mm deep on 0.05 m2: 5 (Q / 0.05)^2 = 2000 Q^2. 2000 Q^2 + 1000 Q - 200 = 0:
    Q = (-1000 + sqrt(1e6 + 1.6e6)) / 4000 = 0.153113 m3/s, 3.06226 m/s. By hand.
    """
    assert fan_face_speed(fan((0, 200), (720, 0)), front()) == pytest.approx(3.06226, rel=1e-4)


def test_deeper_fins_and_a_wider_face_slow_the_air() -> None:
    one = fan((0, 200), (720, 0))
    assert fan_face_speed(one, front(depth="80 mm")) < fan_face_speed(one, front())
    assert fan_face_speed(one, front(wide="400 mm")) < fan_face_speed(one, front())
    assert fan_face_speed(fan((0, 300), (1440, 0)), front()) > fan_face_speed(one, front())


def test_shipped_fans_give_shipped_exchangers_what_fans_give() -> None:
    """1.5 to 4 m/s before fans that suit the face: common practice, no source. Held for fans within the exchanger's box
    whose blades span a third of the face or more.
    """
    fans, looked = shelf()[0].of(Fan), 0
    for exchanger in exchangers():
        face = float(exchanger.face.wide_m) * float(exchanger.face.high_m)
        for one in fans:
            y, z = float(one.size.y_m), float(one.size.z_m)
            if z <= float(exchanger.size.z_m) and y <= float(exchanger.size.y_m) and 0.78 * y * z > face / 3:
                looked += 1
                assert 1.5 < fan_face_speed(one, exchanger) < 6.0, (one.id, exchanger.id)
    assert looked > 10
