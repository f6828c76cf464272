"""`python -m ferrule.library.compute`: works the built-in library out anew and stores it."""

from __future__ import annotations

import sys
from pathlib import Path

from ferrule.library.build import build
from ferrule.library.computed import STORED, built_in_texts, digest, write

FOLDER = Path(__file__).parent / "families"


def main() -> int:
    """Write `families/computed.json`; 1 when the families have findings, which are then printed."""
    texts = built_in_texts()
    read = build(texts)
    for finding in read.findings:
        sys.stderr.write(f"{finding.span} {finding.level}[{finding.code}] {finding.what}; {finding.fix}\n")
    (FOLDER / STORED).write_bytes(write(read.built, digest(texts)))
    sys.stderr.write(f"{len(read.built.variants)} variants in {len(read.built.families)} families\n")
    return 1 if read.findings else 0


if __name__ == "__main__":
    sys.exit(main())
