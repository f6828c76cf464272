"""How the demo's sheets fall on their pages: two each, what to stop for whole on the first, no session cut."""

import io
from dataclasses import replace
from datetime import date
from functools import lru_cache
from importlib.resources import files

import pypdf

from ferrule.check.house import read_house
from ferrule.deliver import cautions, sample
from ferrule.deliver.session_words import session_title
from ferrule.deliver.sheet import sheet_pdf
from ferrule.fit.squad import fit_squad
from ferrule.library.reader import load_library
from ferrule.model.fitted import FittedBlock, FittedWeek
from ferrule.programme.reader import read_programme
from ferrule.squad.reader import read_squad

LIBRARY, _ = load_library()
LEAST_PT = 9.0


@lru_cache(maxsize=1)
def _weeks() -> tuple[FittedWeek, ...]:
    demo = files("ferrule.demo")
    programme, _ = read_programme(demo.joinpath("programme.md").read_bytes(), "programme.md", LIBRARY)
    squad, _ = read_squad(demo.joinpath("squad.csv").read_bytes(), "squad.csv", LIBRARY)
    house, _ = read_house(demo.joinpath("house.toml").read_bytes(), "house.toml")
    fitted = fit_squad(programme, squad, LIBRARY, house, date(2026, 1, 19))
    return tuple(o for o in fitted.outcomes if isinstance(o, FittedWeek))


def _reader(week: FittedWeek) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(sheet_pdf(week, LIBRARY, sample.HOUSE, draft=False, copy_id="2f9c")))


def _pages(week: FittedWeek) -> list[str]:
    return [" ".join(p.extract_text().split()) for p in _reader(week).pages]


def test_every_runner_of_the_demo_gets_two_pages_and_no_session_is_cut() -> None:
    assert sum(len(w.sessions) == 3 for w in _weeks()) >= 15
    for week in _weeks():
        pages = _pages(week)
        assert len(pages) == 2, week.runner_id
        for said in (cautions.RED_FLAG_HEAD, *cautions.RED_FLAGS, cautions.RED_FLAG_TAIL, cautions.PURPOSE):
            assert said in pages[0], week.runner_id
        heads = [session_title(s) for s in week.sessions]
        for session, head in zip(week.sessions, heads, strict=True):
            (page,) = (p for p in pages if head in p)
            for block in session.blocks:
                for item in block.items:
                    assert item.name in page, (week.runner_id, head, item.name)


def test_no_letter_is_smaller_than_nine_points() -> None:
    sizes: set[float] = set()

    def see(text: str, _cm: object, matrix: list[float], _font: object, size: float) -> None:
        if text.strip():
            sizes.add(abs(round(size * matrix[3], 1)))

    for page in _reader(_weeks()[0]).pages:
        page.extract_text(visitor_text=see)
    assert min(sizes) >= LEAST_PT


def _long_week(items: int) -> FittedWeek:
    week = sample.week()
    line = sample.step_up()
    many = tuple(replace(line, item_key=f"A{n}") for n in range(1, items + 1))
    block = FittedBlock("circuit", "A", 4, None, None, many)
    return replace(week, sessions=(replace(week.sessions[0], blocks=(block,)),))


def test_a_block_longer_than_a_page_goes_on_between_items_and_says_its_head_again() -> None:
    pages = _pages(_long_week(24))
    assert len(pages) >= 2
    assert all("Circuit A, 4 rounds" in p for p in pages)
    assert sum(p.count("Stop at 7 each side, sooner if only 2 good ones are left.") for p in pages) == 24
    for n in range(1, 25):
        (page,) = (p for p in pages if f"A{n} Step-up" in p)
        assert f"A{n} Step-up, 12 kg at the chest (12 kg dumbbell) Stop at 7" in page


def test_whatever_the_length_the_box_stays_on_the_first_page() -> None:
    for items in (1, 5, 8, 11, 24):
        first = _pages(_long_week(items))[0]
        assert cautions.RED_FLAG_HEAD in first
        assert cautions.PURPOSE in first
