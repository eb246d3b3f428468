"""What one kit does with its heat, worked out again with plain floats and plain loops, one kit at a time.

It covers cores and exchangers with one measured point and those of which only the size is known; neither with
channels of their own. Single formulas of `physics` serve here too: they are held against libraries elsewhere.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from configurator.foundations.air import density as air_density
from configurator.foundations.air import specific_heat as air_specific_heat
from configurator.parts.kinds import Pump, Reservoir
from configurator.physics.effectiveness import conductance
from configurator.physics.lumps import step
from configurator.physics.operating_point import stack_curves
from tests.oracles.plain_conditions import Asked, Moment
from tests.oracles.plain_surfaces import ALUMINIUM, RUBBER, Matrix, Water, darcy, water_at


@dataclass(frozen=True)
class Pipe:
    """A coolant run as the flow sees it."""

    length: float
    bore: float
    rough: float
    steps: float
    volume: float
    hose_kg: float

    def loss(self, q: float, w: Water) -> float:
        area = math.pi / 4 * self.bore**2
        speed = q / area
        factor = darcy(w.rho * speed * self.bore / w.mu, self.rough / self.bore)
        return factor * self.length / self.bore * w.rho * speed**2 / 2 + self.steps * w.rho * q**2 / 2


@dataclass(frozen=True)
class Thermal:
    """Worst charge out and hottest coolant [K], coolant flow [m3/s], and what the charge loses at full power [Pa]."""

    worst_k: float
    coolant_k: float
    flow: float
    charge_loss: float


@dataclass(frozen=True)
class Loop:
    """All that heat and flow see of a kit. `steps` are those of the charge before and after the core [1/m4]."""

    core: Matrix
    exchanger: Matrix | None
    pump: Pump
    reservoir: Reservoir
    pipes: tuple[Pipe, ...]
    steps: tuple[float, float]
    air: tuple[float, float, float, float]


def charge(
    asked: Asked, share: float, core: Matrix, steps: tuple[float, float], end: int
) -> tuple[float, float, float]:
    """Charge in front of the core [K], its capacity rate [W/K], and what core and couplers take [Pa]."""
    flow, boost = share * asked.air, asked.boost_at(share)
    inlet = asked.inlet_loss * share**2
    total, hot, lost = 0.0, asked.inlet_k, 0.0
    for _ in range(6):
        against = total if asked.at_throttle else 0.0
        ratio = (asked.ambient_pa + boost + against) / (asked.ambient_pa - inlet)
        hot = asked.inlet_k * (1 + (ratio ** (0.4 / 1.4) - 1) / asked.efficiency)
        rho = (asked.ambient_pa + boost + against) / (287.05287 * hot)
        of_core = core.charge_loss * (1 - end * core.band) * (flow / core.charge_loss_flow) ** 1.8
        lost = of_core * core.charge_loss_density / rho + sum(steps) * flow**2 / (2 * rho)
        total = (
            lost + asked.pipe_loss * share**2 if asked.loss_to_throttle is None else asked.loss_to_throttle * share**2
        )
    return hot, flow * float(air_specific_heat((hot + asked.ambient_k) / 2)), lost


def pump_flow(loop: Loop, w: Water, end: int) -> float:
    """Where the pump's curve and the loop's cross [m3/s], by halving."""
    points = [(float(p.flow_m3_per_s), float(p.head_pa)) for p in loop.pump.curve]
    curve = stack_curves([([q for q, _ in points], [h for _, h in points])])
    breaks = [float(b) for b in curve.breaks[0]]
    cubics = [[float(c) for c in piece] for piece in curve.coefficients[0]]

    def left(q: float) -> float:
        at = max(k for k, b in enumerate(breaks) if q >= b)
        a, b, c, d = cubics[at]
        x = q - breaks[at]
        takes = loop.core.loss(q, w, end) + sum(pipe.loss(q, w) for pipe in loop.pipes)
        if loop.exchanger is not None:
            takes += loop.exchanger.loss(q, w, end)
        return ((a * x + b) * x + c) * x + d - takes

    low, high = 0.0, 3 * points[-1][0]
    for _ in range(34):
        middle = (low + high) / 2
        low, high = (middle, high) if left(middle) > 0 else (low, middle)
    return (low + high) / 2


def predict(loop: Loop, asked: Asked, end: int) -> Thermal:
    """The drive with coolant properties at one temperature: its mean: as one vessel, then lump by lump, a secant."""
    means = [max(asked.start_k, asked.ambient_k) + 10.0]
    for look in (_mean_of_one_vessel, _mean_of_lumps, _mean_of_lumps):
        w = water_at(asked.coolant, means[-1])
        means.append(look(loop, asked, w, pump_flow(loop, w, end), end))
    _, first, second, third = means
    slope = (third - second) / (second - first) if abs(second - first) > 1e-6 else 0.0
    mean_k = second + (third - second) / (1 - min(max(slope, -0.9), 0.5))
    w = water_at(asked.coolant, min(max(mean_k, asked.start_k - 50.0), asked.start_k + 120.0))
    q = pump_flow(loop, w, end)
    return Thermal(*_drive(loop, asked, w, q, end), q, charge(asked, 1.0, loop.core, loop.steps, end)[2])


def _mean_of_one_vessel(loop: Loop, asked: Asked, w: Water, q: float, end: int) -> float:
    store, now, area, total = sum(_stores(loop, w)), asked.start_k, 0.0, 0.0
    known = {moment: _gains(loop, asked, moment, w, q, end)[0] for moment in {moment for moment, _ in asked.pieces}}
    for moment, seconds in asked.pieces:
        gains = known[moment]
        both = max(sum(g for g, _, _ in gains), 1e-9)
        settles = sum(g * other + watts for g, other, watts in gains) / both
        gone = 1 - math.exp(-both / store * seconds)
        area += settles * seconds + (now - settles) * gone * store / both
        now = settles + (now - settles) * (1 - gone)
        total += seconds
    return area / total


def _mean_of_lumps(loop: Loop, asked: Asked, w: Water, q: float, end: int) -> float:
    """The mean over event and lumps, each lump's by Simpson's rule over short steps."""
    stores = _stores(loop, w)
    steps: dict[tuple[Moment, float], tuple[np.ndarray, np.ndarray]] = {}
    state, area, total = np.full(len(stores), asked.start_k), 0.0, 0.0
    for moment, seconds in asked.pieces:
        count = 2 * max(math.ceil(seconds / 0.5), 1)
        if (moment, seconds) not in steps:
            m, b, _, _ = _system(loop, asked, moment, w, q, stores, end)
            steps[moment, seconds] = step(np.array(m), np.array(b), seconds / count)
        phi, shift = steps[moment, seconds]
        means = [state.mean()]
        for _ in range(count):
            state = phi @ state + shift
            means.append(state.mean())
        area += (means[0] + 4 * sum(means[1::2]) + 2 * sum(means[2:-1:2]) + means[-1]) * seconds / count / 3
        total += seconds
    return area / total


def _stores(loop: Loop, w: Water) -> list[float]:
    """Heat capacities in flow order: reservoir, hoses up to the core with the pump, core, hose, exchanger, hose [J/K].

    Of the coolant that was filled in at 20 degC.
    """
    per_m3 = w.filled_rho * w.cp
    held = [max(pipe.volume, 0.02e-3) * per_m3 + pipe.hose_kg * RUBBER for pipe in loop.pipes]
    reservoir = float(loop.reservoir.coolant.volume_m3 or 0.0) * per_m3
    reservoir += float(loop.reservoir.mass_kg or 0.0) * ALUMINIUM
    pump = float(loop.pump.coolant.volume_m3 or 0.0) * per_m3
    stores = [reservoir, held[0] + pump + held[1], loop.core.liquid_m3 * per_m3 + loop.core.metal, held[2]]
    if loop.exchanger is not None:
        stores += [loop.exchanger.liquid_m3 * per_m3 + loop.exchanger.metal, held[3]]
    return stores


def _drive(loop: Loop, asked: Asked, w: Water, q: float, end: int) -> tuple[float, float]:
    """The worst charge temperature behind the core and the hottest coolant [K], looked at every 2 s at least."""
    stores = _stores(loop, w)
    systems = {
        moment: _system(loop, asked, moment, w, q, stores, end) for moment in {moment for moment, _ in asked.pieces}
    }
    steps: dict[tuple[Moment, float], tuple[list[list[float]], list[float]]] = {}
    state, worst, hottest = [asked.start_k] * len(stores), -math.inf, asked.start_k
    for moment, seconds in asked.pieces:
        m, b, hot, share = systems[moment]
        count = max(math.ceil(seconds / 2.0 - 1e-9), 1)
        if (moment, seconds / count) not in steps:
            phi, shift = step(np.array(m), np.array(b), seconds / count)
            steps[moment, seconds / count] = (phi.tolist(), shift.tolist())
        phi_, shift_ = steps[moment, seconds / count]
        seen = [hot - share * (hot - state[1])]
        for _ in range(count):
            state = [
                sum(p * x for p, x in zip(row, state, strict=True)) + s for row, s in zip(phi_, shift_, strict=True)
            ]
            seen.append(hot - share * (hot - state[1]))
            hottest = max(hottest, *state)
        worst = max(worst, *seen, *(_top(*seen[k : k + 3]) for k in range(len(seen) - 2)))
    return worst, hottest


def _top(first: float, middle: float, last: float) -> float:
    """The top of a parabola through three values, where the middle one is the highest."""
    bend = first - 2 * middle + last
    return middle - (last - first) ** 2 / (8 * bend) if middle >= first and middle >= last and bend < 0 else middle


def _gains(loop: Loop, asked: Asked, moment: Moment, w: Water, q: float, end: int):
    """For each lump conductance, temperature of the other stream, watts; the charge in front of the core, its rate."""
    rate = q * w.rho * w.cp if moment.pump else 0.0
    hot, hot_rate, _ = charge(asked, moment.share, loop.core, loop.steps, end)
    core_ua = loop.core.ua(moment.share * asked.air, q, w, end)
    core_g = float(conductance(*loop.core.arrangement, core_ua, hot_rate, rate))
    heat = (
        float(loop.pump.current_a)
        * loop.pump.volts
        * float(1.0 if loop.pump.heat_to_coolant is None else loop.pump.heat_to_coolant)
    )
    gains = [(0.0, 0.0, 0.0), (0.0, 0.0, heat if moment.pump else 0.0), (core_g, hot, 0.0), (0.0, 0.0, 0.0)]
    if loop.exchanger is not None:
        ram, stated, preheat, fan = loop.air
        cold = asked.ambient_k + preheat
        speed = max(ram * moment.speed, stated, fan if moment.fan else 0.0)
        air = speed * loop.exchanger.face * float(air_density(asked.ambient_pa, cold))
        ua = loop.exchanger.ua(air, q, w, end)
        g = float(conductance(*loop.exchanger.arrangement, ua, air * float(air_specific_heat(cold)), rate))
        gains += [(g, cold, 0.0), (0.0, 0.0, 0.0)]
    return gains, hot, hot_rate


def _system(loop: Loop, asked: Asked, moment: Moment, w: Water, q: float, stores: list[float], end: int):
    """dX/dt = M X + b of the ring of lumps; the charge's heat; the core's effectiveness."""
    gains, hot, hot_rate = _gains(loop, asked, moment, w, q, end)
    rate = q * w.rho * w.cp if moment.pump else 0.0
    n = len(stores)
    m, b = [[0.0] * n for _ in range(n)], [0.0] * n
    for i, (g, other, watts) in enumerate(gains):
        m[i][i] -= rate / stores[i]
        m[i][i - 1] += (rate - g) / stores[i]
        b[i] = (g * other + watts) / stores[i]
    return m, b, hot, gains[2][0] / hot_rate
