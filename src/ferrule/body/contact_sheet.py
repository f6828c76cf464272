"""Many figures on one sheet, for looking them over."""

from __future__ import annotations

from collections.abc import Sequence

from ferrule.body.figure import HEIGHT_PX, drawing, solved
from ferrule.body.posture import NoSuchPosture
from ferrule.body.shapes import FLOOR, line, num, text
from ferrule.model.pose import Movement
from ferrule.model.words import Place

_COLUMNS = 5
_WIDE, _HIGH = 2.5, 2.3  # m a cell


def contact_sheet(entries: Sequence[tuple[str, Movement, Place | None]], columns: int = _COLUMNS) -> str:
    """One SVG with a named figure a cell; a pose that cannot be taken shows its reason."""
    cells = []
    for i, (name, movement, place) in enumerate(entries):
        x, y = (i % columns) * _WIDE, (i // columns + 1) * _HIGH
        try:
            one = drawing(solved(movement, "hold", place), place)
            middle = (one.box[0] + one.box[2]) / 2
            inner = f'<g transform="translate({num(_WIDE / 2 - middle)} 0)">{one.pieces}</g>'
        except NoSuchPosture as reason:
            inner = f'<text x="10" y="-40" font-size="8">{text(str(reason))}</text>'
        floor = line((0.1 + 0j, _WIDE - 0.1 + 0j), FLOOR, 0.015)
        label = f'<text x="10" y="16" font-size="11">{text(name)}</text>'
        cells.append(f'<g transform="translate({num(x)} {num(y - 0.3)})">{floor}{inner}{label}</g>')
    width = min(len(entries), columns) * _WIDE
    height = -(-len(entries) // columns) * _HIGH
    scale = HEIGHT_PX / 190
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 {num(width)} {num(height)}" '
        f'width="{width * 100 * scale:.0f}" height="{height * 100 * scale:.0f}" font-family="sans-serif">'
        f"<title>Figures</title>{''.join(cells)}</svg>"
    )
