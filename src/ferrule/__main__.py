"""`python -m ferrule`."""

from __future__ import annotations

from ferrule.cli.main import main

if __name__ == "__main__":  # the processes of the fit import this file again on some systems
    raise SystemExit(main())
