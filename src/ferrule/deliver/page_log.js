// What can be said of an exercise, of pain, of the session and of the week. Every change is kept at once, as an entry.
(() => {
  const copy = (name) => document.getElementById(name).content.firstElementChild.cloneNode(true);
  let groups = 0;
  const group = (set) => { groups += 1; for (const box of set.querySelectorAll("input[type=radio]")) box.name = "g" + groups; };
  const chosen = (set) => { const box = set.querySelector("input:checked"); return box ? box.value : ""; };
  const choose = (set, value) => { for (const box of set.querySelectorAll("input")) box.checked = box.value === value; };
  const picks = (set, options) => {
    for (const [value, words] of options) {
      const label = document.createElement("label"), box = document.createElement("input");
      box.type = "radio";
      box.value = value;
      label.append(box, Object.assign(document.createElement("span"), { textContent: words }));
      set.append(label);
    }
    group(set);
  };
  const offer = (select, options) => { for (const [value, words] of options) select.append(new Option(words, value)); };
  const ten = (select) => offer(select, [...Array(11).keys()].map((n) => [String(n), String(n)]));
  // What is being typed is not drawn over.
  const fill = (field, value) => { if (field !== document.activeElement) field.value = value ?? ""; };
  const number = (field) => (field.value === "" || !field.checkValidity() ? null : Number(field.value));
  const spoken = (day) => new Date(day + "T12:00").toLocaleDateString("en-GB", { weekday: "long", day: "numeric", month: "long" });
  const name = (item) => item.querySelector("h4 .name").textContent;

  const exercise = (item, session) => {
    const plan = sets.plan(item), box = copy("of-exercise"), find = (q) => box.querySelector(q);
    const key = () => sets.time(session, 0).key;
    const more = find(".left"), count = find(".count"), many = find(".many"), each = find(".each"), way = find(".way-done"), kg = find(".kg"), why = find(".why");
    find("summary b").textContent = name(item);
    if (plan.hold) {
      more.querySelector("legend").textContent = "After the last set: about how many more seconds?";
      picks(more, [0, 1, 2, 3, 4].map((t) => [String(t), Math.round((t * plan.low) / 10) + (t > 3 ? " s or more" : " s")]));
    } else picks(more, ["0", "1", "2", "3"].map((t) => [t, t]).concat([["4", "4 or more"]]));
    picks(more, [["?", "don't know"]]);
    more.hidden = !plan.ask;
    const one = plan.low !== undefined && plan.low === plan.high && !plan.more, few = !one && !plan.more && !plan.hold && plan.high - plan.low <= 6;
    if (few) picks(count, [...Array(plan.high - plan.low + 1).keys()].map((i) => [String(plan.low + i), String(plan.low + i)]));
    count.hidden = !few;
    many.hidden = one || few || Boolean(plan.per) || plan.low === undefined && !plan.more;
    const last = () => { const off = sets.skipped(key(), item); return off && off.n > 1 ? off.n - 1 : plan.n; };
    const asked = (n) => (plan.per ? plan.per[n - 1] : one ? plan.low : undefined);
    const wanted = (n) => asked(n) ?? plan.low;
    const counted = (n, done) => {
      const e = sets.slot(key(), item, n), ended = e && e.outcome === "failed" ? "failed" : "counted";
      sets.put(key(), item, n, done === null ? { outcome: "tapped", done: null } : { outcome: ended, done });
    };
    more.addEventListener("change", () => {
      const n = last(), e = sets.slot(key(), item, n), said = chosen(more);
      const done = e && store.said(e.done) ? e.done : asked(n);
      const outcome = e && e.outcome === "failed" ? "failed" : done === undefined ? "tapped" : "counted";
      sets.put(key(), item, n, { outcome, done, effort_asked: true, reserve: said === "?" ? null : Number(said) });
    });
    count.addEventListener("change", () => counted(last(), Number(chosen(count))));
    many.querySelector("input").addEventListener("change", (e) => counted(last(), number(e.target)));
    for (let n = 1; n <= plan.n; n++) {
      const label = copy("of-set"), field = label.querySelector("input");
      label.querySelector("span").textContent = "Set " + n;
      field.addEventListener("change", () => counted(n, number(field)));
      each.append(label);
    }
    offer(way, [["", "as written"], ...(plan.ways || []).map((w, i) => [String(i), w[1]])]);
    way.parentElement.hidden = !plan.ways;
    way.addEventListener("change", () => {
      const w = (plan.ways || [])[way.value];
      sets.change(key(), item, w ? { variant: w[0], load_kg: w[2], band: w[3] } : { variant: "", load_kg: "", band: "" });
    });
    kg.addEventListener("change", () => sets.change(key(), item, { load_kg: number(kg), band: "" }));
    why.addEventListener("change", () => {
      const told = sets.all(key(), item).filter((e) => e.outcome !== "not said"), short = told.filter((e) => store.said(e.done) && e.done < wanted(e.n));
      const e = short.pop() || told.pop(), said = why.value;
      if (said === "failed") sets.put(key(), item, e ? e.n : last(), { outcome: "failed", stopped: "" });
      else if (!e) sets.put(key(), item, 1, { outcome: "not said", stopped: said });
      else sets.put(key(), item, e.n, { outcome: e.outcome !== "failed" ? e.outcome : store.said(e.done) ? "counted" : "tapped", stopped: said });
    });
    const leave = (button, stopped) => button.addEventListener("click", () => {
      const off = sets.skipped(key(), item);
      if (off) store.back(off);
      if (off && off.stopped === stopped) return;
      let n = 1;
      while (n <= plan.n && sets.told(key(), item, n)) n += 1;
      if (n > plan.n) for (const e of sets.all(key(), item)) if (e.n > 1) store.back(e); // all was ticked: none of it was done
      if (n > plan.n) n = 1;
      sets.put(key(), item, n, { outcome: "counted", done: 0, stopped, reserve: null, effort_asked: null });
    });
    leave(find(".skip"), "other");
    leave(find(".nokit"), "kit");
    find(".hurt").addEventListener("click", () => {
      store.add("pain", { ...sets.at(session), item: plan.k, words: "It hurt." });
      const open = session.querySelector("details.pains");
      open.open = true;
      open.querySelector(".pain:last-child select").focus();
    });
    let was = "";
    const look = () => {
      const known = sets.all(key(), item), end = sets.slot(key(), item, last()), off = sets.skipped(key(), item);
      const done = plan.ask && !off && sets.told(key(), item, last());
      choose(more, !end || !end.effort_asked ? "" : store.said(end.reserve) ? String(end.reserve) : "?");
      choose(count, end && store.said(end.done) ? String(end.done) : "");
      fill(many.querySelector("input"), end && end.done);
      each.querySelectorAll("input").forEach((field, i) => { const e = sets.slot(key(), item, i + 1); fill(field, e && e.done); });
      const w = known.find((e) => e.variant || store.said(e.load_kg));
      way.value = w && w.variant ? String((plan.ways || []).findIndex((x) => x[0] === w.variant && (x[2] || 0) === (w.load_kg || 0))) : "";
      if (way.selectedIndex < 0) way.value = "";
      fill(kg, w ? w.load_kg : "");
      const ended = known.find((e) => e.outcome === "failed") || known.find((e) => e.stopped && e.done !== 0);
      why.value = !ended ? "" : ended.outcome === "failed" ? "failed" : ended.stopped;
      find(".skip").setAttribute("aria-pressed", String(Boolean(off && off.stopped === "other")));
      find(".nokit").setAttribute("aria-pressed", String(Boolean(off && off.stopped === "kit")));
      if (done && was === "open " + key() && !end.effort_asked) box.open = true; // the last set was ticked just now
      if (store.open()) was = (done ? "done " : "open ") + key();
    };
    store.hear(look);
    look();
    return box;
  };

  // Pain: one form for each that stands. `where` is a session, or null for what hurt elsewhere.
  sets.at = (session) => { const t = sets.time(session, 0), whole = store.standing("session").find((e) => e.session === t.key); return { session: t.key, day: (whole && whole.day) || store.today() }; };
  const pain = (base, items, drop) => {
    const box = copy("of-pain"), find = (q) => box.querySelector(q);
    const region = find(".region"), side = find(".side"), worst = find(".worst"), morning = find(".morning"), flags = find(".flags"), words = find("textarea"), at = find(".at-item");
    let now = null, busy = false; // without an entry until something is said
    group(side);
    ten(worst);
    ten(morning);
    offer(at, items.map((i) => [sets.plan(i).k, name(i)]));
    at.parentElement.hidden = !items.length;
    const keep = () => {
      const kinds = [...flags.querySelectorAll("input:checked")].map((b) => b.value);
      const said = { region: region.value, side: chosen(side), worst: worst.value && Number(worst.value), morning: morning.value && Number(morning.value), item: at.value, flags: kinds, words: words.value.trim() };
      const { session, day } = now || base;
      if (!said.region && !said.worst && said.worst !== 0 && !said.morning && said.morning !== 0 && !kinds.length && !said.words) said.words = "It hurt.";
      busy = true;
      now = store.add("pain", { session, day, ...said }, now);
      busy = false;
    };
    box.addEventListener("change", keep);
    find(".takeback").addEventListener("click", () => (now ? store.back(now) : drop(box)));
    const look = (e) => {
      now = e;
      for (const [field, value] of [[region, e.region], [worst, e.worst], [morning, e.morning], [words, e.words], [at, e.item]]) fill(field, value);
      choose(side, e.side || "");
      const said = [];
      for (const b of flags.querySelectorAll("input")) {
        b.checked = (e.flags || []).includes(b.value);
        if (b.checked) said.push(b.parentElement.textContent.trim());
      }
      const alarm = find(".alarm");
      alarm.hidden = !said.length;
      alarm.querySelector("em").textContent = said.join("; ") + ".";
      find(".above").hidden = !(e.worst > Number(store.data.stop));
    };
    return { box, look, root: "", mine: () => busy && !now };
  };
  const pains = (holder, mine, fresh, items) => {
    const details = copy("of-pains"), list = details.querySelector(".list");
    const forms = [];
    const drop = (box) => { forms.splice(forms.findIndex((f) => f.box === box), 1); box.remove(); look(); };
    const open = (base) => { const form = pain(base, items, drop); forms.push(form); list.append(form.box); return form; };
    const look = () => {
      const stand = store.standing("pain").filter(mine);
      const root = (e) => { let at = e; for (let b; at.replaces && (b = store.entries().find((x) => x.id === at.replaces)); ) at = b; return at.id; };
      const by = new Map(stand.map((e) => [root(e), e]));
      for (let i = forms.length - 1; i >= 0; i--) if (forms[i].root && !by.has(forms[i].root)) { forms[i].box.remove(); forms.splice(i, 1); }
      for (const [id, e] of by) {
        const form = forms.find((f) => f.root === id) || forms.find((f) => f.mine()) || open(e);
        form.root = id;
        form.look(e);
      }
      details.querySelector(".how-many").textContent = forms.length ? " (" + forms.length + ")" : "";
      details.querySelector(".another").textContent = forms.length ? "Another pain" : "Say where it hurts";
    };
    details.querySelector(".another").addEventListener("click", () => {
      open(fresh());
      look();
      list.lastElementChild.querySelector("select").focus();
    });
    holder(details);
    store.hear(look);
    look();
  };

  const whole = (session) => {
    const box = copy("of-session"), find = (q) => box.querySelector(q);
    const did = find(".did"), rating = find(".rating"), minutes = find(".minutes"), why = find(".why"), day = find(".day"), words = find("textarea");
    const key = () => sets.time(session, 0).key, before = () => store.standing("session").find((e) => e.session === key());
    group(did);
    const ticked = () => store.standing("set").filter((e) => e.session === key() && e.outcome !== "not said");
    const times = session.querySelector(".time select");
    const rows = () => [...session.querySelectorAll(".track")].filter((t) => t.dataset.time === "0" || Number(t.dataset.time) === times.selectedIndex + 1);
    // From the first tick to the last, by the ticks themselves: when each set was told first.
    const spent = () => {
      const first = store.entries().filter((e) => e.kind === "set" && e.session === key() && e.outcome === "tapped" && !e.replaces).map((e) => Date.parse(e.at));
      const min = Math.round((Math.max(...first) - Math.min(...first)) / 60000);
      return first.length > 1 && min > 0 && min < 240 ? min : "";
    };
    const guess = () => {
      if (!ticked().some((e) => e.done !== 0)) return "";
      return rows().every((t) => [...t.querySelectorAll("input")].every((b) => b.checked)) ? "did" : "part";
    };
    const keep = (e) => {
      const old = before(), outcome = chosen(did) || guess() || "did";
      const said = { session: key(), day: day.value || store.today(), outcome, rating: rating.value && Number(rating.value), minutes: number(minutes), why: outcome === "did" ? "" : why.value, words: words.value.trim() };
      store.add("session", said, old);
      if (e && e.target === day) for (const s of store.standing("set").filter((x) => x.session === key() && x.day !== said.day)) {
        const { id, at, replaces, kind, time, ...fact } = s;
        store.add("set", { ...fact, day: said.day }, s);
      }
    };
    box.addEventListener("change", keep);
    const look = () => {
      const e = before(), some = ticked();
      choose(did, e ? e.outcome : "");
      fill(rating, e && e.rating);
      fill(minutes, e ? e.minutes : spent());
      fill(why, e && e.why);
      why.parentElement.hidden = !chosen(did) || chosen(did) === "did";
      fill(day, e ? e.day : some.length ? some[0].day : sets.time(session, 0).day);
      fill(words, e && e.words);
    };
    store.hear(look);
    session.querySelector(".changed").before(box);
    look();
  };

  const week = () => {
    const box = document.getElementById("week"), did = box.querySelector(".did"), felt = box.querySelector(".felt"), hurt = box.querySelector(".any"), words = box.querySelector("textarea");
    const before = () => store.standing("week")[0];
    for (const set of [did, felt, hurt]) group(set);
    box.addEventListener("change", () => {
      if (!chosen(did)) return;
      const any = chosen(hurt);
      store.add("week", { monday: store.data.monday, did: chosen(did), felt: chosen(felt), pain: any ? any === "yes" : null, words: words.value.trim() }, before());
    });
    const look = () => {
      const e = before();
      if (!e) return;
      choose(did, e.did);
      choose(felt, e.felt || "");
      choose(hurt, e.pain === undefined ? "" : e.pain ? "yes" : "no");
      fill(words, e.words);
    };
    store.hear(look);
    look();
  };

  // The next morning is asked about when the page is opened on a later day.
  const mornings = () => {
    const section = document.getElementById("morning"), list = section.querySelector(".list");
    for (const e of store.standing("pain").filter((x) => x.morning === undefined && x.day < store.today())) {
      const label = copy("of-morning"), select = label.querySelector("select");
      label.querySelector("span").textContent = [e.side === "both" ? "both sides" : e.side, e.region || "What hurt", "on " + spoken(e.day)].filter(Boolean).join(" ") + (store.said(e.worst) ? " (" + e.worst + " of 10 then)" : "");
      let now = e;
      ten(select);
      select.addEventListener("change", () => {
        now = store.standing("pain").find((x) => { for (let at = x; at; at = store.entries().find((b) => b.id === at.replaces)) if (at.id === e.id) return true; return false; }) || now;
        const { id, at, replaces, kind, ...fact } = now;
        now = store.add("pain", { ...fact, morning: select.value && Number(select.value) }, now);
      });
      list.append(label);
    }
    section.hidden = !list.children.length;
  };

  for (const session of document.querySelectorAll(".session")) {
    for (const block of session.querySelectorAll(".block.strength")) {
      for (const item of block.querySelectorAll(".item")) {
        const own = item.querySelector(".more .track");
        (own ? item.querySelector(".more") : block).append(exercise(item, session));
      }
    }
    const key = () => sets.time(session, 0).key;
    pains((d) => session.querySelector(".changed").before(d), (e) => e.session === key(), () => sets.at(session), [...session.querySelectorAll(".item")]);
    whole(session);
    for (const select of session.querySelectorAll(".time select")) select.addEventListener("change", store.redraw);
  }
  const log = document.getElementById("log");
  pains((d) => log.querySelector(".elsewhere").append(d), (e) => !e.session, () => ({ day: store.today() }), []);
  week();
  store.begin(mornings);
})();
