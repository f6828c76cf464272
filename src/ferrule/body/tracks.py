"""How rigid pieces of a drawing travel: one turn and shift a frame, as CSS keyframes."""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import degrees, pi, tau

from ferrule.body.shapes import num

_WITHIN_M = 0.002  # pieces that keep to each other so closely are drawn as one
_SLACK_DEG = 0.12
_SLACK_M = 0.0006  # a keyframe that the ones beside it give so closely is left out

Frames = Sequence[Sequence[complex]]
"""Places of one piece, frame by frame."""


@dataclass(frozen=True, slots=True)
class Key:
    """A turn about `origin` and a shift: the piece's origin lies at `at`, m, turned by `turn_deg`, drawn out by `stretch`."""

    at: complex
    turn_deg: float
    stretch: float = 1.0

    def moved(self, point: complex, origin: complex) -> complex:
        """Where a point of the piece lies; `stretch` draws it out along the piece, which is drawn level then."""
        arm = point - origin
        return self.at + complex(arm.real * self.stretch, arm.imag) * rect(1.0, self.turn_deg * pi / 180)

    def attribute(self) -> str:
        """The same for the `transform` attribute, where nothing moves."""
        turn = f" rotate({_short(-self.turn_deg)})" if abs(self.turn_deg) >= 0.05 else ""
        drawn = f" scale({self.stretch:.3f} 1)" if abs(self.stretch - 1) >= 5e-4 else ""
        return f"translate({num(self.at.real)} {num(-self.at.imag)}){turn}{drawn}"

    def css(self) -> str:
        """The transform as the drawing has it: cm, y down, degrees clockwise."""
        turn = f"rotate({_short(-self.turn_deg)}deg)" if abs(self.turn_deg) >= 0.05 else ""
        drawn = f"scaleX({self.stretch:.3f})" if abs(self.stretch - 1) >= 5e-4 else ""
        return f"translate({num(self.at.real)}px,{num(-self.at.imag)}px){turn}{drawn}"


def _short(value: float) -> str:
    written = f"{value:.1f}".removesuffix(".0")
    return "0" if written == "-0" else written


@dataclass(frozen=True, slots=True)
class Track:
    """The way of one piece: its origin in the drawing it is taken from, and a key a frame."""

    origin: complex
    keys: tuple[Key, ...]

    @property
    def still(self) -> bool:
        """True when nothing of it is seen to move."""
        return len({key.css() for key in self.keys}) == 1

    def at(self, frame: int, point: complex) -> complex:
        return self.keys[frame].moved(point, self.origin)

    def between(self, frame: int, part: float, point: complex) -> complex:
        """Where the point is shown between two frames, as a browser blends two transforms, from what is written down."""
        a, b = (_written(self.keys[frame + i]) for i in (0, 1))
        mixed = Key((1 - part) * a.at + part * b.at, (1 - part) * a.turn_deg + part * b.turn_deg)
        return mixed.moved(point, self.origin)


def _written(key: Key) -> Key:
    return Key(complex(round(key.at.real, 3), round(key.at.imag, 3)), round(key.turn_deg, 1), key.stretch)


def track_of(frames: Frames, home: int, also: Sequence[complex] = ()) -> Track:
    """The way of a rigid piece whose first two places give its direction; one place alone only shifts.

    home  the frame the piece is drawn in;  also: further places it may turn about
    The origin is that place of the piece which travels least, so that what rests is exactly at rest.
    """
    turns = [0.0] * len(frames)
    base = frames[home]
    if len(base) > 1 and abs(base[1] - base[0]) > 1e-3:
        for i, places in enumerate(frames):
            way = phase((places[1] - places[0]) / (base[1] - base[0])) if abs(places[1] - places[0]) > 1e-3 else 0.0
            turns[i] = way if i == 0 else turns[i - 1] + (way - turns[i - 1] + pi) % tau - pi
    turns = [turn - turns[home] for turn in turns]

    def way_of(origin: complex) -> list[complex]:
        return [places[0] + (origin - base[0]) * rect(1.0, turn) for places, turn in zip(frames, turns, strict=True)]

    def travel(origin: complex) -> float:
        way = way_of(origin)
        return sum(abs(b - a) for a, b in pairwise(way))

    origin = min((*base, *also), key=travel)
    return Track(origin, tuple(Key(at, degrees(turn)) for at, turn in zip(way_of(origin), turns, strict=True)))


def rides(track: Track, frames: Frames, home: int) -> bool:
    """True when a piece keeps its place on the one whose way this is."""
    return all(
        abs(track.at(i, point) - shown) < _WITHIN_M
        for i, places in enumerate(frames)
        for point, shown in zip(frames[home], places, strict=True)
    )


def long(frames: Frames) -> float:
    """The length of a piece between its first two places where it is seen longest, m."""
    return max(abs(places[1] - places[0]) for places in frames)


def stretched(frames: Frames) -> Track:
    """The way of a piece between two places that turns and is seen shorter or longer: a string, or a limb that points
    out of the picture. It is drawn level, from its origin, as long as it ever is.
    """
    base = long(frames)
    keys: list[Key] = []
    for start, end in ((places[0], places[1]) for places in frames):
        last = keys[-1].turn_deg if keys else 0.0
        way = degrees(phase(end - start)) if abs(end - start) > 1e-3 else last
        turned = last + (way - last + 180) % 360 - 180 if keys else way
        keys.append(Key(start, turned, abs(end - start) / base))
    return Track(0j, tuple(keys))


def keyframes(track: Track, times: Sequence[float]) -> str:
    """The body of `@keyframes`; `times` in per cent, the first and the last held to the very ends."""
    kept = [0]
    for i in range(1, len(times) - 1):
        if not all(_given(track, times, kept[-1], i + 1, j) for j in range(kept[-1] + 1, i + 1)):
            kept.append(i)
    kept.append(len(times) - 1)
    rows = []
    for i in kept:
        when = f"0%,{_short(times[i])}%" if i == 0 else f"{_short(times[i])}%"
        rows.append(f"{when if i < len(times) - 1 else when + ',to'}{{transform:{track.keys[i].css()}}}")
    return "".join(rows)


def _given(track: Track, times: Sequence[float], first: int, last: int, i: int) -> bool:
    """True when frame `i` lies where an even way from `first` to `last` would put it."""
    part = (times[i] - times[first]) / (times[last] - times[first])
    a, b, key = track.keys[first], track.keys[last], track.keys[i]
    turn = a.turn_deg + part * (b.turn_deg - a.turn_deg)
    return (
        abs(a.at + part * (b.at - a.at) - key.at) < _SLACK_M
        and abs(turn - key.turn_deg) < _SLACK_DEG
        and abs(a.stretch + part * (b.stretch - a.stretch) - key.stretch) < 2e-3
    )
