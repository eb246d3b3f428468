"""From which figures on a caution is said: what judges a kit and what words the caution both take them from here."""

from __future__ import annotations

MOST_THRUST_N = 500.0
"""Thrust on a charge joint up to which nothing is said. Common practice, no source."""

LEAST_MARGIN = 1.25
"""Rating over design pressure from which nothing is said. Common practice, no source."""

LEAST_BOIL_MARGIN_K = 10.0
"""Distance of the hottest coolant from boiling from which nothing is said. Common practice, no source."""

LEAST_AIR_SPACE = 0.06
"""Air space over the liquid of the loop from which nothing is said. Common practice, no source: half glycol grows by
some 4 % from 20 to 90 degC."""

LITTLE_ROOM_MM = 5.0
"""How sure a tape measure is in a bay, where nobody says. Common practice, no source."""

MOST_AIR_RISE_K = 10.0
"""Rise of the air through a front exchanger up to which nothing is said. Common practice, no source."""

ENGINE_BAY_M = 1.8
"""How far behind the bumper face the bay of an engine in front reaches at most. Common practice, no source."""

MOST_APART = 0.25
"""Share of a run by which its hose's way may differ before it is said. Common practice, no source."""

NARROW_AREA = 0.64
"""Area of a narrow bore over that of its hose from which nothing is said. Common practice, no source."""

MOST_STEPS_SHARE = 0.1
"""Share of a loop's loss up to which the steps to narrow bores are not worth a word. Common practice, no source."""

NARROW_CHARGE_AREA = 0.8
"""Area of a charge bore over the engine's narrower end from which nothing is said. Common practice, no source."""
