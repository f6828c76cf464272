"""The library: loading it, working every demand out anew, and drawing every figure, beside a bare read of its data."""

from __future__ import annotations

import subprocess
import sys
import time
import tomllib

import msgspec

from ferrule.deliver.family_sheet import family_sheet_pdf, family_sheet_svg
from ferrule.library import computed, reader
from ferrule.library.build import build
from ferrule.library.proof import prove

TURNS = 7
COLD = """
from ferrule.library import computed
from ferrule.library.build import build
from ferrule.body.figure import both_ends
for v in build(computed.built_in_texts()).built.variants:
    if v.movement is not None:
        both_ends(v.movement, title=v.name)
"""


def _best_ms(work: object, turns: int = TURNS) -> float:
    best = float("inf")
    for _ in range(turns):
        start = time.process_time()
        work()  # type: ignore[operator]
        best = min(best, time.process_time() - start)
    return 1000 * best


def _load() -> None:
    reader.built_in.cache_clear()
    reader.stored_built.cache_clear()
    reader.load_library()


def _cold_s() -> float:
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", COLD], check=True)
    return time.perf_counter() - start


def run() -> list[tuple[str, float, str]]:
    """(what, number, unit) lines. The goal is under 2 s for all demands and figures in a fresh process."""
    texts = computed.built_in_texts()
    library, _ = reader.load_library()
    stored = computed.stored()
    peer = _best_ms(lambda: msgspec.json.decode(stored))
    toml = _best_ms(lambda: [tomllib.loads(t.decode()) for t in texts.values()])
    load = _best_ms(_load)
    return [
        ("exercises", len(library.variants), ""),
        ("msgspec decodes the stored library, untyped", peer, "ms"),
        ("tomllib reads the family files", toml, "ms"),
        ("load_library from the stored demands: what a fit pays, once a process", load, "ms"),
        ("load_library, times the untyped decode", load / peer, "x peer"),
        ("every demand worked out anew", _best_ms(lambda: build(texts), 2), "ms"),
        ("every figure drawn on one SVG, drawings kept", _best_ms(lambda: family_sheet_svg(library)), "ms"),
        ("the same as PDF", _best_ms(lambda: family_sheet_pdf(library), 3), "ms"),
        ("library --check", _best_ms(lambda: prove(library, {}), 3), "ms"),
        ("demands and figures of all, fresh process, wall time (goal 2 s)", min(_cold_s() for _ in range(2)), "s"),
    ]


if __name__ == "__main__":
    for what, number, unit in run():
        print(f"{number:8.2f} {unit:6} {what}")
