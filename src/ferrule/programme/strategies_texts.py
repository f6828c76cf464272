"""Strategies for programmes as text, slips and Markdown traps in it. `hypothesis` is needed only where this is imported: in tests."""

from __future__ import annotations

from hypothesis import strategies as st

AMOUNT_TEXT = st.sampled_from(
    [
        "8",
        "8 reps",
        "5–7/side",
        "5 to 7 each side",
        "8 e/s",
        "8 ea",
        "3x8",
        "3 × 8-10 per leg",
        "3 sets of 8",
        "30 sec",
        "1:30",
        '45"',
        "2 mins",
        "8+",
        "AMRAP",
        "sets 12,10,8",
        "L 10 R 8",
        "2+2+2",
        "20 m",
        "60 foot contacts",
        "40 s on, 20 s off",
        "",
        "max reps",
        "8-5",
        "0",
        "8,5",
    ]
)
MORE_TEXT = st.sampled_from(
    [
        "RIR 2",
        "2 in reserve",
        "@ 1-2 RIR",
        "@8",
        "RPE 7,5",
        "12kg",
        "2 x 12 kg",
        "12 kgs each hand",
        "10 kg on the back",
        "BW",
        "no weight",
        "thin band",
        "red band",
        "26 lb",
        "tempo 30X1",
        "tempo: 3-1-1",
        "tmepo 2-0-1",
        "2-0-1",
        "rest 60",
        "60 s rest",
        "rest 2 m",
        "no rest",
        "side rest 10 s",
        "pause 2",
        "hold 5 s",
        "85% 1RM",
        ">90 % 1RM",
        "80%",
        "8RM",
        "drop 8",
        "optional",
        "(optional)",
        "keep it neat",
        "slowly",
        "rest -5 s",
        "between 10 s",
        "30 cm box",
        "coach: watch",
        "to failure",
        "rest-pause 20 s x 2",
        "sore leg only",
        "books in a backpack",
        "add 5 kg a week, to 60 kg",
        "3 s up, 5 s down",
        "above 80 % HRmax",
        "inertia 0.06 kg m2",
        "0.3 m box",
        "from week 2",
        "2 lead-in",
        "loads 40, 50 kg",
        "max sets",
        "load on 2-3 days a week",
        "4 x 5 runs of 80 m",
        "~70 % BW",
    ]
)
NAME_TEXT = st.sampled_from(
    [
        "Step-up",
        "step up",
        "Stepup",
        "**Step-up**",
        "Heel raise, knee bent",
        "Lateral lunge, no weight",
        "any hinge, one leg",
        "any one-leg hinge",
        "any hing",
        "Fence step",
        "calf raise",
        "A1. Press-up",
        "runner picks: Squat",
        "Squat or Step-up",
        "Squat or fence step",
        "or Plank",
        "Press-ups, hands raised",
        "12",
    ]
)


@st.composite
def item_texts(draw: st.DrawFn) -> str:
    """One line of an item."""
    name = draw(NAME_TEXT)
    fields = [f for f in [draw(AMOUNT_TEXT), *draw(st.lists(MORE_TEXT, max_size=3))] if f]
    joint = draw(st.sampled_from([": ", ":", " ", " - "]))
    return name + joint + draw(st.sampled_from([", ", " ", "; "])).join(fields)


@st.composite
def texts(draw: st.DrawFn) -> str:
    """A programme as a coach might type it: spellings, slips and Markdown traps in it."""
    heads = ["Pair A, 4 rounds, rest 75–90 s", "Straight", "Straight, 3 sets", "Circuit: 3 rounds, 15 s between", "Warm up", "warm-up, 1 round", "**Pair B** 3 rounds rest 2 min",
             "Superset A, 3x", "Circuit, 4 rounds, 40 s on, 20 s off", "Circuit, 12 min: Round and round", "Straight: Sprints", "Cool-down, 5 min",
             "Straight, max sets, tempo 2-0-2", "Straight, 30-200 reps in all", "Pair A, 4 ruonds", "Straight, 0 sets"]  # fmt: skip
    lines = draw(
        st.sampled_from(
            [[], ["---", "programme: x", "weeks: 3", "---"], ["---", "programme: x", "weeks: 3"], ["# Title"]]
        )
    )
    lines = [
        *lines,
        *draw(
            st.sampled_from(
                [
                    [],
                    ["## Cycle 1, weeks 1-3: Base", "Aim: be well."],
                    ["Cycle 1 - Base, weeks 1-3"],
                    ["Week 1"],
                    ["## Cycle 1, from week 2 on"],
                    ["## Cycle 1, sessions 1-4"],
                    ["## Cycle 1, weeks 1-2, repeat to week 8: x"],
                ]
            )
        ),
    ]
    lines += [
        "",
        draw(
            st.sampled_from(
                [
                    "### Session 1: calf, 35 min",
                    "Session A, Tuesday",
                    "Day 2: legs",
                    "Session one",
                    "##Session 1",
                    "### Session 1, 2-3 a week, after the run: legs",
                    "Session 1, every second day",
                    "Session 1, days 1, 3 and 5",
                    "Session 1, level beginner",
                    "Session 1, choose one of 2A or 2B",
                    "Session 2, as session 1",
                    "Session 1, twice a day, daily",
                ]
            )
        ),
        "",
    ]
    for _ in range(draw(st.integers(1, 3))):
        lines.append(draw(st.sampled_from(heads)))
        lines += draw(st.sampled_from([[""], [], ["---"], ["Do them slowly."]]))
        mark = draw(st.sampled_from(["- ", "* ", "+ ", "1. ", "> - ", "    - ", "\t- "]))
        for _ in range(draw(st.integers(1, 3))):
            lines.append(mark + draw(item_texts()))
            for _ in range(draw(st.integers(0, 2))):
                lines.append(
                    draw(
                        st.sampled_from(
                            [
                                "  note: keep it neat",
                                "  tempo 2-0-1",
                                "  - or Plank: 30 s",
                                "  - Plank: 30 s",
                                "  coach: watch R07",
                                "- or Squat: 8",
                                "  soft knees",
                                "note: at the edge",
                                "  if pain above 3: stop",
                                "  when neat: go on",
                                "  - note: x",
                                "    - or Dead bug",
                                "  > 3 left",
                                "coach: ends",
                                "- coach: in the list",
                            ]
                        )
                    )
                )
        lines += draw(
            st.sampled_from(
                [
                    [""],
                    [""],
                    ["| week | 1 | 2 |", "|---|---|---|", "| rounds | 3 | |"],
                    ["", "| week | 1 | 2 |", "| sets | 3 | - |", ""],
                    [
                        "",
                        "| week | 1-2 | 3 |",
                        "|---|---|",
                        "| Step-up: reps | 9 | 8/side | 4 |",
                        "| rest | 60 | |",
                        "",
                    ],
                    ["coach:", "- a", "- b"],
                    ["", "Some prose.", "More of it.", ""],
                    ["", "<!-- allow minutes: late hall -->"],
                    ["", "```", "- Step-up: 8", "```"],
                    ["> quoted"],
                ]
            )
        )
    return "\n".join(lines) + "\n"
