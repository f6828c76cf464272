"""`python -m bench [NAME ...]`: runs every module here that has `run()` and prints what it measured.

Each `run()` returns rows of (what, value, unit). A row whose unit is `x peer` or `ratio` compares with another program
or library measured in the same run on the same machine; those are the rows that travel between machines.
"""

from __future__ import annotations

import platform
import sys
import time
from importlib import import_module
from pathlib import Path

Row = tuple[str, float, str]


def modules(wanted: list[str]) -> list[str]:
    """Names of the bench modules, in the order of the alphabet; `wanted` picks some of them."""
    files = [p for p in sorted(Path(__file__).parent.glob("*.py")) if not p.stem.startswith("_")]
    found = [p.stem for p in files if "\ndef run(" in p.read_text(encoding="utf-8")]
    unknown = set(wanted) - set(found)
    if unknown:
        raise SystemExit(f"no bench named {', '.join(sorted(unknown))}; there are {', '.join(found)}")
    return [name for name in found if not wanted or name in wanted]


def main(wanted: list[str]) -> int:
    """Run and print. Returns 1 when a bench failed."""
    print(f"Python {platform.python_version()}, {platform.machine()}, {platform.system()}")
    failed = False
    for name in modules(wanted):
        start = time.perf_counter()
        try:
            rows: list[Row] = import_module(f"bench.{name}").run()
        except Exception as fault:
            print(f"\n{name}\n  failed: {type(fault).__name__}: {fault}")
            failed = True
            continue
        print(f"\n{name}  ({time.perf_counter() - start:.1f} s)")
        wide = max((len(what) for what, _, _ in rows), default=0)
        for what, value, unit in rows:
            print(f"  {what:<{wide}}  {value:>10.4g} {unit}")
    return 1 if failed else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
