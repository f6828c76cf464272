"""Colours and the few SVG pieces that every picture is made of. Numbers are px of the viewBox."""

from __future__ import annotations

from html import escape

from ferrule.deliver.plain import clean

GROUND, INK, NOTE, HAIR = "#faf8f3", "#1f2a30", "#5f5b50", "#d9d2c3"
RUST, SLATE, OCHRE, MOSS = "#a8431a", "#2f6183", "#7d5c14", "#4c6243"
"""Strength, running, warm-up, rest: each always with a word beside it."""


def px(value: float) -> str:
    """A coordinate with at most one decimal, so that the same picture is always the same bytes."""
    text = f"{value:.1f}"
    return text[:-2] if text.endswith(".0") else text


def words(
    x: float,
    y: float,
    text: str,
    *,
    size: float = 12,
    fill: str = INK,
    anchor: str = "start",
    bold: bool = False,
    halo: bool = False,
) -> str:
    """A line of text; `anchor` start, middle or end. halo: a rim of the ground's colour, where it crosses a line."""
    weight = ' font-weight="600"' if bold else ""
    weight += f' stroke="{GROUND}" stroke-width="4" paint-order="stroke"' if halo else ""
    return (
        f'<text x="{px(x)}" y="{px(y)}" font-size="{px(size)}" fill="{fill}" text-anchor="{anchor}"{weight}>'
        f"{escape(clean(text))}</text>"
    )


def line(x1: float, y1: float, x2: float, y2: float, *, stroke: str = INK, wide: float = 1, dash: str = "") -> str:
    """A straight line; `dash` as in `stroke-dasharray`."""
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return f'<line x1="{px(x1)}" y1="{px(y1)}" x2="{px(x2)}" y2="{px(y2)}" stroke="{stroke}" stroke-width="{px(wide)}"{dashed}/>'


def rect(x: float, y: float, wide: float, high: float, *, fill: str, stroke: str = "none", opacity: float = 1) -> str:
    """A rectangle; `opacity` is that of its fill."""
    faint = f' fill-opacity="{opacity:g}"' if opacity != 1 else ""
    return (
        f'<rect x="{px(x)}" y="{px(y)}" width="{px(wide)}" height="{px(high)}" fill="{fill}" stroke="{stroke}"{faint}/>'
    )


def picture(wide: float, high: float, alt: str, *parts: str) -> str:
    """The whole SVG, named for a screen reader."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {px(wide)} {px(high)}" width="{px(wide)}" '
        f'height="{px(high)}" role="img" aria-label="{escape(clean(alt))}" font-family="system-ui, sans-serif">'
        f"{''.join(parts)}</svg>"
    )
