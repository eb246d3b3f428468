"""What a part does when nobody measured it: from fins and channels, or from its outer size alone.

Fin geometry uses the published correlations of `physics.compact_surfaces`; size alone uses rules of thumb whose
standing is common practice, no source. Both give the same few numbers that measured points give.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from configurator.foundations.air import SEA_LEVEL_PA, density, prandtl, specific_heat, viscosity
from configurator.foundations.coolants import Coolant, Liquid, properties
from configurator.parts.kinds import Core, Exchanger, RigidPart
from configurator.parts.performance import ChannelGeometry
from configurator.physics.channel_heat import laminar_friction_constant, nusselt
from configurator.physics.compact_surfaces import (
    fin_efficiency,
    louvred_j,
    offset_strip_diameter,
    offset_strip_f,
    offset_strip_j,
    offset_strip_ratios,
)
from configurator.physics.pipe_flow import friction_factor

ALUMINIUM_J_PER_KG_K = 900.0
ALUMINIUM_W_PER_M_K = 180.0
"""Specific heat and conductivity of wrought aluminium; published, handbook values, from memory."""

HOSE_J_PER_KG_K = 800.0
"""What a hose's wall stores of its liquid's warming: half of the specific heat of filled rubber, 1.3 to 2.0 kJ/(kg K).

Heat creeps through rubber at 0.12 mm2/s: of 4.5 mm that warm steadily on one side the mean has come half as far as the
surface after 90 s (derived, t - L2/3a), a fifth after 10 s, nearly all after 10 min. Common practice, from memory.
"""

_PLATE_M = 0.5e-3
_REFERENCE_LIQUID = Coolant("ethylene glycol", 0.30)
_REFERENCE_K = 313.15
_REFERENCE_FLOW = 30e-3 / 60
"""Size-only estimates are stated at 30 L/min of 30 % ethylene glycol at 40 degC."""

CORE_UA_PER_BOX_LITRE = 80.0
CORE_MASS_FLUX = 10.0
CORE_LOSS_PER_M = 13e3
CORE_LOSS_DENSITY = 1.9
CORE_LIQUID_SHARE = 0.2
"""Core from its box: W/K per litre of box and Pa of charge loss per metre of flow, at 10 kg/s per m2 of front."""

CORE_AIR_K = 390.0
"""Charge half way through a core, where the properties of fins by geometry are taken: some 117 degC; 10 K change
the conductance by 1 %. Common practice, no source."""

CORE_ENDS_HEADS = 1.5
"""Way into and out of the fins, in heads of the speed between them: 0.5 of a sharp entry and 1 of an exit into a tank,
published for pipes (White, from memory)."""

FACE_FILM_M2_K_PER_W = 0.19e-3
FACE_AIR_M2_K_PER_W = 0.19e-3
FACE_DEPTH_M = 0.026
FACE_SPEED = 2.0
FACE_DEPTH_EXPONENT = 0.65
"""Exchanger from its face: resistances of 1 m2 of a 26 mm core at 2 m/s; thicker cores divide the air side by
(depth / 26 mm)^0.65 and the liquid side by depth / 26 mm."""

AIR_EXPONENT_BY_SIZE = 0.6
PORT_BORE_M = 0.0155
PORT_FACTOR = 2.5
"""In and out port with their headers together, on a -12 bore; common practice, no source."""


Values = Any
"""A float, or an array of floats: one part, or a column of parts."""


@dataclass(frozen=True)
class Channels:
    """Coolant channels: one pass's flow area, diameter and aspect, length of a pass and of all, wetted surface."""

    area_m2: Values
    diameter_m: Values
    aspect: Values
    pass_length_m: Values
    length_m: Values
    wetted_m2: Values

    @property
    def volume_m3(self) -> Values:
        """Liquid in the channels of all passes [m3]."""
        return self.area_m2 * self.length_m


def reynolds_number(channels: Channels, flow: Values, liquid: Liquid) -> Values:
    """Reynolds number in the channels at a coolant flow [m3/s]."""
    return liquid.density * flow / channels.area_m2 * channels.diameter_m / liquid.viscosity


def film_conductance(channels: Channels, film_scale: Values, flow: Values, liquid: Liquid) -> Values:
    """Liquid-side conductance h*A at a coolant flow [m3/s] in the liquid's state [W/K]."""
    reynolds = reynolds_number(channels, flow, liquid)
    prandtl_number = liquid.viscosity * liquid.specific_heat / liquid.conductivity
    film = nusselt(reynolds, prandtl_number, channels.diameter_m / channels.pass_length_m, channels.aspect)
    return film_scale * film * liquid.conductivity / channels.diameter_m * channels.wetted_m2


