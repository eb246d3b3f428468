"""What the recipes of DEVELOPERS.md come to for one example each: into which file, behind or before which line, what.

The examples are made up for the test: nobody asked for them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True)
class Step:
    """A piece of text that goes into a file of the checkout: behind a line, before one, or at its end."""

    file: str
    text: str
    behind: str = ""
    before: str = ""

    def into(self, old: str) -> str:
        """The file with the piece in it."""
        at = self.behind or self.before
        if not at:
            return old + self.text
        assert old.count(at) == 1, f"{self.file}: {old.count(at)} times: {at}"
        head, tail = old.split(at)
        return f"{head}{at}{self.text}{tail}" if self.behind else f"{head}{self.text}{at}{tail}"


PART: Final = (
    Step(
        "catalogue/cores.yaml",
        """  - id: core-200-sheet
    name: Core by a sheet, 200 long
    size: {x: 200 mm, y: 140 mm, z: 160 mm}
    mass: 3 kg
    price: 199
    charge:
      working: {value: 3 bar, standing: published, source: sheet-of-the-core}
      ends:
        - {name: in, form: spigot, size: 70 mm, bead: true, face: -x, at: {y: 70 mm, z: 80 mm}}
        - {name: out, form: spigot, size: 70 mm, bead: true, face: +x, at: {y: 70 mm, z: 80 mm}}
    coolant:
      working: 2 bar
      ends:
        - {name: in, form: spigot, size: 19 mm, barb: true, face: +y, at: {x: 150 mm, z: 80 mm}}
        - {name: out, form: spigot, size: 19 mm, barb: true, face: +y, at: {x: 50 mm, z: 80 mm}}
    arrangement: {flow: cross-flow both unmixed, passes: 2, pass_order: in turn}
    source: sheet-of-the-core
""",
    ),
    Step("catalogue/sources.yaml", "  sheet-of-the-core: Invented. What its sheet says.\n", behind="sources:\n"),
)

LAYOUT: Final = (
    Step(
        "catalogue/layouts.yaml",
        """  - id: front-first
    name: one front exchanger, one core behind it
    slots:
      - {slot: reservoir, kind: reservoir, least: 1, most: 1, path: coolant}
      - {slot: pump, kind: pump, least: 1, most: 1, path: coolant}
      - {slot: core, kind: core, least: 1, most: 1, path: coolant}
      - {slot: exchanger, kind: exchanger, least: 1, most: 1, path: coolant}
      - {slot: cap, kind: cap, least: 0, most: 1, path: on reservoir}
    loop: [reservoir, pump, exchanger, core]
""",
    ),
)

RULE_FOR_A_PART: Final = (
    Step(
        "configurator/search/sieve.py",
        """    if isinstance(part, Pump) and part.volts != 12:
        yield Exclusion(part.id, "other-voltage", float(part.volts), 12.0, "V")
""",
        before="    impossible = _impossible_point(part)\n",
    ),
    Step(
        "configurator/reasons/wording.py",
        """    "other-voltage": lambda e, n: f"{n} wants {float(e.found or 0):g} V, the car has {e.limit:g} V.",
""",
        behind="_SENTENCES: dict[str, Callable[[Exclusion, str], str]] = {\n",
    ),
    Step(
        "configurator/reasons/wording.py",
        '    "other-voltage": "wants another voltage than the car has",\n',
        behind="_CAUSES = {\n",
    ),
    Step(
        "configurator/reasons/ways_out.py",
        '    "other-voltage": lambda e: ("the car has one voltage", "a pump made for it"),\n',
        behind="_STANDING: Final[dict[str, Callable[[Exclusion], tuple[str, str] | None]]] = {\n",
    ),
    Step(
        "DEVELOPERS.md",
        "| `other-voltage` | a pump for another voltage than 12 V | a pump for it |\n",
        before="| `coolant-banned` |",
    ),
    Step(
        "tests/oracles/try_everything.py",
        '        if parts["pump"].volts != 12:\n            return False\n',
        before='        core = parts["core"]\n        rated, hottest = ',
    ),
)

RULE_FOR_TWO_ENDS: Final = (
    Step(
        "configurator/joining/mating.py",
        """    stretched = _too_wide(first, second)
    if stretched is not None:
        return stretched
""",
        before="    forms = {first.form, second.form}\n",
    ),
    Step(
        "configurator/joining/mating.py",
        """

def _too_wide(a: End, b: End) -> Mating | None:
    if max((end.size_m or 0.0 for end in (a, b) if end.form == "hose"), default=0.0) <= LIMITS.widest_hose_m:
        return None
    why = f"{end_words(a)} and {end_words(b)}: a hose so wide needs a formed joint"
    return refuse("too-wide", why, "it creeps off its spigot")
