// Ticks and a rest timer. Without script the page is whole: nothing is shown or hidden that the text needs.
(() => {
  const { read, keep } = store;

  const timer = document.getElementById("timer"), left = document.getElementById("left"), said = document.getElementById("said");
  const clock = (ms) => { const s = Math.ceil(ms / 1000); return Math.floor(s / 60) + ":" + String(s % 60).padStart(2, "0"); };
  let run = null, sound = null;

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
  const end = () => { run = null; keep({ run: null }); timer.hidden = true; said.textContent = ""; };
  // Time is read from the clock each time, never counted: a locked screen loses nothing.
  // A run is steps with the moment each one ends; `rings` of its changes are heard, `rung` is how many have been.
  const show = () => {
    if (!run) return;
    const now = Date.now(), found = run.steps.findIndex((s) => now < s[1]), at = found < 0 ? run.steps.length : found;
    if (at > run.rung) {
      run.rung = at;
      keep({ run });
      if (at <= run.rings) {
        if (now - run.steps[at - 1][1] < 60000) ring();
        said.textContent = found < 0 || run.rings === 1 ? run.over + "." : run.steps[at][0] + ".";
      }
    }
    left.textContent = found < 0 ? run.over : run.steps[at][0] + " " + clock(run.steps[at][1] - now);
    document.getElementById("end").textContent = run.over === "Rest is over" ? "End the rest" : "Stop the clock";
    timer.hidden = false;
  };
  const begin = (steps, over, rings) => {
    let at = Date.now();
    run = { steps: steps.map(([label, s]) => [label, at += s * 1000]), over, rings, rung: 0 };
    keep({ run });
    said.textContent = steps[0][0] + " " + steps[0][1] + " seconds.";
    show();
  };
  const hear = () => { const Sound = window.AudioContext; if (Sound && !sound) sound = new Sound(); };
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
    const row = sets.row(track);
    const look = () => { boxes.forEach((b, i) => { b.checked = row.on(i + 1); }); draw(); };
    boxes.forEach((b, i) => b.addEventListener("change", () => row.set(i + 1, b.checked)));
    store.hear(look);
    button.hidden = false;
    button.addEventListener("click", () => {
      const open = boxes.find((b) => !b.checked);
      if (!open) return;
      row.set(boxes.indexOf(open) + 1, true);
      hear();
      const low = Number(track.dataset.rest), high = Number(track.dataset.upto);
      const rest = [["Rest", low], ...(high > low ? [["Start within", high - low]] : [])];
      if (low > 0 && boxes.some((b) => !b.checked)) begin(rest, "Rest is over", 1); else end();
    });
    look();
  }
  for (const button of document.querySelectorAll(".clock button")) {
    button.parentElement.hidden = false;
    button.addEventListener("click", () => {
      hear();
      const steps = button.dataset.steps.split("|").map((s) => [s.split("=")[0], Number(s.split("=")[1])]);
      begin(steps, "Time is over", steps.length);
    });
  }
  run = read().run || null;
  if (run && Date.now() - run.steps[run.steps.length - 1][1] > 600000) end();
  show();

  const today = store.today();
  for (const link of document.querySelectorAll("nav a")) if ((link.dataset.days || "").split(" ").includes(today)) link.append(" (today)");

  // A session done several times: today's time is shown, of two the one of this half of the day; a choice made today stays.
  for (const times of document.querySelectorAll(".time select")) {
    const kept = (read().times || {})[times.id], mine = [...times.options].filter((o) => o.dataset.day === today);
    if (mine.length) mine[mine.length > 1 && new Date().getHours() >= 12 ? 1 : 0].selected = true;
    if (kept && times.options[kept[1]] && (kept[0] === today || !mine.length)) times.selectedIndex = kept[1];
    times.addEventListener("change", () => keep({ times: { ...read().times, [times.id]: [today, times.selectedIndex] } }));
  }

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