def channel_friction_pa(channels: Channels, flow: Values, liquid: Liquid) -> Values:
    """Wall friction in the channels at a coolant flow [m3/s], all passes together [Pa]."""
    speed = flow / channels.area_m2
    factor = friction_factor(reynolds_number(channels, flow, liquid), 0.0, laminar_friction_constant(channels.aspect))
    return factor * channels.length_m / channels.diameter_m * liquid.density * speed**2 / 2


@dataclass(frozen=True)
class Estimate:
    """What an estimate gives in place of measured points."""

    air_resistance: float
    air_exponent: float
    film_scale: float
    ports_per_m4: float
    charge_loss_pa: float = 0.0
    charge_loss_flow: float = 1.0
    charge_loss_density: float = 1.0


def given_channels(geometry: ChannelGeometry, passes: int) -> Channels:
    """Channels as written: `count` is what runs in parallel in one pass."""
    wide, high = float(geometry.wide_m), float(geometry.high_m)
    return Channels(
        area_m2=geometry.area_m2,
        diameter_m=geometry.hydraulic_diameter_m,
        aspect=min(wide, high) / max(wide, high),
        pass_length_m=float(geometry.length_m),
        length_m=float(geometry.length_m) * passes,
        wetted_m2=geometry.wetted_area_m2 * passes,
    )


def default_core_channels(core: Core) -> Channels:
    """Channels of a core of unknown inside: 3 mm gaps that hold 60 % of its coolant, passes across its width."""
    gap, wide = 0.003, 0.030
    length = float(core.size.y_m) * core.arrangement.passes
    liquid = float(core.coolant.volume_m3 or 0.15 * box_m3(core))
    area = 0.6 * liquid / length
    diameter = 2 * gap * wide / (gap + wide)
    return Channels(area, diameter, gap / wide, float(core.size.y_m), length, 4 * area / diameter * length)


def default_exchanger_channels(exchanger: Exchanger) -> Channels:
    """Channels of an exchanger of unknown inside: flat tubes 1.6 mm clear, one every 10 mm of face height."""
    gap = 0.0016
    wide = max(fin_depth_m(exchanger) - 0.002, 0.006)
    tubes = max(round(float(exchanger.face.high_m) / 0.010), 1)
    passes = exchanger.arrangement.passes
    area = tubes / passes * wide * gap
    diameter = 2 * gap * wide / (gap + wide)
    length = float(exchanger.face.wide_m)
    return Channels(
        area, diameter, gap / wide, length, length * passes, 4 * area / diameter * length * passes
    )


def core_from_size(core: Core, channels: Channels) -> Estimate:
    """A core of which only box and bores are known."""
    front = float(core.size.y_m) * float(core.size.z_m)
    flow = CORE_MASS_FLUX * front
    resistance = 1 / (CORE_UA_PER_BOX_LITRE * box_m3(core) * 1e3)
    return Estimate(
        air_resistance=(1 - CORE_LIQUID_SHARE) * resistance * flow**AIR_EXPONENT_BY_SIZE,
        air_exponent=AIR_EXPONENT_BY_SIZE,
        film_scale=_film_scale(channels, CORE_LIQUID_SHARE * resistance),
        ports_per_m4=_ports_per_m4(),
        charge_loss_pa=CORE_LOSS_PER_M * float(core.size.x_m),
        charge_loss_flow=flow,
        charge_loss_density=CORE_LOSS_DENSITY,
    )


def exchanger_from_size(exchanger: Exchanger, channels: Channels) -> Estimate:
    """An exchanger of which only box and bores are known."""
    face = float(exchanger.face.wide_m) * float(exchanger.face.high_m)
    thicker = fin_depth_m(exchanger) / FACE_DEPTH_M
    flow = FACE_SPEED * face * float(density(SEA_LEVEL_PA, 298.15))
    air = FACE_AIR_M2_K_PER_W / face / thicker**FACE_DEPTH_EXPONENT
    return Estimate(
        air_resistance=air * flow**AIR_EXPONENT_BY_SIZE,
        air_exponent=AIR_EXPONENT_BY_SIZE,
        film_scale=_film_scale(channels, FACE_FILM_M2_K_PER_W / face / thicker),
        ports_per_m4=_ports_per_m4(),
    )


