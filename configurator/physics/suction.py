"""How far the liquid before a pump is from boiling."""

from __future__ import annotations

from configurator.foundations.units import STANDARD_GRAVITY


def suction_margin_pa(surface_pa: float, above_m: float, loss_pa: float, vapour_pa: float, density: float) -> float:
    """Net positive suction head available, as a pressure: p + rho g h - loss - p_v [Pa].

    `surface_pa` p [Pa absolute]: on the liquid's surface. `above_m` h [m]: the surface over the pump, negative below
    it. `loss_pa` [Pa]: of the way from there to the pump, >= 0. `vapour_pa` p_v [Pa absolute]: of the liquid as it is
    there. `density` rho [kg/m³]. Below 0 the liquid boils before the pump. Total pressure: what becomes speed in the
    inlet counts, as in ISO 9906 (definition published, from memory).
    """
    return surface_pa + density * STANDARD_GRAVITY * above_m - loss_pa - vapour_pa
