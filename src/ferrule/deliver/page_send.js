// Handing over: a file to send or to save, and a text to paste. All of it each time; the reader takes nothing twice.
(() => {
  const log = document.getElementById("log"), find = (q) => log.querySelector(q);
  const state = find(".state"), done = find(".done-words"), text = find(".as-text"), clear = find(".clear"), sure = find(".sure");
  const file = "ferrule-log-" + (store.data.copy.replace(/[^\w.-]+/g, "-") || "copy") + ".json";
  const sent = () => new Set(store.read().sent || []);
  const open = () => { const known = sent(); return store.entries().filter((e) => !known.has(e.id)).length; };
  const count = (n) => n + (n === 1 ? " entry" : " entries");
  const look = () => {
    const all = store.entries().length;
    find(".hand").hidden = !store.data.sent;
    state.textContent = !store.data.sent ? "This week is a draft: no log can be sent from it." : !all ? "Nothing is in the log." : "Not yet sent: " + count(open()) + " of " + all + ".";
    for (const button of log.querySelectorAll(".hand button, .clear")) button.disabled = !all;
    sure.hidden = true;
    for (const p of document.querySelectorAll(".lost")) p.hidden = !store.lost();
  };
  const whole = () => {
    const entries = store.entries();
    const lines = entries.map((e) => { const { replaces, ...rest } = e; return JSON.stringify(replaces ? e : rest); });
    const head = { ferrule: 1, copy: store.data.sent, runner: store.data.runner, made: store.moment(new Date()) };
    return [JSON.stringify(head).slice(0, -1) + ',"entries":[\n' + lines.join(",\n") + '\n],"end":' + entries.length + "}\n", entries];
  };
  const out = (entries, words) => {
    store.keep({ sent: [...new Set([...sent(), ...entries.map((e) => e.id)])] });
    done.textContent = words;
    look();
  };
  const save = () => {
    const [made, entries] = whole(), link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([made], { type: "application/json" }));
    link.download = file;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    out(entries, "Saved as " + file + " with " + count(entries.length) + ". Send that file to your coach.");
  };
  find(".save").addEventListener("click", save);
  find(".send").addEventListener("click", async () => {
    const [made, entries] = whole();
    const files = [new File([made], file, { type: "application/json" })], plain = [new File([made], file.replace(/json$/, "txt"), { type: "text/plain" })];
    const way = [files, plain].find((f) => navigator.canShare && navigator.canShare({ files: f }));
    if (!way) return save();
    try {
      await navigator.share({ files: way, title: "Log" });
      out(entries, "Handed over: " + count(entries.length) + ".");
    } catch (e) {
      if (e.name === "AbortError") done.textContent = "Not sent.";
      else save();
    }
  });
  // The text is packed where the browser can: FERRULE1: and the raw DEFLATE bytes as base64url (docs/log.md).
  const packed = async (made) => {
    if (!window.CompressionStream) return made;
    try {
      const bytes = new Uint8Array(await new Response(new Blob([made]).stream().pipeThrough(new CompressionStream("deflate-raw"))).arrayBuffer());
      let raw = "";
      for (const b of bytes) raw += String.fromCharCode(b);
      return "FERRULE1:" + btoa(raw).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
    } catch { return made; }
  };
  find(".copy").addEventListener("click", async () => {
    const [made, entries] = whole();
    text.value = await packed(made);
    text.parentElement.hidden = false;
    text.focus();
    text.select();
    let copied = false;
    try { await navigator.clipboard.writeText(text.value); copied = true; } catch { copied = document.execCommand("copy"); }
    out(entries, copied ? "Copied, with " + count(entries.length) + ". Paste it into a message to your coach." : "Copy the text below into a message to your coach: " + count(entries.length) + ".");
  });
  find(".ask").addEventListener("click", () => {
    const words = find(".asking");
    store.add("ask", { day: store.today(), words: words.value.trim() });
    words.value = "";
    done.textContent = "It is in your log. It reaches your coach when the log is sent.";
  });
  clear.addEventListener("click", () => {
    const rest = open();
    sure.querySelector("span").textContent = rest ? count(rest) + " have not been sent. Clear all the same?" : "Clear " + count(store.entries().length) + " from this phone?";
    sure.hidden = false;
    sure.querySelector("button").focus();
  });
  find(".yes").addEventListener("click", () => { store.clear(); text.value = ""; text.parentElement.hidden = true; done.textContent = "Cleared."; });
  find(".no").addEventListener("click", () => { sure.hidden = true; clear.focus(); });
  store.hear(look);
  look();
  log.hidden = false;
  document.querySelector(".to-log").hidden = false;
})();
