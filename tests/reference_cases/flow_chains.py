"""Public functions of flow, charger and lumps strung together as a textbook's example does it."""

from __future__ import annotations

from typing import Any

import numpy as np

from configurator.foundations.air import specific_heat
from configurator.joining.bore_steps import chain_per_m4
from configurator.physics.air_flow import air_flow_from_displacement
from configurator.physics.compression import outlet_temperature
from configurator.physics.ice import heat_to_melt
from configurator.physics.lumps import ring, steady, step
from configurator.physics.operating_point import head, operating_flow, stack_curves
from configurator.physics.pipe_flow import (
    area,
    contraction_factor,
    expansion_factor,
    friction_factor,
    pipe_loss,
    reynolds,
    velocity,
)

L_PER_MIN = 1e-3 / 60.0


def compressor(
    air_kg_per_s: float, inlet_k: float, inlet_pa: float, outlet_pa: float, efficiency: float
) -> dict[str, Any]:
    """A compressor's outlet temperature, and its power with the specific heat of the mean temperature."""
    outlet = outlet_temperature(inlet_k, outlet_pa / inlet_pa, efficiency)
    cp = specific_heat((inlet_k + outlet) / 2)
    return {"outlet_k": outlet, "power_w": air_kg_per_s * cp * (outlet - inlet_k)}


def supercharged_engine(
    displacement_m3: float,
    revs_per_s: float,
    volumetric_efficiency: float,
    ambient_pa: float,
    ambient_k: float,
    ratio: float,
    efficiency: float,
    specific_heat: float,
) -> dict[str, Any]:
    """The worked problem: an engine breathes what a blower makes, with 12.5 kW for each m³/min of free air.

    The blower fills the swept volume at its own outlet state; the induced volume is brought back to free air.
    The gain of power is that of the richer filling and of the boost on the pistons, over 0.78 in the drive,
    less the blower's own work over the same.
    """
    isentropic = outlet_temperature(ambient_k, ratio, 1.0)
    outlet = outlet_temperature(ambient_k, ratio, efficiency)
    swept = displacement_m3 * revs_per_s / 2 * 60
    air = air_flow_from_displacement(displacement_m3, revs_per_s, 1.0, ratio * ambient_pa, outlet)
    free_air = swept * ratio * ambient_k / outlet
    blower = air * specific_heat * (outlet - ambient_k)
    indicated = 12.5 * (free_air - volumetric_efficiency * swept)
    pistons = (ratio - 1) * ambient_pa * swept / 60 / 1e3
    return {
        "isentropic_k": isentropic,
        "outlet_k": outlet,
        "free_air_m3_per_min": free_air,
        "air_kg_per_s": air,
        "blower_w": blower,
        "net_gain_kw": 0.78 * (indicated + pistons) - blower / 1e3 / 0.78,
    }


def entrance_and_exit() -> dict[str, Any]:
    """Loss factors between a pipe and a vessel that is large beside it."""
    return {"entrance": contraction_factor(0.0), "exit": expansion_factor(0.0)}


def barb_factors(small_bore_m: float, line_bore_m: float) -> dict[str, Any]:
    """A short small bore in a line: its two factors, their sum on the small bore and on the line's."""
    sigma = (small_bore_m / line_bore_m) ** 2
    per_m4 = chain_per_m4((line_bore_m, small_bore_m, line_bore_m))
    return {
        "contraction": contraction_factor(sigma),
        "expansion": expansion_factor(sigma),
        "on_small_bore": per_m4 * area(small_bore_m) ** 2,
        "on_line_bore": per_m4 * area(line_bore_m) ** 2,
    }


def textbook_pump(flows: Any, heads: Any, lift: float, per_flow_squared: float) -> dict[str, Any]:
    """A pump given by points on a system of a lift and a loss with the square of the flow."""
    curves = stack_curves([(flows, heads)])
    flow = operating_flow(
        lambda q: head(curves, 0, q), lambda q: lift + per_flow_squared * q**2, np.array(flows[-1])
    )
    return {"flow": flow, "head": head(curves, 0, flow)}


def system_head(
    length: float, bore: float, friction: float, factors: float, gravity: float, per: str
) -> Any:
    """Head lost per square of speed, (f L/D + sum of K)/(2 g), or of flow: that over the area squared."""
    per_speed = (friction * length / bore + factors) / (2 * gravity)
    return per_speed if per == "speed" else per_speed * velocity(1.0, bore) ** 2


