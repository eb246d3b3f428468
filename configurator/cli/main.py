"""The commands. Imports nothing heavy: help answers at once."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from configurator import __version__
from configurator.cli import shelf
from configurator.cli.ask_flags import ask
from configurator.cli.completion import part_ids
from configurator.cli.options import BriefFile, Folder, Json, NoWaysOut, TimeLimit
from configurator.cli.progress import meanwhile, progress
from configurator.cli.start import HELP, TAKES_TIME

app = typer.Typer(
    add_completion=True,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": list(HELP)},
    help="Suggests complete liquid charge-air cooling kits that join, hold their pressure, fit the bay and keep the "
    "charge cool.",
)
app.add_typer(shelf.app, name="shelf")


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"kitwright {__version__}")
        raise typer.Exit


@app.callback()
def _common(
    context: typer.Context,
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Say the version.")
    ] = False,
) -> None:
    if context.invoked_subcommand in TAKES_TIME:
        progress("")  # no longer `starting`: a wrong option is told on a line of its own


@app.command()
def suggest(
    briefs: Annotated[
        list[Path] | None,
        typer.Argument(metavar="BRIEF", readable=False, help="A customer's brief; several are answered in turn."),
    ] = None,
    catalogue: Folder = None,
    order: Annotated[str, typer.Option(metavar="ORDER", help="default, margin, clearance, price or mass.")] = "default",
    top: Annotated[int, typer.Option(metavar="N", min=1, max=1000, help="How many kits to tell.")] = 5,
    all_variants: Annotated[
        bool, typer.Option("--all-variants", help="Every kit, not one per core + exchanger.")
    ] = False,
    no_ways_out: NoWaysOut = False,
    time_limit: TimeLimit = None,
    proof: Annotated[
        bool, typer.Option("--proof", help="Look for the best alone, and tell why nothing better was missed.")
    ] = False,
    front: Annotated[
        bool, typer.Option("--front", help="The kits that no other beats on margin, room, price and mass at once.")
    ] = False,
    wide: Annotated[
        bool, typer.Option("--wide", help="Also the bill, the joints and every part left out.")
    ] = False,
    as_json: Json = False,
    fits_only: Annotated[
        bool, typer.Option("--fits-only", help="Only which part goes in which gap, and which way round.")
    ] = False,
    trace: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write the course of the kit through the drive as CSV.")
    ] = None,
    bill: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Write the bill of the kit as CSV, or as a spreadsheet into FILE.xlsx."),
    ] = None,
    draw: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write a drawing of the kit in its bay as SVG, true to scale.")
    ] = None,
    chart: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write the temperatures of the kit over the drive as SVG.")
    ] = None,
    sketch: Annotated[bool, typer.Option("--sketch", help="Also sketch the kit in its bay, in letters.")] = False,
    improve: Annotated[
        bool, typer.Option("--improve", help="Also what each single change of the kit buys, and what buys nothing.")
    ] = False,
    kit: Annotated[
        int, typer.Option(metavar="N", min=1, help="Which kit is told in full, written, drawn, charted and changed.")
    ] = 1,
    force: Annotated[
        bool, typer.Option("--force", help="Let --trace, --bill, --draw, --chart, --schemas replace what is there.")
    ] = False,
    new: Annotated[Path | None, typer.Option(metavar="FILE", help="Write a brief to fill in, and stop.")] = None,
    schemas: Annotated[
        Path | None, typer.Option(metavar="DIR", help="Write JSON schemas for an editor into this folder, and stop.")
    ] = None,
) -> None:
    """Suggest complete kits for a brief, best first.

    Examples:

      kitwright suggest --new my-car.yaml

      kitwright suggest my-car.yaml

      kitwright suggest my-car.yaml --fits-only

      kitwright suggest my-car.yaml --wide --order price --catalogue my-shelf

      kitwright suggest my-car.yaml --draw my-car.svg

      kitwright suggest my-car.yaml --improve

      kitwright suggest monday/*.yaml --json
    """
    with meanwhile("starting"):
        from configurator.cli import suggest_command

    asked = suggest_command.Asked(
        catalogue=catalogue,
        order=order,
        top=top,
        all_variants=all_variants,
        no_ways_out=no_ways_out,
        time_limit=time_limit,
        proof=proof,
        front=front,
        wide=wide,
        as_json=as_json,
        fits_only=fits_only,
        trace=trace,
        bill=bill,
        draw=draw,
        chart=chart,
        force=force,
        sketch=sketch,
        improve=improve,
        kit=kit,
    )
    raise typer.Exit(suggest_command.run(briefs or [], asked, new=new, schemas=schemas))


app.command()(ask)


@app.command(context_settings={"ignore_unknown_options": True})
def mate(
    first: Annotated[str, typer.Argument(metavar="END", help="form:size[:sex][:swivel|bead|barb|plain][:profile]")],
    second: Annotated[str, typer.Argument(metavar="END", help="The other end.")],
    boost: Annotated[str | None, typer.Option(metavar="FIGURE", help="Boost at a charge joint, as '1.4 bar'.")] = None,
    medium: Annotated[str | None, typer.Option(metavar="MEDIUM", help="coolant, charge or fuel.")] = None,
    hottest: Annotated[
        str | None, typer.Option(metavar="FIGURE", help="The hottest that flows there, as '110 degC'.")
    ] = None,
    pressure: Annotated[
        str | None, typer.Option(metavar="FIGURE", help="The most that coolant or fuel may reach there, as '1.5 bar'.")
    ] = None,
    suction: Annotated[bool, typer.Option("--suction", help="Before the pump, or after the throttle.")] = False,
    catalogue: Folder = None,
    as_json: Json = False,
) -> None:
    """Say whether two ends go together, why, what would happen, and what to buy.

    Examples:

      kitwright mate orb:-10:male flare37:-10:female:swivel

      kitwright mate coupler:63.5mm spigot:63.5mm:bead --boost "1.5 bar"

    Forms: orb, flare37, flare45, orfs, npt, g, r, rc, rp, metric, metric-flat, hose, spigot, coupler, neck,
    qc-coolant, qc-fuel, vband, flange, unknown.
    """
    from configurator.cli import mate_command

    raise typer.Exit(
        mate_command.run(first, second, boost, medium, hottest, pressure, catalogue, suction=suction, as_json=as_json)
    )


@app.command()
def check(
    kit: Annotated[
        Path, typer.Argument(metavar="KIT", readable=False, help="The parts that there are, a YAML file.")
    ],
    brief: Annotated[
        Path | None, typer.Option(metavar="BRIEF", readable=False, help="The car they are for: adds heat and fit.")
    ] = None,
    catalogue: Folder = None,
    as_json: Json = False,
    wide: Annotated[bool, typer.Option("--wide", help="Also what no shelf has: brackets, sensors, bleeds.")] = False,
    commission: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write the commissioning sheet as an HTML page to print.")
    ] = None,
    improve: Annotated[
        bool, typer.Option("--improve", help="Also what each single change of these parts buys in the car of --brief.")
    ] = False,
    force: Annotated[bool, typer.Option("--force", help="Let --commission replace a file that is there.")] = False,
) -> None:
    """Say whether parts go together, which one limits the pressure, and what they need between them.

    Examples:

      kitwright check examples/kits/good.yaml

      kitwright check my-parts.yaml --brief my-car.yaml
    """
    with meanwhile("starting"):
        from configurator.cli import check_command

    raise typer.Exit(
        check_command.run(
            kit, brief, catalogue, as_json=as_json, wide=wide, commission=commission, improve=improve, force=force
        )
    )


@app.command()
def why(
    brief: BriefFile,
    parts: Annotated[
        list[str] | None,
        typer.Argument(metavar="PART", autocompletion=part_ids, help="Ids of parts; none: every part that is out."),
    ] = None,
    first: Annotated[
        bool, typer.Option("--first", help="Why kit 1 stands first, and what would put another kit there.")
    ] = False,
    catalogue: Folder = None,
    as_json: Json = False,
) -> None:
    """Say why a part is in no kit for a brief and what would have to change, or what stands before it.

    Examples:

      kitwright why my-car.yaml

      kitwright why my-car.yaml core-230-short pump-50-medium

      kitwright why my-car.yaml --first
    """
    with meanwhile("starting"):
        from configurator.cli import why_command

    raise typer.Exit(why_command.run(brief, parts or [], catalogue, first=first, as_json=as_json))


@app.command()
def sheet(
    brief: BriefFile,
    output: Annotated[Path, typer.Option("--output", "-o", metavar="FILE", help="The HTML page to write.")],
    kit: Annotated[int, typer.Option(metavar="N", min=1, max=1000, help="Of which kit the sheet is.")] = 1,
    catalogue: Folder = None,
    no_ways_out: NoWaysOut = False,
    time_limit: TimeLimit = None,
    improve: Annotated[
        bool, typer.Option("--improve", help="Also what each single change of the kit buys.")
    ] = False,
    mail: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Also write a draft e-mail with sheet and bill (.eml); nothing is sent."),
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Let page and draft replace files that are there.")] = False,
) -> None:
    """Write one page to leave with: the answer, the kit in its bay, its bill and joints, first start and cautions.

    Examples:

      kitwright sheet my-car.yaml -o my-car.html

      kitwright sheet my-car.yaml --kit 2 -o second.html
    """
    with meanwhile("starting"):
        from configurator.cli import sheet_command

    raise typer.Exit(
        sheet_command.run(
            brief,
            output,
            catalogue,
            number=kit,
            force=force,
            no_ways_out=no_ways_out,
            time_limit=time_limit,
            improve=improve,
            mail=mail,
        )
    )
