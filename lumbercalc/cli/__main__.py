"""Run the command line: python -m lumbercalc.cli."""

from lumbercalc.cli import app

if __name__ == "__main__":
    app()
