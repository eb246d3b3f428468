"""`kitwright shelf …`: the commands for whoever keeps the catalogue. Imports nothing heavy: help answers at once."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from configurator.cli.completion import part_ids
from configurator.cli.options import Folder, Json

app = typer.Typer(
    no_args_is_help=True,
    rich_markup_mode=None,
    help="For whoever keeps the catalogue: what is on the shelf, what is wrong with it, prices, gaps.",
)


@app.command("list")
def list_(
    kind: Annotated[str | None, typer.Argument(metavar="KIND", help="core, exchanger, pump, hose …")] = None,
    in_stock: Annotated[
        bool, typer.Option("--in-stock", help="Leave out what has a stock of 0, as in_stock of a brief does.")
    ] = False,
    under: Annotated[float | None, typer.Option(metavar="PRICE", min=0, help="Only what costs less than this.")] = None,
    as_json: Json = False,
    catalogue: Folder = None,
) -> None:
    """List the parts of the shelf with price, stock and the figures by which they are told apart.

    Examples:

      kitwright shelf list

      kitwright shelf list pump --in-stock --under 150
    """
    from configurator.cli import shelf_list_command

    raise typer.Exit(shelf_list_command.list_parts(kind, catalogue, in_stock=in_stock, under=under, as_json=as_json))


@app.command()
def show(
    part: Annotated[str, typer.Argument(metavar="PART", autocompletion=part_ids, help="The id of a part.")],
    draw: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write a drawing of its box and ends as SVG.")
    ] = None,
    sketch: Annotated[bool, typer.Option("--sketch", help="Also sketch its box in letters.")] = False,
    force: Annotated[bool, typer.Option("--force", help="Let --draw replace a file that is there.")] = False,
    as_json: Json = False,
    catalogue: Folder = None,
) -> None:
    """Tell everything that is known of a part: box, ends, ratings, performance with its band, what it can join.

    Examples:

      kitwright shelf show core-230-short

      kitwright shelf show pump-50-medium --draw pump.svg
    """
    from configurator.cli import shelf_show_command

    raise typer.Exit(
        shelf_show_command.show_part(part, catalogue, draw=draw, sketch=sketch, force=force, as_json=as_json)
    )


@app.command()
def check(as_json: Json = False, catalogue: Folder = None) -> None:
    """Say everything that is wrong with a catalogue folder, each with its file, line and column.

    First what keeps it from being loaded (exit code 3). Then what loading does not see (exit code 1): measured points
    out of reach or not met, ends that nothing on the shelf goes on, no rating, no price, no stock.

    Examples:

      kitwright shelf check

      kitwright shelf check --catalogue my-shelf
    """
    from configurator.cli import shelf_check_command

    raise typer.Exit(shelf_check_command.check_shelf(catalogue, as_json=as_json))


@app.command()
def prices(
    price_list: Annotated[
        Path, typer.Argument(metavar="LIST", readable=False, help="The supplier's list: .csv (UTF-8) or .xlsx.")
    ],
    price_map: Annotated[
        Path,
        typer.Option("--map", metavar="FILE", readable=False, help="What its columns stand for, a YAML file."),
    ],
    write: Annotated[
        bool, typer.Option("--write", help="Change the files of the catalogue; else the changes are only told.")
    ] = False,
    as_json: Json = False,
    catalogue: Folder = None,
) -> None:
    """Take a supplier's prices, stocks and lead times into the catalogue: first as a table, with --write for good.

    Everything else in the files stays byte for byte as it is. What they were is kept in a folder backup-1 (2, 3, …).

    Examples:

      kitwright shelf prices list.csv --map supplier.yaml --catalogue my-shelf

      kitwright shelf prices list.csv --map supplier.yaml --catalogue my-shelf --write

    A map:

      decimal: comma

      columns: {id: Part no, price: Net, stock: Qty}
    """
    from configurator.cli import shelf_prices_command

    raise typer.Exit(
        shelf_prices_command.take_in(price_list, price_map, catalogue, write=write, as_json=as_json)
    )


@app.command()
def gaps(
    briefs: Annotated[list[Path], typer.Argument(metavar="BRIEF", readable=False, help="Briefs, folders of them.")],
    candidates: Annotated[
        Path,
        typer.Option(metavar="FILE", readable=False, help="A file of parts, written as the catalogue writes them."),
    ],
    as_json: Json = False,
    catalogue: Folder = None,
) -> None:
    """Say which briefs this shelf has no kit for, and which one candidate would serve the most of them.

    Every brief is searched, and each without a kit once more with each candidate: that takes its time.

    Examples:

      kitwright shelf gaps enquiries --candidates new-parts.yaml

      kitwright shelf gaps a.yaml b.yaml --candidates new-parts.yaml --catalogue my-shelf
    """
    from configurator.cli import shelf_gaps_command

    raise typer.Exit(shelf_gaps_command.run(briefs, candidates, catalogue, as_json=as_json))


@app.command()
def add(
    kind: Annotated[str, typer.Argument(metavar="KIND", help="core, exchanger, pump, hose …")],
    answers: Annotated[
        Path | None, typer.Option("--from", metavar="FILE", readable=False, help="A file describing the part.")
    ] = None,
    new: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write such a file to fill in, and stop.")
    ] = None,
    like: Annotated[
        str | None, typer.Option(metavar="PART", help="The id of the part that --new and the questions go by.")
    ] = None,
    catalogue: Folder = None,
) -> None:
    """Add a part to the catalogue: from a file, or by questions. It is checked before anything is written.

    Examples:

      kitwright shelf add pump --new my-pump.yaml --like pump-50-medium

      kitwright shelf add pump --from my-pump.yaml --catalogue my-shelf

      kitwright shelf add hose --catalogue my-shelf
    """
    from configurator.cli import shelf_add_command

    raise typer.Exit(shelf_add_command.run(kind, answers, new, like, catalogue))
