"""Cores and front exchangers as plain numbers, worked out again from one measured point or from size alone."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from configurator.foundations.air import specific_heat as air_specific_heat
from configurator.foundations.coolants import Coolant, properties
from configurator.parts.kinds import Core, Exchanger
from configurator.physics.channel_heat import laminar_friction_constant, nusselt
from configurator.physics.effectiveness import conductance_to_ua

ALUMINIUM, RUBBER = 900.0, 800.0
BANDS = {"one point": 0.10, "size": 0.40}


@dataclass(frozen=True)
class Water:
    """A liquid at one temperature: density, specific heat, viscosity, conductivity; and its density as filled in."""

    rho: float
    cp: float
    mu: float
    k: float
    filled_rho: float


def water_at(coolant: Coolant, t_k: float) -> Water:
    """The liquid's properties at a temperature [K]."""
    now = (float(value) for value in properties(coolant, t_k))
    return Water(*now, filled_rho=float(properties(coolant, 293.15).density))


@dataclass
class Matrix:
    """A core or exchanger as plain numbers."""

    arrangement: tuple[str, int, str | None]
    area: float
    diameter: float
    aspect: float
    pass_length: float
    passes: int
    air_resistance: float = 0.0
    film_scale: float = 1.0
    friction_scale: float = 1.0
    ports: float = 0.0
    charge_loss: float = 0.0
    charge_loss_flow: float = 1.0
    charge_loss_density: float = 1.0
    face: float = 0.0
    liquid_m3: float = 0.0
    metal: float = 0.0
    band: float = 0.0

    @cached_property
    def laminar(self) -> float:
        return float(laminar_friction_constant(self.aspect))

    @property
    def length(self) -> float:
        return self.pass_length * self.passes

    def film(self, q: float, w: Water) -> float:
        """Conductance of the liquid film [W/K]."""
        speed = q / self.area
        re, pr = w.rho * speed * self.diameter / w.mu, w.mu * w.cp / w.k
        nu = float(nusselt(re, pr, self.diameter / self.pass_length, self.aspect))
        wetted = 4 * self.area / self.diameter * self.length
        return self.film_scale * nu * w.k / self.diameter * wetted

    def friction(self, q: float, w: Water) -> float:
        """Wall friction of all passes [Pa], unscaled."""
        speed = q / self.area
        re = w.rho * speed * self.diameter / w.mu
        factor = darcy(re, 0.0, self.laminar)
        return factor * self.length / self.diameter * w.rho * speed**2 / 2

    def loss(self, q: float, w: Water, end: int) -> float:
        """What the part takes from the coolant [Pa]; `end` -1 is the cautious end of its band."""
        return (self.friction_scale * self.friction(q, w) + self.ports * w.rho * q**2 / 2) * (1 - end * self.band)

    def ua(self, air: float, q: float, w: Water, end: int) -> float:
        """Overall conductance [W/K]."""
        resistance = self.air_resistance * max(air, 1e-9) ** -0.6 + 1 / max(self.film(q, w), 1e-9)
        return (1 + end * self.band) / resistance


def darcy(re: float, rough: float, laminar: float = 64.0) -> float:
    """Friction factor: laminar, Colebrook solved by repeated substitution, a straight line between."""
    if re <= 2300.0:
        return laminar / max(re, 1e-12)
    turbulent = 0.02
    for _ in range(40):
        before = turbulent
        turbulent = (-2 * math.log10(rough / 3.7 + 2.51 / (max(re, 4000.0) * math.sqrt(turbulent)))) ** -2
        if abs(turbulent - before) < 1e-12:
            break
    share = min((re - 2300.0) / 1700.0, 1.0)
    return (1 - share) * laminar / 2300.0 + share * turbulent


def _fluid(words: str) -> Coolant:
    if words == "water":
        return Coolant("water", 0.0)
    kind, share = words.split(" glycol ")
    return Coolant(f"{kind} glycol", float(share.rstrip("% ")) / 100)  # type: ignore[arg-type]


def _heat_capacity(part: Core | Exchanger) -> float:
    return float(part.mass_kg) * float(part.specific_heat_j_per_kg_k or ALUMINIUM)


