"""The same Problem as a mixed-integer programme for HiGHS: the peer, and an oracle for three levels of a week not given before."""

from __future__ import annotations

import highspy

from ferrule.fit.objective import DAY_LOST, SHORTFALL, bounds
from ferrule.fit.problem import Problem, times_of, too_near


def solve_highs(p: Problem) -> tuple[int, int, int]:
    """(text, minutes over, effort) at the lexicographic optimum; the levels are minimised one after another."""
    h = highspy.Highs()  # type: ignore[no-untyped-call]
    h.setOptionValue("output_flag", False)
    h.setOptionValue("threads", 1)
    h.setOptionValue("mip_rel_gap", 0.0)
    h.setOptionValue("mip_abs_gap", 0.5)
    binary = h.addBinary
    x = [[binary() for _ in line.options] for line in p.lines]
    omit = [binary() for _ in p.lines]
    cut = [[binary() for _ in b.reductions] for b in p.blocks]
    y = [[binary() for _ in s.slots] for s in p.sessions]
    drop = [binary() for _ in p.sessions]
    for row, out in zip(x, omit, strict=True):
        h.addConstr(sum(row) + out == 1)
    for row in cut:
        h.addConstr(sum(row) == 1)
    for row, out in zip(y, drop, strict=True):
        h.addConstr(sum(row) + out == 1)
    for s, session in enumerate(p.sessions):
        for t, slot in enumerate(session.slots):
            if slot.blocked:
                h.addConstr(y[s][t] <= 0)
            for u in range(s + 1, len(p.sessions)):
                near = [y[u][w] for w, o in enumerate(p.sessions[u].slots) if too_near(session, slot, p.sessions[u], o)]
                if near:
                    h.addConstr(y[s][t] + sum(near) <= 1)
    lost = h.addVariable(0, len(p.sessions))
    if p.free_days and p.rest_days > 0:
        used = [
            y[s][t]
            for s, x_ in enumerate(p.sessions)
            for t, slot in enumerate(x_.slots)
            if slot.day in p.free_days and not x_.track
        ]
        h.addConstr(sum(used) - lost <= max(0, len(p.free_days) - p.rest_days))
    over = []
    for s, session in enumerate(p.sessions):
        longest = (
            10 * sum(max((o.line_s[0] for o in ln.options), default=0) for ln in p.lines if ln.session == s) + 36000
        )
        total = []
        for b, block in enumerate(p.blocks):
            if block.session != s:
                continue
            seconds = h.addVariable(0, longest)
            for k, (_, own) in enumerate(block.reductions):
                work = [
                    o.line_s[k] * x[i][a]
                    for i, ln in enumerate(p.lines)
                    if ln.block == b
                    for a, o in enumerate(ln.options)
                ]
                h.addConstr(seconds >= sum(work) + own - longest * (1 - cut[b][k]))
            total.append(seconds)
        h.addConstr(sum(total) <= session.limit_s + longest * drop[s])
        late = h.addVariable(0, max(0, session.limit_s - session.promised_s))
        h.addConstr(late >= sum(total) - session.promised_s - longest * drop[s])
        over.append(late)
        landings = [
            o.contacts[0] * x[i][a]
            for i, ln in enumerate(p.lines)
            if ln.session == s
            for a, o in enumerate(ln.options)
            if o.contacts[0]
        ]
        if landings:
            h.addConstr(sum(landings) <= p.contacts + 10000 * drop[s])
    for b, block in enumerate(p.blocks):
        inside = [i for i, ln in enumerate(p.lines) if ln.block == b]
        if block.kind == "pair" and not block.written_clash:
            for group in {o.group for i in inside for o in p.lines[i].options} - {None}:
                on = [x[i][a] for i in inside for a, o in enumerate(p.lines[i].options) if o.group == group]
                h.addConstr(sum(on) <= 1)
        if block.kind != "straight":
            for i in inside:
                for j in inside:
                    for setting in {s for o in p.lines[i].options for s in o.settings}:
                        mine = [x[i][a] for a, o in enumerate(p.lines[i].options) if setting in o.settings]
                        other = [
                            x[j][a]
                            for a, o in enumerate(p.lines[j].options)
                            if any(s[0] == setting[0] and s[1] != setting[1] for s in o.settings)
                        ]
                        if i != j and other:
                            h.addConstr(sum(mine) + sum(other) <= 1)
    for i, line in enumerate(p.lines):
        for a, o in enumerate(line.options):
            if o.grown:
                h.addConstr(x[i][a] <= 0)
            for s in times_of(p, line.session) if o.sites else ():
                for y_, slot in zip(y[s], p.sessions[s].slots, strict=True):
                    if slot.site >= 0 and slot.site not in o.sites:
                        h.addConstr(x[i][a] + y_ <= 1)
            for site in o.sites if len(o.sites) > 1 else ():
                there = [
                    y[s][t]
                    for s in times_of(p, line.session)
                    for t, slot in enumerate(p.sessions[s].slots)
                    if slot.site == site
                ]
                h.addConstr(x[i][a] - sum(there) <= 0)
    if p.new_cap is not None:
        new = [x[i][a] for i, line in enumerate(p.lines) for a, o in enumerate(line.options) if o.new]
        if len(new) > p.new_cap:
            h.addConstr(sum(new) <= p.new_cap)
    short = []
    for group in p.cover:
        worked = []
        for s in range(len(p.sessions)):
            on = [
                x[i][a]
                for i, ln in enumerate(p.lines)
                if ln.session == s
                for a, o in enumerate(ln.options)
                if o.group == group
            ]
            if on:
                works = binary()
                h.addConstr(works <= sum(on))
                h.addConstr(works + drop[s] <= 1)
                worked.append(works)
        few = h.addVariable(0, 2)
        h.addConstr(few >= 2 - sum(worked))
        short.append(few)
    text = sum(o.text * x[i][a] for i, ln in enumerate(p.lines) for a, o in enumerate(ln.options))
    text = text + sum(ln.omit * omit[i] for i, ln in enumerate(p.lines)) + DAY_LOST * lost
    text = text + sum(s.drop * drop[n] for n, s in enumerate(p.sessions)) + SHORTFALL * sum(short)
    text = text + sum(cost * cut[b][k] for b, blk in enumerate(p.blocks) for k, (cost, _) in enumerate(blk.reductions))
    effort = sum(o.effort * x[i][a] for i, ln in enumerate(p.lines) for a, o in enumerate(ln.options))
    most = bounds(p)
    values = []
    for level, top in ((text, most[0]), (sum(over), most[2]), (effort, most[3])):
        h.minimize(level)
        value = round(h.getObjectiveValue())
        values.append(value)
        h.addConstr(level <= min(value + 0.1, top + 1))
    return values[0], values[1], values[2]
