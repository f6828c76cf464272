"""`python -m ferrule`."""

from __future__ import annotations

from ferrule.cli.main import main

raise SystemExit(main())