def core_matrix(core: Core) -> Matrix:
    """A core from its one point, else from its size."""
    x, y, z = float(core.size.x_m), float(core.size.y_m), float(core.size.z_m)
    passes = core.arrangement.passes
    liquid = float(core.coolant.volume_m3 or 0.15 * x * y * z)
    area = 0.6 * liquid / (y * passes)
    gap, wide = 0.003, 0.030
    m = Matrix(
        (core.arrangement.flow, passes, core.arrangement.pass_order),
        area,
        2 * gap * wide / (gap + wide),
        gap / wide,
        y,
        passes,
        liquid_m3=float(core.coolant.volume_m3 or area * y * passes),
        metal=_heat_capacity(core),
    )
    if not core.performance.measured:
        whole = 1 / (80.0 * x * y * z * 1e3)
        m.charge_loss_flow = 10.0 * y * z
        m.air_resistance = 0.8 * whole * m.charge_loss_flow**0.6
        m.charge_loss, m.charge_loss_density, m.band = 13e3 * x, 1.9, BANDS["size"]
        _film_by_size(m, 0.2 * whole)
        return m
    (point,) = core.performance.measured
    air = float(point.air_kg_per_s)
    _one_point(m, air, air * float(air_specific_heat(float(point.charge_in_k))), point)
    m.charge_loss, m.charge_loss_flow = float(point.charge_loss_pa), air
    pressure = 101325.0 + float(point.charge_pressure_pa_gauge)
    m.charge_loss_density = pressure / (287.05287 * float(point.charge_in_k))
    return m


def exchanger_matrix(part: Exchanger) -> Matrix:
    """An exchanger from its one point, else from its size."""
    wide, high = float(part.face.wide_m), float(part.face.high_m)
    depth = float(part.fin_depth_m or 0.9 * float(part.size.x_m))
    gap, tube = 0.0016, max(depth - 0.002, 0.006)
    passes = part.arrangement.passes
    area = max(round(high / 0.010), 1) / passes * tube * gap
    m = Matrix(
        (part.arrangement.flow, passes, part.arrangement.pass_order),
        area,
        2 * gap * tube / (gap + tube),
        gap / tube,
        wide,
        passes,
        face=wide * high,
        liquid_m3=float(part.coolant.volume_m3 or area * wide * passes),
        metal=_heat_capacity(part),
    )
    if not part.performance.measured:
        thicker = depth / 0.026
        flow = 2.0 * m.face * 101325.0 / (287.05287 * 298.15)
        m.air_resistance = 0.19e-3 / m.face / thicker**0.65 * flow**0.6
        m.band = BANDS["size"]
        _film_by_size(m, 0.19e-3 / m.face / thicker)
        return m
    (point,) = part.performance.measured
    air = float(point.face_speed_m_per_s) * m.face * 101325.0 / (287.05287 * float(point.air_in_k))
    _one_point(m, air, air * float(air_specific_heat(float(point.air_in_k))), point)
    return m


def _film_by_size(m: Matrix, resistance: float) -> None:
    """The film has its resistance at 30 L/min of 30 % ethylene glycol at 40 degC; ports are two -12 bores."""
    reference = water_at(Coolant("ethylene glycol", 0.30), 313.15)
    m.film_scale = 1 / (resistance * m.film(0.5e-3, reference))
    m.ports = 2.5 / (math.pi / 4 * 0.0155**2) ** 2


def _one_point(m: Matrix, air: float, air_rate: float, point) -> None:
    """A fifth of the resistance is the film's; at least a fifth of the loss is the ports'."""
    w = water_at(_fluid(point.fluid), float(point.coolant_in_k))
    q = float(point.coolant_m3_per_s)
    ua = conductance_to_ua(*m.arrangement, float(point.effectiveness) * air_rate, air_rate, q * w.rho * w.cp)
    m.air_resistance = 0.8 / ua * air**0.6
    m.film_scale = ua / 0.2 / m.film(q, w)
    measured, friction = float(point.coolant_loss_pa), m.friction(q, w)
    m.friction_scale = min(1.0, 0.8 * measured / friction)
    m.ports = (measured - m.friction_scale * friction) / (w.rho * q**2 / 2)
    m.band = BANDS["one point"]
