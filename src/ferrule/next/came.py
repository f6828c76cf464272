"""What came of a sent week: each session done, in part, not at all or not told; and which silence it is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from ferrule.fit.growth import base_key
from ferrule.model.entry import LoggedSet, TimeAway
from ferrule.model.fact import Decided, Entry, SessionTold, WeekTold
from ferrule.model.fitted import FittedWeek
from ferrule.model.house import House
from ferrule.record.standing import day_of, sessions_of, sets_of, standing_of, weeks_of

Outcome = Literal["did", "part", "none", "not told"]
Silence = Literal["", "did and did not say", "did not do", "gone", "never told"]
""""": enough was told. never told: this runner has told nothing yet, so nothing can be read from it."""


@dataclass(frozen=True, slots=True)
class Came:
    """One sent week.

    outcomes   by written session key, the best of its times;  told: sessions of which sets were told
    last_word  the last day of which this runner told anything, before the week that is planned
    """

    monday: date
    outcomes: Mapping[str, Outcome]
    told: frozenset[str]
    silence: Silence
    last_word: date | None
    week: WeekTold | None = None

    @property
    def missed(self) -> bool:
        """Nothing of the week was done, and that was told."""
        return bool(self.outcomes) and all(o == "none" for o in self.outcomes.values())


_BEST: tuple[Outcome, ...] = ("did", "part", "not told", "none")


def came_of(
    last: FittedWeek,
    entries: Iterable[Entry],
    runner_id: str,
    house: House,
    monday: date,
    aways: Iterable[TimeAway] = (),
) -> Came:
    """What came of `last`, as known before the Monday `monday`.

    A session is done when it was told, or sets of it were; sets without a word on the session are part of it until all
    its lines are there. Of sessions that nobody told, the weekly question tells: all did them, none did not.
    """
    own = standing_of(entries, runner_id)
    inside = {last.monday + timedelta(days=n) for n in range(7)}
    said = [s for s in sessions_of(own, runner_id) if s.day in inside and s.day < monday]
    sets = [s for s in sets_of(own, runner_id) if s.day in inside and s.day < monday and s.outcome != "not said"]
    week = next((w for w in reversed(weeks_of(own, runner_id)) if w.monday == last.monday), None)
    outcomes: dict[str, Outcome] = {}
    for session in last.sessions:
        lines = {i.item_key for b in session.blocks if b.kind not in ("warm-up", "cool-down") for i in b.items}
        here = _session(session.key, lines, said, sets)
        if here == "not told" and week is not None:
            here = {"all": "did", "none": "none", "some": "not told"}[week.did]  # type: ignore[assignment]
        key = base_key(session.key)
        known = outcomes.get(key)
        outcomes[key] = here if known is None else min(known, here, key=_BEST.index)
    words = [day_of(e.fact) for e in own if not isinstance(e.fact, Decided | TimeAway)]
    last_word = max((d for d in words if d < monday), default=None)
    told = frozenset(base_key(s.session_key) for s in sets)
    away = any(a.first < monday and a.last >= monday - timedelta(days=int(house.value("silent-days"))) for a in aways)
    return Came(
        last.monday, outcomes, told, _silence(outcomes, told, last_word, monday, house, away=away), last_word, week
    )


def _session(key: str, lines: set[str], said: Iterable[SessionTold], sets: Iterable[LoggedSet]) -> Outcome:
    """What was told of one time of a session; a key of its written session counts for it too."""
    own = [s for s in said if s.session_key in (key, base_key(key))]
    if own:
        return min((s.outcome for s in own), key=_BEST.index)
    done = {s.item_key for s in sets if s.session_key in (key, base_key(key))}
    if not done:
        return "not told"
    return "did" if lines <= done else "part"


def _silence(
    outcomes: Mapping[str, Outcome],
    told: frozenset[str],
    last_word: date | None,
    monday: date,
    house: House,
    *,
    away: bool,
) -> Silence:
    if last_word is None:
        return "never told"
    if not away and (monday - last_word).days > house.value("silent-days"):
        return "gone"
    known = set(outcomes.values())
    if known and known <= {"none"}:
        return "did not do"
    return "did and did not say" if not told and known & {"did", "part", "not told"} else ""