def parabolas(dead_head: float, fall: float, loop: float, series: int, parallel: int) -> dict[str, Any]:
    """Equal pumps p0 - b Q² on a loop a Q²."""
    flow = operating_flow(
        lambda q: series * (dead_head - fall * (q / parallel) ** 2), lambda q: loop * q**2, np.array(60.0)
    )
    return {"flow": flow, "pressure": loop * flow**2}


def cooling_loop(
    density: float,
    viscosity: float,
    length_m: float,
    bore_m: float,
    roughness_m: float,
    factors: float,
    exchangers_pa: float,
    exchangers_at_l_per_min: float,
    dead_head_pa: float,
    free_l_per_min: float,
) -> dict[str, Any]:
    """Hose, fittings and two exchangers on a parabolic pump that is known by nine points of its curve."""
    points = np.linspace(0.0, free_l_per_min, 9) * L_PER_MIN
    free = free_l_per_min * L_PER_MIN
    curves = stack_curves([(points.tolist(), (dead_head_pa * (1 - (points / free) ** 2)).tolist())])

    def loss(q: Any) -> Any:
        wall = pipe_loss(q, length_m, bore_m, roughness_m, density, viscosity)
        fittings = factors / area(bore_m) ** 2 * density * q**2 / 2
        return wall + fittings + exchangers_pa * (q / (exchangers_at_l_per_min * L_PER_MIN)) ** 2

    flow = operating_flow(lambda q: head(curves, 0, q), loss, np.array(free))
    re = reynolds(flow, bore_m, density, viscosity)
    return {
        "flow_l_per_min": flow / L_PER_MIN,
        "pressure_pa": loss(flow),
        "speed": velocity(flow, bore_m),
        "reynolds": re,
        "friction": friction_factor(re, roughness_m / bore_m),
        "hydraulic_w": flow * loss(flow),
    }


def lumps_at(m: Any, b: Any, start: Any, times: Any) -> Any:
    """The lumps of dX/dt = M X + b at several times, one row a time."""
    phi, shift = step(np.broadcast_to(m, (len(times), *np.shape(m))), b, np.asarray(times, dtype=np.float64))
    return phi @ start + shift


def ring_at(
    capacities: Any,
    capacity_rate: float,
    couplings: Any,
    coupled_to: Any,
    heat: Any,
    start: float,
    times: Any,
) -> Any:
    """The lumps of a ring that starts at one temperature, one row a time."""
    m, b = ring(capacities, capacity_rate, couplings, coupled_to, heat)
    return lumps_at(m, b, np.full(len(capacities), start), times)


def charge_out_at(effectiveness: float, feed: int, charge_in: float, **of_ring: Any) -> Any:
    """The charge behind the core, whose coolant comes from one lump of a ring."""
    return charge_in - effectiveness * (charge_in - ring_at(**of_ring)[:, feed])


def ring_traits(
    capacities: Any, capacity_rate: float, couplings: Any, coupled_to: Any, heat: Any
) -> dict[str, Any]:
    """Matrix, drive, eigenvalues (fastest first) and steady state of a ring."""
    m, b = ring(capacities, capacity_rate, couplings, coupled_to, heat)
    values = sorted(np.linalg.eigvals(m), key=lambda v: (round(v.real, 9), v.imag))
    return {
        "m": m,
        "b": b,
        "real_parts": np.real(values),
        "imaginary_parts": np.imag(values),
        "steady": steady(m, b),
    }


def tanks_in_series(total_s: float, times: Any, counts: Any) -> Any:
    """Outlet of n equal stirred tanks after a unit step at the first one's inlet; one row for each n."""
    rows = []
    for count in np.asarray(counts, dtype=int):
        rate = count / total_s
        m = rate * (np.eye(count, k=-1) - np.eye(count))
        b = rate * np.eye(count)[0]
        rows.append(lumps_at(m, b, np.zeros(count), times)[:, -1])
    return np.array(rows)


def melt_seconds(ice_kg: float, watts: float) -> np.ndarray:
    """How long ice of 0 degC lasts under a constant load [s]."""
    return ice_kg * heat_to_melt(273.15) / watts
