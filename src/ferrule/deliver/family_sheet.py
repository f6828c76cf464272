"""Every exercise on one sheet, start and end, family by family: as one SVG, and as a PDF for print."""

from __future__ import annotations

import json
from functools import lru_cache
from importlib.resources import files

import typst

from ferrule.body.shapes import text
from ferrule.deliver.figures import Drawing, drawing
from ferrule.model.exercise import Library, Variant
from ferrule.model.words import Place

COLUMNS = 4
CELL_WIDE, CELL_HIGH, NAME_HIGH, HEAD_HIGH = 330.0, 150.0, 22.0, 44.0
"""Sizes on the SVG sheet, px. A drawing wider or higher than its cell is made smaller."""
BARE = 0.3
"""An exercise that asks less than this of its group by itself is drawn with its load: a press, a carry, a row."""


def drawn(variant: Variant) -> Drawing | None:
    """Start and end of a variant; with a load where the load is the exercise."""
    main = variant.main
    needs_load = variant.loading and (variant.pattern == "carry" or (main is not None and main.base < BARE))
    place: Place | None = variant.loading[0] if needs_load else None
    return drawing(variant, place)


def family_sheet_svg(library: Library) -> str:
    """One SVG with every exercise of the library, easier to harder from left to right."""
    pieces: list[str] = []
    y = 0.0
    for family in library.families.values():
        pieces.append(f'<text x="12" y="{y + 30:.0f}" font-size="19" font-weight="600">{text(family.name)}</text>')
        y += HEAD_HIGH
        for index, variant_id in enumerate(family.variant_ids):
            variant = library.variants[variant_id]
            x, top = (index % COLUMNS) * CELL_WIDE, y + (index // COLUMNS) * CELL_HIGH
            name = f'<text x="{x + 12:.0f}" y="{top + 13:.0f}" font-size="12">{text(variant.name)}</text>'
            pieces.append(name + _placed(drawn(variant), x + 12, top + NAME_HIGH))
        y += -(-len(family.variant_ids) // COLUMNS) * CELL_HIGH
    wide = COLUMNS * CELL_WIDE
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 {wide:.0f} {y:.0f}" width="{wide:.0f}" '
        f'height="{y:.0f}" font-family="serif" fill="#1f2a30"><title>{len(library.variants)} exercises in '
        f"{len(library.families)} families, easier to harder</title>"
        f'<rect width="100%" height="100%" fill="#fff"/>{"".join(pieces)}</svg>'
    )


def _placed(found: Drawing | None, x: float, y: float) -> str:
    """A drawing at a place of the sheet, made smaller when it is larger than its cell; "" without one."""
    if found is None:
        return ""
    wide, high = _fitted(found)
    head = f'<svg x="{x:.0f}" y="{y:.0f}" '
    svg = found.svg.replace('<svg xmlns="http://www.w3.org/2000/svg" role="img" ', head, 1)
    start = svg.index(' width="')
    end = svg.index(">", start)
    return f'{svg[:start]} width="{wide:.0f}" height="{high:.0f}"{svg[end:]}'


def _fitted(found: Drawing) -> tuple[float, float]:
    scale = min(1.0, (CELL_WIDE - 24) / found.width, (CELL_HIGH - NAME_HIGH - 10) / found.height)
    return found.width * scale, found.height * scale


@lru_cache(maxsize=1)
def _compiler() -> typst.Compiler:
    template = str(files("ferrule.deliver").joinpath("family_sheet.typ"))
    return typst.Compiler(template, font_paths=typst.Fonts(include_system_fonts=False))


def family_sheet_pdf(library: Library) -> bytes:
    """The same as PDF/UA-1 on A4: each picture with its words. Raises RuntimeError when the template fails."""
    families = [
        {
            "name": family.name,
            "order": family.order_source,
            "variants": [_cell(library.variants[i]) for i in family.variant_ids],
        }
        for family in library.families.values()
    ]
    title = f"{len(library.variants)} exercises in {len(library.families)} families, easier to harder"
    data = json.dumps({"title": title, "families": families}, ensure_ascii=False)
    pdf, warnings = _compiler().compile_with_warnings(sys_inputs={"data": data}, pdf_standards=["ua-1"])
    if warnings or not isinstance(pdf, bytes):
        raise RuntimeError("; ".join(str(w) for w in warnings) or "the compiler gave no single file")
    return pdf


def _cell(variant: Variant) -> dict[str, object]:
    found = drawn(variant)
    if found is None:
        return {"name": variant.name, "svg": "", "alt": "", "wide": 0, "high": 0}
    wide, high = _fitted(found)
    return {"name": variant.name, "svg": found.svg, "alt": found.alt, "wide": wide, "high": high}
