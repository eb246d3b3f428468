"""How a chart looks: on light ground, on dark ground and in print; lines differ by stroke, not by colour alone."""

from __future__ import annotations

from typing import Final

SHADES: Final = 10
"""Steps of the shade behind the lines, from no power to full power."""

STYLE: Final = (
    """
svg{color:#16191c;background:#fff}
text{font-family:sans-serif;font-size:3.5px;fill:currentColor}
.paper{fill:#fff;stroke:none}
.head,.strong{font-weight:bold}
rect,line,circle,path{stroke:currentColor;fill:none;stroke-width:.18}
.frame{stroke-width:.3}
.grid{stroke-opacity:.22}
.shade{fill:currentColor;stroke:none}
.still{fill:url(#still);stroke:none}
.power{fill:currentColor;fill-opacity:.45;stroke:none}
.band{fill:#b4451f;fill-opacity:.2;stroke:none}
.charge,.ring,.square{stroke:#b4451f;stroke-width:.75;stroke-linejoin:round}
.warm{stroke:#1d5c8c;stroke-width:.55;stroke-linejoin:round}
.cold{stroke:#1d5c8c;stroke-width:.55;stroke-dasharray:2.6 1.1;stroke-linejoin:round}
.ring,.square{fill:#fff;stroke-width:.6}
.aim{stroke-width:.5;stroke-dasharray:5 1.2 1 1.2}
.air{stroke-width:.5;stroke-dasharray:.3 1.3;stroke-linecap:round}
.leader{stroke-width:.25}
pattern *{stroke:currentColor;stroke-width:.2;stroke-opacity:.45;fill:none}
"""
    + "".join(f".s{n}{{fill-opacity:{0.014 * n:.3f}}}\n" for n in range(SHADES + 1))
    + """@media (prefers-color-scheme:dark){
svg{color:#e8eaec;background:#16191c}
.paper,.ring,.square{fill:#16191c}
.band{fill:#ff9d76}
.charge,.ring,.square{stroke:#ff9d76}
.warm,.cold{stroke:#8cc8f5}
}
@media print{
svg{color:#000;background:#fff}
.paper,.ring,.square{fill:#fff}
.band{fill:#b4451f}
.charge,.ring,.square{stroke:#9a3512}
.warm,.cold{stroke:#174b73}
}
"""
)
HATCH: Final = (
    '<pattern id="still" width="2.2" height="2.2" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    '<path d="M0 0V2.2"/></pattern>'
)
