(() => {
  "use strict";
  const body = document.body;
  const said = document.getElementById("said");
  const key = body.dataset.key;
  let stamp = body.dataset.stamp;
  let queue = Promise.resolve();
  let dirty = new Set(); // fields of forms that have not been sent yet
  document.documentElement.classList.add("scripted");

  const pane = (name) => document.querySelector(`[data-pane="${name}"]`);
  const busyIn = (where) => {
    const active = document.activeElement;
    if (active && where.contains(active) && active.matches("input:not([type=hidden]), textarea, select")) return true;
    return [...dirty].some((field) => where.contains(field));
  };
  const marksOf = (where) => new Set([...where.querySelectorAll("details[open][id], .items > li[id] > details[open]")].map((one) => one.id || one.parentElement.id));

  // What was typed and not sent goes into the new field, with the marks of what it was typed over: the desk refuses it where that has changed.
  const marks = (field) => [...field.form.querySelectorAll("input[type=hidden]")];
  const putBack = (field) => {
    const there = field.id && field.type !== "file" && document.getElementById(field.id);
    if (!there || !there.form || !field.form) return;
    const was = Object.fromEntries(marks(field).map((one) => [one.name, one.value]));
    const now = marks(there);
    if (now.some((one) => one.name === "name" && one.value !== was.name)) return; // another document stands there
    for (const one of now) if (["stamp", "was"].includes(one.name)) one.value = was[one.name];
    there.value = field.value;
    dirty.add(there);
  };

  // A press that has begun ends on what it began on: panes put under it between press and release would swallow the click.
  let release = null; // while a button is down
  let released = Promise.resolve();
  const lift = () => { if (release) setTimeout(release); release = null; }; // after the click of this release
  addEventListener("pointerdown", () => { lift(); released = new Promise((done) => { release = done; }); }, true);
  for (const end of ["pointerup", "pointercancel"]) addEventListener(end, lift, true);
  addEventListener("blur", lift); // of the window: a release outside it is not told

  // Puts new panes in place of the old. One that is being typed into keeps its fields; only what is marked for it is renewed.
  const show = (panes, always) => {
    const focus = document.activeElement && document.activeElement.id;
    for (const [name, html] of Object.entries(panes)) {
      const old = pane(name);
      if (!old) continue;
      if (busyIn(old) && !always.has(name)) {
        const made = document.createElement("template");
        made.innerHTML = html;
        for (const part of made.content.querySelectorAll("[data-patch][id]")) {
          const there = document.getElementById(part.id);
          if (!there) continue;
          if (part.matches("input")) { if (!dirty.has(there)) there.value = part.value; } else there.replaceChildren(...part.childNodes);
        }
        continue;
      }
      const open = marksOf(old);
      const at = old.scrollTop;
      const text = old.querySelector("#reading");
      const textAt = text ? text.scrollTop : 0;
      const unsent = [...dirty].filter((field) => old.contains(field));
      for (const field of unsent) dirty.delete(field);
      old.innerHTML = html; // made by the desk itself, every text in it escaped
      for (const field of unsent) putBack(field);
      for (const id of open) {
        const one = document.getElementById(id);
        if (one) (one.matches("details") ? one : one.querySelector("details")).open = true;
      }
      old.scrollTop = at;
      const now = old.querySelector("#reading");
      if (now) now.scrollTop = textAt;
    }
    rail();
    if (focus && document.activeElement === body) {
      const back = document.getElementById(focus);
      if (back) back.focus({ preventScroll: true });
    }
  };

  const send = (form, always = new Set()) => {
    const data = new URLSearchParams(new FormData(form));
    const name = new URL(form.action).pathname;
    const sent = [...form.elements].map((field) => [field, field.value]);
    queue = queue.then(async () => {
      for (const field of form.querySelectorAll("[data-patch]")) if (field.name) data.set(field.name, field.value);
      body.classList.add("working");
      try {
        const answer = await fetch(name, { method: "POST", body: data, headers: { "X-Panes": "1" } });
        const type = answer.headers.get("content-type") || "";
        if (!type.startsWith("application/json")) throw new Error(await answer.text());
        const found = await answer.json();
        await released;
        if (!found.refused) for (const [field, value] of sent) if (field.value === value) dirty.delete(field); // else it was typed on
        stamp = found.stamp;
        if (!found.refused && location.pathname === "/") history.replaceState(null, "", found.where);
        if (found.refused) delete found.panes.documents, delete found.panes.measures, delete found.panes.points;
        show(found.panes, found.refused ? new Set() : always);
        said.textContent = found.told;
        return !found.refused;
      } catch (error) {
        said.textContent = "The desk does not answer. What you typed is still here; start it again, and reload the page.";
        lost();
        return false;
      } finally {
        body.classList.remove("working");
      }
    });
    return queue;
  };

  const lost = () => {
    if (document.getElementById("lost")) return;
    const banner = document.createElement("p");
    banner.id = "lost";
    banner.className = "banner";
    banner.setAttribute("role", "alert");
    banner.textContent = said.textContent;
    document.getElementById("p-top").append(banner);
  };

  let soon = 0;
  document.addEventListener("input", (event) => {
    const field = event.target;
    if (!field.form) return;
    dirty.add(field);
    if (field.matches("[data-check]")) check(field);
    const live = field.form.dataset.live;
    if (live === "row") { clearTimeout(soon); const form = field.form; soon = setTimeout(() => send(form), 350); }
  });
  document.addEventListener("change", (event) => {
    const form = event.target.form;
    if (form && form.dataset.live === "row" && dirty.has(event.target)) { clearTimeout(soon); send(form); } // else it was sent while she typed
  });
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!("live" in form.dataset)) return;
    event.preventDefault();
    clearTimeout(soon);
    const where = form.closest("[data-pane]");
    const always = new Set(where ? [where.dataset.pane] : []);
    const kind = form.dataset.live;
    if (kind === "row") always.clear();
    send(form, always).then((good) => {
      if (good && kind === "new") { const first = document.querySelector("tr.new input"); if (first) first.focus(); }
    });
  });

  // What a line of her own would be read as, while it is typed.
  let asking = 0;
  const check = (field) => {
    clearTimeout(asking);
    asking = setTimeout(async () => {
      const heard = document.getElementById(field.getAttribute("aria-describedby"));
      if (!heard) return;
      if (!field.value.trim()) { heard.textContent = ""; return; }
      try {
        const answer = await fetch("/check", { method: "POST", body: new URLSearchParams({ key, line: field.value }) });
        const found = await answer.json();
        heard.className = "heard " + (found.wrong ? "bad" : "good");
        heard.textContent = found.wrong || "Reads: " + found.says.join("; ");
      } catch { heard.textContent = ""; }
    }, 300);
  };

  // On a narrow screen one part is shown at a time; which one stays as it was chosen.
  const root = document.documentElement;
  const showPart = (name) => {
    root.dataset.part = name;
    for (const one of document.querySelectorAll(".jump a")) one.setAttribute("aria-current", one.dataset.part === name);
    try { sessionStorage.setItem("part", name); } catch { /* a browser that keeps nothing begins anew */ }
  };
  const partOf = (one) => one && ["documents", "measures", "order", "points"].find((name) => one.closest(`#p-${name}`));
  let chosen = "";
  try { chosen = sessionStorage.getItem("part") || ""; } catch { /* the same */ }
  showPart(chosen || body.dataset.begin);
  document.addEventListener("click", (event) => {
    const link = event.target.closest('a[href^="#"]');
    const name = link && partOf(document.getElementById(link.hash.slice(1)));
    if (name) showPart(name);
  });

  // Marks of the text, and the numbers that come from them.
  let lit = [];
  const light = (some) => { for (const one of lit) one.classList.remove("lit"); lit = some; for (const one of lit) one.classList.add("lit"); };
  const users = (id) => [...document.querySelectorAll("#p-order [data-at]")].filter((one) => one.dataset.at.split(" ").includes(id));
  const linesOf = (mark) => (mark.dataset.for || "").split(" ").map((id) => id && document.getElementById(id)).filter(Boolean);
  const open = (mark) => {
    const card = document.getElementById("card");
    if (!card) return;
    const lines = linesOf(mark);
    light([mark, ...users(mark.id), ...lines.map((one) => one.querySelector("summary"))]);
    card.querySelector(".card-said").textContent = mark.dataset.said;
    card.querySelector(".card-words").textContent = lines.length ? "Used for: " + lines.map((one) => one.querySelector(".what").textContent.trim()).join("; ") : "";
    const row = mark.closest(".l");
    const set = (id, said) => { document.getElementById(id).value = said; };
    set("card-w", row.textContent.trim());
    set("card-at", document.querySelector("#p-documents .tabs [aria-current] b").textContent + " " + row.dataset.n);
    set("card-lines", card.querySelector(".card-words").textContent);
    card.hidden = false;
    beside(mark);
    whole(mark, set);
    const field = document.getElementById("card-l");
    if (!dirty.has(field)) field.value = "";
  };
  // On a narrow screen the card lies over the lower half: what it speaks of stands above it.
  const beside = (mark) => {
    if (!matchMedia("(max-width: 79.99rem)").matches) return;
    const text = document.getElementById("reading");
    text.scrollIntoView({ block: "start" });
    text.scrollTop += mark.getBoundingClientRect().top - text.getBoundingClientRect().top - text.clientHeight / 3;
  };
  // The whole clause, which may run over several lines, and the line by which none of it is ordered.
  const whole = async (mark, set) => {
    const words = document.getElementById("card-c"), box = document.getElementById("card-n"), stays = document.getElementById("card-stays");
    const none = document.getElementById("card-none");
    words.textContent = "";
    none.checked = false;
    none.value = "";
    box.hidden = stays.hidden = true;
    const card = document.getElementById("card");
    card.dataset.mark = mark.id;
    const where = new URLSearchParams({ document: document.querySelector("#p-documents .tabs [aria-current] b").textContent, mark: mark.id });
    try {
      const answer = await fetch("/clause?" + where);
      if (!answer.ok || card.dataset.mark !== mark.id) return;
      const found = await answer.json();
      words.textContent = "The clause: “" + found.words + "”";
      set("card-w", found.words);
      none.value = found.none.join("\n");
      box.querySelector("span").textContent = "Order none of it: writes “" + found.none.join(" ") + "”";
      box.hidden = !found.none.length;
      stays.hidden = !!found.none.length;
    } catch { /* the line it stands in is quoted instead */ }
  };
  const toMark = (id) => {
    const mark = document.getElementById(id);
    if (!mark) return false;
    showPart(partOf(mark) || root.dataset.part);
    mark.scrollIntoView({ block: "center" });
    light([mark, ...users(id), ...linesOf(mark).map((one) => one.querySelector("summary"))]);
    mark.focus({ preventScroll: true });
    return true;
  };
  document.addEventListener("click", (event) => {
    if (event.target.closest(".card-shut")) { document.getElementById("card").hidden = true; light([]); return; }
    const mark = event.target.closest("#reading .m[id]");
    if (mark) { open(mark); return; }
    const link = event.target.closest("a[data-mark-at]");
    if (!link) return;
    event.preventDefault();
    const id = link.dataset.markAt;
    if (toMark(id)) return;
    const file = link.dataset.file || link.textContent.replace(/^.*\(/, "").replace(/(, | )(line|page|paragraph)?.*$/, "");
    const tab = [...document.querySelectorAll("#p-documents .tabs a")].find((one) => one.querySelector("b").textContent === file);
    if (tab) location.assign(tab.href + "#" + id);
  });
  const step = (by) => {
    const marks = [...document.querySelectorAll("#reading [data-open][id]")];
    if (!marks.length) { said.textContent = "Nothing is open in this document."; return; }
    const at = marks.indexOf(document.activeElement);
    toMark(marks[at < 0 ? (by > 0 ? 0 : marks.length - 1) : (at + by + marks.length) % marks.length].id);
  };
  document.addEventListener("keydown", (event) => {
    const typing = event.target.matches("input, textarea, select");
    if (event.key === "Escape") { const card = document.getElementById("card"); if (card) card.hidden = true; light([]); return; }
    if (event.key === "Enter" && event.target.matches("#reading .m[id]")) { open(event.target); document.getElementById("card-l").focus(); event.preventDefault(); return; }
    if (typing || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "n") step(1);
    else if (event.key === "p") step(-1);
    else return;
    event.preventDefault();
  });
  const rail = () => {
    const text = document.getElementById("reading"), at = document.querySelector(".rail");
    if (!text || !at) return;
    at.replaceChildren();
    const high = text.scrollHeight, top = text.getBoundingClientRect().top - text.scrollTop;
    for (const mark of text.querySelectorAll("[data-open][id]")) {
      const one = document.createElement("i");
      if (mark.classList.contains("unread")) one.className = "unread";
      one.style.top = `${(100 * (mark.getBoundingClientRect().top - top)) / high}%`;
      at.append(one);
    }
  };
  rail();
  addEventListener("resize", rail);
  if (location.hash) toMark(location.hash.slice(1));

  // What is dear to make is asked for when it is opened.
  document.addEventListener("toggle", async (event) => {
    const one = event.target;
    const place = one.dataset && one.dataset.more && one.querySelector(":scope > .more");
    if (!place || !one.open || place.dataset.made) return;
    place.dataset.made = "1";
    try {
      const answer = await fetch(one.dataset.more + (one.dataset.more.includes("?") ? "&" : "?") + location.search.slice(1), { headers: { "X-Panes": "1" } });
      if (!answer.ok) throw new Error(answer.status);
      place.innerHTML = await answer.text(); // made by the desk itself, every text in it escaped
    } catch { delete place.dataset.made; } // the link to it still stands there
  }, true);

  // Another program, or another window, may have changed a file.
  const look = async () => {
    try {
      const found = await (await fetch("/state")).json();
      if (found.stamp === stamp || body.classList.contains("working")) return;
      const query = location.search || "?";
      const html = await (await fetch("/" + query)).text();
      const made = new DOMParser().parseFromString(html, "text/html");
      const panes = {};
      for (const one of made.querySelectorAll("[data-pane]")) panes[one.dataset.pane] = one.innerHTML;
      await released;
      if (body.classList.contains("working")) return; // what was sent meanwhile shows what it finds itself
      stamp = made.body.dataset.stamp;
      show(panes, new Set());
      said.textContent = "A file of the job has changed, and is shown as it is now.";
    } catch { /* the desk is shut, or busy: the next look tells */ }
  };
  setInterval(look, 1500);
  addEventListener("beforeunload", (event) => { if ([...dirty].some((one) => one.matches("textarea, input, select") && document.contains(one))) event.preventDefault(); });
})();
