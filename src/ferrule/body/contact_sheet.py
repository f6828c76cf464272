"""Many figures on one sheet, for looking them over."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ferrule.body.figure import HEIGHT_PX, begins_at_hold, drawing, pair, solved
from ferrule.body.motion import motion_of
from ferrule.body.posture import NoSuchPosture
from ferrule.body.props import Box
from ferrule.body.shapes import FLOOR, line, num, text
from ferrule.model.pose import Movement
from ferrule.model.words import Place

Entry = tuple[str, Movement, Place | None]
_HIGH = 2.5  # m a cell
_STEPS = (0.0, 0.25, 0.5, 0.75, 1.0)


def contact_sheet(entries: Sequence[Entry], columns: int = 4) -> str:
    """One SVG with both ends of a named movement in a cell; a pose that cannot be taken shows its reason."""
    return _sheet(entries, columns, 5.2, _ends)


def film(entries: Sequence[Entry], columns: int = 2) -> str:
    """One SVG with five postures on the way of a movement in a cell, one when it is held."""
    return _sheet(entries, columns, 11.5, _way)


def _ends(movement: Movement, place: Place | None) -> tuple[str, Box]:
    if movement.other is None:
        one = drawing(solved(movement, "hold", place), place)
        return one.pieces, one.box
    pieces, box, _, _ = pair(movement, place)
    return pieces, box


def _way(movement: Movement, place: Place | None) -> tuple[str, Box]:
    if movement.other is None:
        return _ends(movement, place)
    way = motion_of(movement, place)
    pieces, right, top = "", 0.0, 0.0
    for t in reversed(_STEPS) if begins_at_hold(movement) else _STEPS:
        one = drawing(way.at(t), place, way.end)
        pieces += f'<g transform="translate({num(right - one.box[0])} 0)">{one.pieces}</g>'
        right += one.box[2] - one.box[0] + 0.15
        top = max(top, one.box[3])
    return pieces, (0.0, 0.0, right, top)


def _sheet(
    entries: Sequence[Entry], columns: int, wide: float, draw: Callable[[Movement, Place | None], tuple[str, Box]]
) -> str:
    cells = []
    for i, (name, movement, place) in enumerate(entries):
        x, y = (i % columns) * wide, (i // columns + 1) * _HIGH
        try:
            pieces, box = draw(movement, place)
            inner = f'<g transform="translate({num(wide / 2 - (box[0] + box[2]) / 2)} 0)">{pieces}</g>'
        except NoSuchPosture as reason:
            inner = f'<text x="10" y="-40" font-size="8">{text(str(reason))}</text>'
        floor = line((0.1 + 0j, wide - 0.1 + 0j), FLOOR, 0.015)
        label = f'<text x="10" y="14" font-size="11">{text(name)}</text>'
        cells.append(f'<g transform="translate({num(x)} {num(y - 0.2)})">{floor}{inner}{label}</g>')
    width = min(len(entries), columns) * wide
    height = -(-len(entries) // columns) * _HIGH
    scale = HEIGHT_PX / 190
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 {num(width)} {num(height)}" '
        f'width="{width * 100 * scale:.0f}" height="{height * 100 * scale:.0f}" font-family="sans-serif">'
        f"<title>Figures</title>{''.join(cells)}</svg>"
    )
