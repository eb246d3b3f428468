"""What a fan behind an exchanger draws through its fins: where the fan's curve meets the fins' loss."""

from __future__ import annotations

import numpy as np

from configurator.parts.kinds import Exchanger, Fan
from configurator.physics.operating_point import FLOW_CEILING, head, operating_flow, stack_curves
from configurator.prediction.estimates import fin_depth_m

FIN_LOSS_PA = 5.0
FIN_DEPTH_M = 0.04
"""Common practice, no source: fins 40 mm deep with the way out of the bay take 5 Pa at 1 m/s, 80 Pa at 4 m/s; in
proportion to their depth. That a shroud leads all of the fan's air through the fins is an assumption."""


def fan_face_speed(fan: Fan, exchanger: Exchanger) -> float:
    """Face speed of an exchanger in calm air with a fan behind all of its face [m/s], from 0.

    Fan pressure at flow Q = K (Q / A)^2, K in proportion to the depth of the fins, A their face.
    """
    flows = [float(point.flow_m3_per_s) for point in fan.curve]
    curves = stack_curves([(flows, [float(point.rise_pa) for point in fan.curve])])
    face = float(exchanger.face.wide_m) * float(exchanger.face.high_m)
    taken = FIN_LOSS_PA * fin_depth_m(exchanger) / FIN_DEPTH_M / face**2
    found = operating_flow(
        lambda flow: head(curves, np.zeros(1, dtype=np.intp), flow),
        lambda flow: taken * flow**2,
        np.array([FLOW_CEILING * flows[-1]]),
    )
    return float(found[0]) / face
