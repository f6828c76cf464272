// Sets as they stand, read from the entries: a tick is a set that was tapped, which says "at least".
const sets = (() => {
  const plans = new Map();
  const plan = (item) => plans.get(item) || plans.set(item, JSON.parse(item.dataset.log)).get(item);
  // The time of a session that a row of ticks is for (1, 2 ...), or the one chosen now (0).
  const time = (session, n) => {
    const select = session.querySelector(".time select");
    return (select ? select.options[n ? n - 1 : select.selectedIndex] : session).dataset;
  };
  let slots = null;
  const slot = (key, item, n) => {
    if (!slots) slots = new Map(store.standing("set").map((e) => [[e.session, e.item, e.n].join("|"), e]));
    return slots.get([key, plan(item).k, n].join("|"));
  };
  store.hear(() => { slots = null; });
  const left = (e) => e && e.done === 0 && e.stopped; // left out, from this set on
  const real = (e) => Boolean(e && e.outcome !== "not said" && !left(e));
  const skipped = (key, item) => { for (let n = 1; n <= plan(item).n; n++) if (left(slot(key, item, n))) return slot(key, item, n); return null; };
  const told = (key, item, n) => {
    const off = skipped(key, item);
    return real(slot(key, item, n)) || Boolean(off && off.n <= n);
  };
  const all = (key, item) => [...Array(plan(item).n).keys()].map((i) => slot(key, item, i + 1)).filter(Boolean);
  // A new word on one set: what was told of it before, and what goes for the whole exercise, stays.
  const put = (key, item, n, change) => {
    const before = slot(key, item, n), same = before || all(key, item)[0] || {}, whole = store.standing("session").find((e) => e.session === key);
    const fact = { session: key, item: plan(item).k, n, day: (whole && whole.day) || store.today(), time: whole && whole.day !== store.today() ? "" : store.moment(new Date()).slice(11, 16), outcome: "tapped", variant: same.variant, load_kg: same.load_kg, band: same.band };
    if (before && before.outcome !== "not said") for (const k of ["day", "time", "outcome", "done", "reserve", "effort_asked", "stopped"]) fact[k] = before[k];
    return store.add("set", { ...fact, ...change }, before);
  };
  const change = (key, item, fact) => {
    const known = all(key, item);
    if (!known.length) put(key, item, 1, { outcome: "not said", ...fact });
    for (const e of known) put(key, item, e.n, fact);
  };
  // Rows of ticks: those of one exercise, or rounds of all the exercises of a block.
  const row = (track) => {
    const session = track.closest(".session"), one = track.closest(".item"), n = Number(track.dataset.time);
    const items = one ? [one] : [...track.closest(".block").querySelectorAll(".item")];
    const of = (i) => { const some = items.filter((x) => plan(x).n >= i); return some.length ? some : items; };
    const key = () => time(session, n).key;
    return {
      items, key,
      on: (i) => of(i).every((x) => told(key(), x, i)) && of(i).some((x) => real(slot(key(), x, i))),
      set: (i, on) => {
        if (one && on && skipped(key(), one)) store.back(skipped(key(), one)); // done after all
        for (const x of of(i)) {
          const e = slot(key(), x, i);
          if (on && !told(key(), x, i)) put(key(), x, i, { outcome: "tapped" });
          if (!on && e && !left(e)) store.back(e);
        }
      },
    };
  };
  return { plan, time, slot, told, all, put, change, row, skipped };
})();
