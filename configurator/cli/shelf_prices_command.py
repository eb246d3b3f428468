"""`kitwright shelf prices`: read the list, compare, show; write where that is asked."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from configurator.cli import exit_codes
from configurator.cli.told import as_word, named, usage
from configurator.files.find_catalogue import ENVIRONMENT_VARIABLE, find_catalogue
from configurator.files.load_catalogue import load_catalogue
from configurator.files.price_list import load_price_list
from configurator.files.price_map import load_price_map
from configurator.files.write_prices import write_prices
from configurator.presentation.shelf_prices_json import shelf_prices_json
from configurator.presentation.shelf_prices_text import shelf_prices_text
from configurator.questions.shelf_prices import price_changes


def take_in(price_list: Path, price_map: Path, catalogue_folder: Path | None, *, write: bool, as_json: bool) -> int:
    """Do what `shelf prices` asks and return its exit code. Raises BadInput with every problem of map or list."""
    if write and catalogue_folder is None and not os.environ.get(ENVIRONMENT_VARIABLE):
        return usage("--write changes files: name the folder with --catalogue DIR")
    folder = find_catalogue(catalogue_folder)
    catalogue, _ = load_catalogue(folder)
    found = price_changes(load_price_list(price_list, load_price_map(price_map, catalogue)), catalogue)
    backup = write_prices(folder, found.changes) if write else None
    told = None if backup is None else str(backup)
    if as_json:
        sys.stdout.write(shelf_prices_json(found, told) + "\n")
        return exit_codes.ALL_WELL
    command = f"kitwright shelf prices {as_word(price_list)} --map {as_word(price_map)}"
    following = f"{command} --write{named(catalogue_folder) or ' --catalogue DIR'}"
    if told is not None or not found.changes:
        following = f"kitwright shelf check{named(catalogue_folder)}"
    sys.stdout.write(shelf_prices_text(found, told, following, asked_to_write=write))
    return exit_codes.ALL_WELL