def core_from_geometry(core: Core) -> Estimate:
    """A core with offset-strip fins: layers of fins and channels stacked across its block."""
    fins, block, channels = core.performance.fins, core.performance.block, core.performance.channels
    assert fins is not None and block is not None
    clear = float(fins.height_m) - float(fins.thickness_m)
    gap = float(channels.high_m) if channels is not None else 0.003
    layers = max(int(float(block.z_m) / (float(fins.height_m) + gap + 2 * _PLATE_M)), 1)
    spacing = float(fins.pitch_m) - float(fins.thickness_m)
    columns = float(block.y_m) / float(fins.pitch_m)
    flow_area = layers * columns * spacing * clear
    strip = (spacing, clear, float(fins.thickness_m), float(fins.strip_length_m or 0))
    diameter = float(offset_strip_diameter(*strip))
    surface = 4 * flow_area * float(block.x_m) / diameter
    flows = np.array([0.5, 1.0]) * CORE_MASS_FLUX * float(block.y_m) * float(block.z_m)
    flux = flows / flow_area
    reynolds = flux * diameter / viscosity(CORE_AIR_K)
    shape = offset_strip_ratios(*strip)
    film = offset_strip_j(reynolds, *shape) * flux * specific_heat(CORE_AIR_K) * prandtl(CORE_AIR_K) ** (-2 / 3)
    fin_share = clear / (clear + spacing)
    working = 1 - fin_share * (
        1 - fin_efficiency(film, ALUMINIUM_W_PER_M_K, float(fins.thickness_m), clear / 2)
    )
    air_density = CORE_LOSS_DENSITY
    friction = (
        offset_strip_f(reynolds[1], *shape)
        * 4
        * float(block.x_m)
        / diameter
        * flux[1] ** 2
        / (2 * air_density)
    )
    ends = CORE_ENDS_HEADS * flux[1] ** 2 / (2 * air_density)
    return Estimate(
        **_power_law(flows, 1 / (film * working * surface)),
        film_scale=1.0,
        ports_per_m4=_ports_per_m4(),
        charge_loss_pa=float(friction + ends),
        charge_loss_flow=float(flows[1]),
        charge_loss_density=air_density,
    )


def exchanger_from_geometry(exchanger: Exchanger) -> Estimate:
    """An exchanger with louvred fins between flat tubes."""
    fins, tubes = exchanger.performance.fins, exchanger.performance.channels
    assert fins is not None and tubes is not None
    depth = fin_depth_m(exchanger)
    height, pitch, thickness = float(fins.height_m), float(fins.pitch_m), float(fins.thickness_m)
    tube_pitch = height + float(tubes.high_m) + 2 * _PLATE_M
    face = float(exchanger.face.wide_m) * float(exchanger.face.high_m)
    rows = float(exchanger.face.high_m) / tube_pitch
    folds = float(exchanger.face.wide_m) / pitch
    fin_surface = rows * folds * 2 * height * depth
    tube_surface = rows * float(exchanger.face.wide_m) * 2 * depth
    open_share = height / tube_pitch * (1 - thickness / pitch)
    speeds = np.array([3.0, 6.0])
    t_k = 305.0
    reynolds = (
        speeds / open_share * float(density(SEA_LEVEL_PA, t_k)) * float(fins.louvre_pitch_m or 0) / viscosity(t_k)
    )
    j = louvred_j(
        reynolds,
        angle_deg=float(fins.louvre_angle_deg or 0),
        fin_pitch=pitch,
        louvre_pitch=float(fins.louvre_pitch_m or 0),
        fin_length=height,
        depth=depth,
        louvre_length=float(fins.louvre_length_m or 0),
        tube_pitch=tube_pitch,
        thickness=thickness,
    )
    flux = speeds / open_share * float(density(SEA_LEVEL_PA, t_k))
    film = j * flux * specific_heat(t_k) * prandtl(t_k) ** (-2 / 3)
    working = fin_efficiency(film, ALUMINIUM_W_PER_M_K, thickness, height / 2)
    flows = speeds * face * float(density(SEA_LEVEL_PA, t_k))
    return Estimate(
        **_power_law(flows, 1 / (film * (working * fin_surface + tube_surface))),
        film_scale=1.0,
        ports_per_m4=_ports_per_m4(),
    )


def _power_law(flows: np.ndarray, resistances: np.ndarray) -> dict[str, float]:
    """The straight line through two points on logarithmic axes."""
    exponent = float(math.log(resistances[0] / resistances[1]) / math.log(flows[1] / flows[0]))
    return {"air_resistance": float(resistances[1] * flows[1] ** exponent), "air_exponent": exponent}


def _film_scale(channels: Channels, resistance: float) -> float:
    """Scale that gives the liquid film this resistance in the reference state."""
    liquid = properties(_REFERENCE_LIQUID, _REFERENCE_K)
    return float(1 / (resistance * film_conductance(channels, 1.0, _REFERENCE_FLOW, liquid)))


def _ports_per_m4() -> float:
    area = math.pi / 4 * PORT_BORE_M**2
    return PORT_FACTOR / area**2


def fin_depth_m(exchanger: Exchanger) -> float:
    """How deep an exchanger's fins are [m]: as stated, else nine tenths of its box. Common practice, no source."""
    return float(exchanger.fin_depth_m or 0.9 * float(exchanger.size.x_m))


def box_m3(part: RigidPart) -> float:
    """The box that a part takes [m3]."""
    return float(part.size.x_m) * float(part.size.y_m) * float(part.size.z_m)
