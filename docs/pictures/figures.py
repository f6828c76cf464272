"""Every figure of the library on one sheet, SVG and PDF: `python docs/pictures/figures.py OUT`.

A cell holds both ends of a repetition with the first load it can take; `--frames` draws the way between them instead.
"""

from __future__ import annotations

import sys
from pathlib import Path

import typst

from ferrule.body.contact_sheet import contact_sheet, film
from ferrule.library.reader import load_library

_PAGE = '#set page(width: {width}pt, height: {height}pt, margin: 0pt)\n#image("{name}", width: 100%)\n'


def pdf_of(svg: Path) -> bytes:
    """One page as large as the drawing, half a point a pixel."""
    head = svg.read_text(encoding="utf-8")[:400]
    width, height = (float(head.partition(f' {key}="')[2].partition('"')[0]) / 2 for key in ("width", "height"))
    page = svg.with_suffix(".typ")
    page.write_text(_PAGE.format(width=width, height=height, name=svg.name), encoding="utf-8")
    try:
        return typst.compile(page)
    finally:
        page.unlink()


def main(out: Path, frames: bool) -> None:
    """Write figures.svg and figures.pdf (or frames.svg and frames.pdf) into `out`."""
    variants = load_library()[0].variants.values()
    entries = [(v.name, v.movement, v.loading[0] if v.loading else None) for v in variants if v.movement is not None]
    out.mkdir(parents=True, exist_ok=True)
    svg = out / ("frames.svg" if frames else "figures.svg")
    svg.write_text(film(entries) if frames else contact_sheet(entries), encoding="utf-8")
    svg.with_suffix(".pdf").write_bytes(pdf_of(svg))


if __name__ == "__main__":
    main(Path(sys.argv[1]), "--frames" in sys.argv[2:])
