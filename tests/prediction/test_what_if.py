"""The two fixed what-ifs of a kit: the same as a kit bought so."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from configurator.prediction.bench import ZoneAir
from configurator.prediction.conditions import Piece
from configurator.prediction.predict import predict
from configurator.prediction.what_if import what_ifs
from tests.prediction.made_kits import conditions, kit, moment

LONG = conditions(Piece(moment(0.7, 30.0), 600.0))


@pytest.mark.parametrize(
    "air,half",
    [
        (ZoneAir(0.3, 0.0, 0.0, 0.0), ZoneAir(0.15, 0.0, 0.0, 0.0)),
        (ZoneAir(0.0, 6.0, 0.0, 0.0), ZoneAir(0.0, 3.0, 0.0, 0.0)),
        (ZoneAir(0.05, 0.0, 0.0, 4.0), ZoneAir(0.025, 0.0, 0.0, 2.0)),
    ],
)
def test_half_the_air_is_a_kit_with_half_the_face_speed(air: ZoneAir, half: ZoneAir) -> None:
    drive = conditions(Piece(moment(0.7, 30.0, fan=True), 600.0))
    made, slower = kit(air=air), kit(air=half)
    told = what_ifs(made.bench, made.columns, drive)[0].half_air
    assert told is not None
    found = slower.predict(drive)
    assert told.charge_k == pytest.approx(float(found.judged_k[0]))
    assert told.charge_k > float(made.predict(drive).judged_k[0]) + 0.5
    assert told.margin_k == pytest.approx(drive.ceiling_k - told.charge_k, abs=0.006)


def test_a_loop_without_a_front_exchanger_has_no_air_to_lose() -> None:
    made = kit(exchanger=None)
    (told,) = what_ifs(made.bench, made.columns, LONG)
    assert told.half_air is None
    slowed = predict(made.bench, replace(made.columns, flow_share=np.array([0.7])), LONG)
    assert told.less_flow.charge_k == float(slowed.judged_k[0])


def test_less_flow_is_seven_tenths_of_what_the_pump_drives() -> None:
    made = kit()
    flow = made.predict(LONG).flow_m3_per_s
    slowed, at_k = replace(made.columns, flow_share=np.array([0.7])), made.predict(LONG).properties_at_k
    less = predict(made.bench, slowed, LONG, 0, at_k)
    assert less.flow_m3_per_s == pytest.approx(0.7 * flow)
    told = what_ifs(made.bench, made.columns, LONG)[0].less_flow
    assert told.charge_k == pytest.approx(float(less.judged_k[0]), abs=0.3)
    assert told.charge_k > float(made.predict(LONG).judged_k[0])
