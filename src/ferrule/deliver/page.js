"use strict";
// Ticks and a rest timer. Without this script the page is whole: nothing is shown or hidden that the text needs.
(() => {
  const key = "ferrule." + document.body.dataset.copy;
  const read = () => { try { return JSON.parse(localStorage.getItem(key)) || {}; } catch { return {}; } };
  const keep = (change) => { try { localStorage.setItem(key, JSON.stringify({ ...read(), ...change })); } catch { /* no room or no storage: the page works on */ } };

  const timer = document.getElementById("timer"), left = document.getElementById("left"), said = document.getElementById("said");
  const clock = (ms) => { const s = Math.ceil(ms / 1000); return Math.floor(s / 60) + ":" + String(s % 60).padStart(2, "0"); };
  let rest = null, sound = null;

  const ring = () => {
    if (navigator.vibrate) navigator.vibrate([300, 150, 300]);
    if (!sound) return;
    for (const at of [0, 0.35]) {
      const tone = sound.createOscillator(), loud = sound.createGain();
      tone.frequency.value = 660;
      loud.gain.value = 0.2;
      tone.connect(loud).connect(sound.destination);
      tone.start(sound.currentTime + at);
      tone.stop(sound.currentTime + at + 0.2);
    }
  };
  const end = () => { rest = null; keep({ rest: null }); timer.hidden = true; said.textContent = ""; };
  // Time is read from the clock each time, never counted: a locked screen loses nothing.
  const show = () => {
    if (!rest) return;
    const now = Date.now();
    if (now < rest.low) { left.textContent = "Rest " + clock(rest.low - now); timer.hidden = false; return; }
    if (!rest.rung) {
      rest.rung = true;
      keep({ rest });
      if (now - rest.low < 60000) ring();
      said.textContent = "Rest is over.";
    }
    left.textContent = now < rest.high ? "Start within " + clock(rest.high - now) : "Rest is over";
    timer.hidden = false;
  };
  const begin = (low, high) => {
    const now = Date.now();
    rest = { low: now + low * 1000, high: now + high * 1000, rung: false };
    keep({ rest });
    said.textContent = "Rest " + low + " seconds.";
    show();
  };
  document.getElementById("end").addEventListener("click", end);
  setInterval(show, 250);
  document.addEventListener("visibilitychange", show);

  for (const track of document.querySelectorAll(".track")) {
    const boxes = [...track.querySelectorAll("input")], button = track.querySelector("button");
    const words = button.textContent, name = button.getAttribute("aria-label");
    const draw = () => {
      const done = boxes.filter((b) => b.checked).length, last = done === boxes.length - 1;
      button.disabled = done === boxes.length;
      button.textContent = button.disabled ? "All ticked" : last ? words.split(",")[0] : words;
      button.setAttribute("aria-label", button.textContent + ". " + done + name.split(". ")[1].replace(/^0/, ""));
    };
    const ticks = () => Object.fromEntries(boxes.map((b) => [b.dataset.tick, b.checked]));
    const kept = read().ticks || {};
    for (const box of boxes) {
      box.checked = kept[box.dataset.tick] === true;
      box.addEventListener("change", () => { keep({ ticks: { ...read().ticks, ...ticks() } }); draw(); });
    }
    button.hidden = false;
    button.addEventListener("click", () => {
      const open = boxes.find((b) => !b.checked);
      if (!open) return;
      open.checked = true;
      keep({ ticks: { ...read().ticks, ...ticks() } });
      draw();
      const Sound = window.AudioContext;
      if (Sound && !sound) sound = new Sound();
      const low = Number(track.dataset.rest), high = Number(track.dataset.upto);
      if (low > 0 && boxes.some((b) => !b.checked)) begin(low, high); else end();
    });
    draw();
  }
  rest = read().rest || null;
  if (rest && Date.now() - rest.high > 600000) end();
  show();

  const day = new Date(), two = (n) => String(n).padStart(2, "0");
  const today = day.getFullYear() + "-" + two(day.getMonth() + 1) + "-" + two(day.getDate());
  for (const link of document.querySelectorAll("nav a")) if (link.dataset.day === today) link.append(" (today)");

  for (const session of document.querySelectorAll(".session")) {
    const blocks = [...session.querySelectorAll(".block")], steps = session.querySelector(".steps");
    let at = 0;
    const go = (to) => {
      at = Math.max(0, Math.min(blocks.length - 1, to));
      blocks.forEach((b, i) => b.classList.toggle("now", i === at));
      steps.querySelector(".back").disabled = at === 0;
      steps.querySelector(".next").disabled = at === blocks.length - 1;
      blocks[at].querySelector("h3").focus();
    };
    const single = (on) => {
      document.body.classList.toggle("single", on);
      session.classList.toggle("shown", on);
      steps.hidden = !on;
      session.querySelector(".view").hidden = on;
    };
    session.querySelector(".view").hidden = false;
    session.querySelector(".one").addEventListener("click", () => { single(true); go(at); });
    steps.querySelector(".back").addEventListener("click", () => go(at - 1));
    steps.querySelector(".next").addEventListener("click", () => go(at + 1));
    steps.querySelector(".all").addEventListener("click", () => { single(false); session.querySelector("h2").scrollIntoView(); });
  }
})();
