"use strict";
// What this page keeps: entries, each under a key of its own so that two open tabs lose nothing, never changed once made.
// A correction is a new entry that names the one it replaces. Entries are written twice, to localStorage and to IndexedDB,
// and read from both: on a busy machine Chromium now and then drops what a file wrote to localStorage, without a word.
// Without either they live while the page is open, and the page says so.
const store = (() => {
  const data = document.body.dataset, base = "ferrule." + data.copy, head = base + ".e.";
  const all = new Map(), heard = [], begun = [];
  let open = false, lost = false, bad = false, db = null, mine = {};
  const tell = () => { for (const f of heard) f(); };
  const held = () => { try { return JSON.parse(localStorage.getItem(base)) || {}; } catch { return {}; } };
  const read = () => ({ ...mine, ...held() });
  const keep = (change) => {
    mine = { ...read(), ...change };
    try { localStorage.setItem(base, JSON.stringify({ ...held(), ...change })); } catch { lost = true; }
  };
  const take = (key, text) => { try { if (text) all.set(key.slice(head.length), JSON.parse(text)); } catch { /* not ours */ } };
  const scan = () => {
    try { for (let i = 0; i < localStorage.length; i++) { const key = localStorage.key(i); if (key.startsWith(head)) take(key, localStorage.getItem(key)); } } catch { lost = true; }
  };
  const two = (n) => String(n).padStart(2, "0");
  const date = (d) => d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate());
  const moment = (d) => {
    const off = -d.getTimezoneOffset(), far = Math.abs(off);
    return date(d) + "T" + two(d.getHours()) + ":" + two(d.getMinutes()) + ":" + two(d.getSeconds()) + "." + String(d.getMilliseconds()).padStart(3, "0") + (off < 0 ? "-" : "+") + two(Math.floor(far / 60)) + ":" + two(far % 60);
  };
  // UUID version 7: 48 bits of milliseconds, then chance.
  const id = () => {
    const b = crypto.getRandomValues(new Uint8Array(16));
    let ms = Date.now();
    for (let i = 5; i >= 0; i--) { b[i] = ms % 256; ms = Math.floor(ms / 256); }
    b[6] = 0x70 | (b[6] & 15);
    b[8] = 0x80 | (b[8] & 63);
    const h = [...b].map((x) => x.toString(16).padStart(2, "0")).join("");
    return [h.slice(0, 8), h.slice(8, 12), h.slice(12, 16), h.slice(16, 20), h.slice(20)].join("-");
  };
  const said = (v) => v !== undefined && v !== null && v !== "" && !(Array.isArray(v) && !v.length);
  // One change of the second copy; before it is open nothing is done: what was said meanwhile is written when it opens.
  const second = (change) => {
    if (!db) return;
    try {
      const work = db.transaction("e", "readwrite");
      work.onerror = work.onabort = () => { bad = true; tell(); };
      change(work.objectStore("e"));
      if (work.commit) work.commit();
    } catch { bad = true; }
  };
  const first = (made) => { try { localStorage.setItem(head + made.id, JSON.stringify(made)); } catch { lost = true; } };
  const put = (made) => { first(made); second((held) => held.put(made)); };
  const add = (kind, fact, before) => {
    const made = { id: id(), at: moment(new Date()), replaces: before ? before.id : "", kind };
    for (const k in fact) if (said(fact[k])) made[k] = fact[k];
    all.set(made.id, made);
    put(made);
    tell();
    return made;
  };
  const back = (before) => add("back", {}, before);
  const order = (a, b) => (a.at === b.at ? 0 : Date.parse(a.at) - Date.parse(b.at)) || (a.id < b.id ? -1 : 1);
  const entries = () => [...all.values()].sort(order);
  const standing = (kind) => {
    const gone = new Set([...all.values()].map((e) => e.replaces));
    return entries().filter((e) => e.kind === kind && !gone.has(e.id));
  };
  const clear = () => {
    for (const key of all.keys()) try { localStorage.removeItem(head + key); } catch { /* nothing was kept */ }
    all.clear();
    second((held) => held.clear());
    keep({ sent: [] });
    tell();
  };
  addEventListener("storage", (e) => {
    if (!e.key) all.clear();
    else if (!e.key.startsWith(head)) return;
    else if (e.newValue === null) all.delete(e.key.slice(head.length));
    else take(e.key, e.newValue);
    scan();
    tell();
  });
  const again = () => { scan(); tell(); };
  addEventListener("pageshow", again);
  document.addEventListener("visibilitychange", again);
  const start = (more) => {
    if (open) return;
    open = true;
    bad = !db;
    for (const made of more) if (!all.has(made.id)) { all.set(made.id, made); first(made); }
    const known = new Set(more.map((e) => e.id));
    second((held) => { for (const made of all.values()) if (!known.has(made.id)) held.put(made); });
    for (const f of begun) f();
    tell();
    document.body.dataset.ready = "";
  };
  try { localStorage.setItem(base + ".try", "1"); localStorage.removeItem(base + ".try"); } catch { lost = true; }
  scan();
  try {
    const asked = indexedDB.open(base, 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("e", { keyPath: "id" });
    asked.onerror = () => start([]);
    asked.onsuccess = () => {
      db = asked.result;
      const got = db.transaction("e").objectStore("e").getAll();
      got.onsuccess = () => start(got.result);
      got.onerror = () => { db = null; start([]); };
    };
  } catch { setTimeout(() => start([]), 0); }
  return { data, read, keep, add, back, entries, standing, clear, date, moment, said, today: () => date(new Date()), lost: () => lost && bad, hear: (f) => heard.push(f), begin: (f) => begun.push(f), open: () => open, redraw: tell };
})();
