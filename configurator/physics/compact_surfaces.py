"""Finned surfaces of the air side from their geometry: Colburn factor j, Fanning friction factor f, fin
efficiency.

h = j G cp Pr^(-2/3), with G the mass flow over the free area [kg/(s m²)]. Darcy's friction factor is 4 f.
The fin correlations are published, each with its source; fin efficiency is published in any textbook of heat transfer.
"""

from __future__ import annotations

import numpy as np

from configurator.foundations.numbers import Array, Numbers


def offset_strip_ratios(
    spacing: Numbers, height: Numbers, thickness: Numbers, strip_length: Numbers
) -> tuple[Numbers, Numbers, Numbers]:
    """The three ratios of an offset-strip fin [-]: alpha = s/h, delta = t/l, gamma = t/s.

    `spacing` s: free width between fins (pitch - thickness) [m]; `height` h: free height (plate spacing -
    thickness) [m]; `thickness` t, `strip_length` l [m]; all > 0. They broadcast together.
    """
    return spacing / height, thickness / strip_length, thickness / spacing


def offset_strip_diameter(
    spacing: Numbers, height: Numbers, thickness: Numbers, strip_length: Numbers
) -> Numbers:
    """Hydraulic diameter of an offset-strip fin [m], D = 4 s h l / (2 (s l + h l + t h) + t s).

    Arguments as of `offset_strip_ratios`. Published: Manglik & Bergles 1995 (from memory).
    """
    s, h, t, length = spacing, height, thickness, strip_length
    return 4.0 * s * h * length / (2.0 * (s * length + h * length + t * h) + t * s)


def offset_strip_j(re: Numbers, alpha: Numbers, delta: Numbers, gamma: Numbers) -> Array:
    """Colburn factor j [-] of an offset-strip fin, laminar to turbulent in one formula.

    j = 0.6522 Re^-0.5403 alpha^-0.1541 delta^0.1499 gamma^-0.0678
        (1 + 5.269e-5 Re^1.340 alpha^0.504 delta^0.456 gamma^-1.055)^0.1.
    `re` on `offset_strip_diameter`, 120 to 10 000 [-]; `alpha`, `delta`, `gamma`: the ratios of
    `offset_strip_ratios` [-]; they broadcast together. Claimed for 20 %. Published: Manglik & Bergles, Exp. Thermal
    Fluid Sci. 10 (1995) 171, eq. 34 (from memory).
    """
    r = np.asarray(re, dtype=np.float64)
    low = 0.6522 * r**-0.5403 * alpha**-0.1541 * delta**0.1499 * gamma**-0.0678
    high = 5.269e-5 * r**1.340 * alpha**0.504 * delta**0.456 * gamma**-1.055
    return np.asarray(low * (1.0 + high) ** 0.1)


def offset_strip_f(re: Numbers, alpha: Numbers, delta: Numbers, gamma: Numbers) -> Array:
    """Fanning friction factor f [-] of an offset-strip fin; arguments, range and source as of
    `offset_strip_j`, eq. 35.

    f = 9.6243 Re^-0.7422 alpha^-0.1856 delta^0.3053 gamma^-0.2659
        (1 + 7.669e-8 Re^4.429 alpha^0.920 delta^3.767 gamma^0.236)^0.1.
    """
    r = np.asarray(re, dtype=np.float64)
    low = 9.6243 * r**-0.7422 * alpha**-0.1856 * delta**0.3053 * gamma**-0.2659
    high = 7.669e-8 * r**4.429 * alpha**0.920 * delta**3.767 * gamma**0.236
    return np.asarray(low * (1.0 + high) ** 0.1)


def louvred_j(
    re: Numbers,
    *,
    angle_deg: Numbers,
    fin_pitch: Numbers,
    louvre_pitch: Numbers,
    fin_length: Numbers,
    depth: Numbers,
    louvre_length: Numbers,
    tube_pitch: Numbers,
    thickness: Numbers,
) -> Array:
    """Colburn factor j [-] of a louvred fin on flat tubes.

    j = Re^-0.49 (angle/90)^0.27 (Fp/Lp)^-0.14 (Fl/Lp)^-0.29 (Td/Lp)^-0.23 (Ll/Lp)^0.68 (Tp/Lp)^-0.28
    (t/Lp)^-0.05. `re` on the louvre pitch, 100 to 3000 [-]; `angle_deg` of the louvres [deg]; lengths: `fin_pitch` Fp,
    `louvre_pitch` Lp, `fin_length` Fl (free height between tubes), `depth` Td of the tube along the air,
    `louvre_length` Ll, `tube_pitch` Tp, `thickness` t of the fin [m]. All broadcast together. Claimed for 15 %.
    Published: Chang & Wang, Int. J. Heat Mass Transfer 40 (1997) 533, eq. 9 (from memory).
    """
    lp = louvre_pitch
    return np.asarray(
        np.asarray(re, dtype=np.float64) ** -0.49
        * (angle_deg / 90.0) ** 0.27
        * (fin_pitch / lp) ** -0.14
        * (fin_length / lp) ** -0.29
        * (depth / lp) ** -0.23
        * (louvre_length / lp) ** 0.68
        * (tube_pitch / lp) ** -0.28
        * (thickness / lp) ** -0.05
    )


def fin_efficiency(h: Numbers, conductivity: Numbers, thickness: Numbers, length: Numbers) -> Array:
    """Efficiency of a straight fin with an adiabatic tip [-]: tanh(mL)/(mL), m = (2 h / (k t))^(1/2).

    `h`: heat transfer coefficient [W/(m² K)]; `conductivity` k of the fin [W/(m K)]; `thickness` t and
    `length` L (half the plate spacing, where both ends are on a plate) [m]. All > 0, but `h` >= 0:
    1 where it is 0. They broadcast together.
    """
    h_all = np.asarray(h, dtype=np.float64)
    ml = np.maximum(np.sqrt(2.0 * h_all / (conductivity * thickness)) * length, 1e-12)
    return np.asarray(np.tanh(ml) / ml)
