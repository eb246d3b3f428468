"""Lets `python -m configurator` work as `kitwright` does."""

from configurator.cli.start import run

if __name__ == "__main__":
    run()
