"""Where the program is put together: the ``ramwright`` command."""

from __future__ import annotations

import sys

from ramwright import cli


def main() -> None:
    """Run the command line and leave with its status."""
    sys.exit(cli.run(sys.argv[1:]))