""",
    ),
    Step("configurator/joining/mating.py", "LIMITS, ", behind="from configurator.joining.mating_verdict import "),
    Step(
        "configurator/joining/mating_verdict.py",
        "    widest_hose_m: float = 0.035\n",
        behind="    plain_coupler_k: float = 448.15\n",
    ),
)

FORMULA: Final = (
    Step(
        "configurator/physics/pipe_flow.py",
        '''

def hydraulic_power(lift_pa: Numbers, flow_m3_per_s: Numbers) -> Array:
    """Power that a pump gives to a liquid [W]: lift times flow.

    `lift_pa`: by how much it raises the pressure [Pa]; `flow_m3_per_s` [m³/s]; both >= 0, of any size. They
    broadcast together. Published: White, Fluid Mechanics, ch. 11 (from memory).
    """
    return np.asarray(lift_pa, dtype=np.float64) * np.asarray(flow_m3_per_s, dtype=np.float64)
''',
    ),
    Step(
        "tests/reference_cases/pipe_flow.yaml",
        """
- case: "hydraulic power of a pump"
  through: configurator.physics.pipe_flow.hydraulic_power
  inputs: {lift_pa: [0.0, 50000.0], flow_m3_per_s: [0.001, 0.0005]}
  expected: [0.0, 25.0]
  tolerance: {absolute: 1.0e-9}
  source: "White, Fluid Mechanics, ch. 11: rho g Q H"
  standing: "exact; definition from memory"
""",
    ),
    Step(
        "configurator/prediction/report.py",
        "from configurator.physics.pipe_flow import hydraulic_power\n",
        before="from configurator.prediction.bench import",
    ),
    Step("configurator/prediction/report.py", "    hydraulic_w: float\n", before="    charge_before_pa: float\n"),
    Step(
        "configurator/prediction/report.py",
        "                hydraulic_w=float(\n"
        "                    hydraulic_power(whole, middle.flow_m3_per_s)[row]\n"
        "                ),\n",
        before="                charge_before_pa=",
    ),
    Step(
        "configurator/presentation/facts.py",
        '        ("into the coolant", f"{kit.thermal.hydraulic_w:.1f} W of the pump"),\n',
        before='        ("current", f"',
    ),
    Step(
        "configurator/presentation/answer_json.py",
        '        "hydraulic_w": round(t.hydraulic_w, 2),\n',
        before='        "pump_w": round(',
    ),
    Step(
        "examples/guide/json.md",
        "- `thermal` has `hydraulic_w`, what the pump gives to the coolant.\n",
        before="- `energy`",
    ),
    Step("examples/guide/figures.md", "- **Into the coolant**: lift of the pump × flow.\n", before="- **Energy**:"),
)

OUTPUT: Final = (
    Step(
        "configurator/presentation/weights_text.py",
        '''"""What kits weigh, a line each."""

from __future__ import annotations

from configurator.questions.answer import Answer


def weights_text(answer: Answer) -> str:
    """The mass of each listed kit, dry and filled."""
    return "".join(
        f"Kit {kit.rank} weighs {kit.mass_dry_g / 1e3:.1f} kg dry, {kit.mass_wet_g / 1e3:.1f} kg filled.\\n"
        for kit in answer.kits
    )
''',
    ),
    Step(
        "configurator/cli/main.py",
        '    weights: Annotated[bool, typer.Option("--weights", help="Also what each kit weighs.")] = False,\n',
        before="    sketch: Annotated[bool,",
    ),
    Step("configurator/cli/main.py", "        weights=weights,\n", behind="        sketch=sketch,\n"),
    Step("configurator/cli/suggest_command.py", "    weights: bool = False\n", behind="    sketch: bool = False\n"),
    Step(
        "configurator/cli/suggest_command.py",
        "from configurator.presentation.weights_text import weights_text\n",
        before="from configurator.questions.fits_only import Fits\n",
    ),
    Step(
        "configurator/cli/suggest_command.py",
        "    if asked.weights:\n        sys.stdout.write(weights_text(answer))\n",
        before="    if asked.draw is not None or asked.sketch:\n",
    ),
    Step(
        "configurator/cli/suggest_command.py",
        "    if asked.weights and asked.as_json:\n"
        '        return usage("--weights is for people and --json for programs: leave one of them out")\n',
        before="    if asked.kit > asked.top:\n",
    ),
    Step(
        "configurator/cli/suggest_command.py",
        '        "--weights": asked.weights,\n',
        behind='        "--sketch": asked.sketch,\n',
    ),
    Step("examples/guide/commands.md", "| `--weights` | also what each kit weighs |\n", before="| `--kit 2` |"),
)
