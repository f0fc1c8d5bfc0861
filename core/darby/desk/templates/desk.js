(() => {
  "use strict";
  const body = document.body;
  const said = document.getElementById("said");
  const key = body.dataset.key;
  const byId = (id) => document.getElementById(id);
  let stamp = body.dataset.stamp;
  let queue = Promise.resolve(); // deeds are sent one after another
  let sending = 0; // deeds that are not answered yet
  let turn = 0; // moves with each deed and each change of the page: what was asked for before is old when it comes
  const dirty = new Set(); // fields of forms that have not been sent yet
  let moving = false; // while fields are put elsewhere, or new ones in their place
  const underway = new WeakMap(); // what a form has sent that is not answered yet
  const heirs = new WeakMap(); // the form that took the place of one whose pane was made anew
  document.documentElement.classList.add("scripted");

  const pane = (name) => document.querySelector(`[data-pane="${name}"]`);
  const living = (form) => { while (!form.isConnected && heirs.has(form) && heirs.get(form) !== form) form = heirs.get(form); return form; };
  const clean = (field) => { dirty.delete(field); field.removeAttribute("aria-invalid"); };
  const hidden = (form, name) => form.querySelector(`input[type=hidden][name="${name}"]`);
  const survives = (field) => !!field.closest("[data-soon]"); // what is fetched for itself stays when its pane is made anew
  const busyIn = (where) => {
    const active = document.activeElement;
    if (active && where.contains(active) && active.matches("input:not([type=hidden]), textarea, select") && !survives(active)) return true;
    return [...dirty].some((field) => where.contains(field) && !survives(field));
  };

  // What is unfolded, by what it is of: a line of the order keeps its goods when its number moves.
  const unfolded = (where, own) => [...where.querySelectorAll("details[open]")].map((one) => {
    if (own && "fold" in one.dataset && one.contains(own)) return ""; // what it was opened for is done
    const line = one.closest(".items > li[data-line]");
    return line ? `.items > li[data-line="${CSS.escape(line.dataset.line)}"] > details` : one.id && `#${CSS.escape(one.id)}`;
  }).filter(Boolean);

  // Rows of a table by the marks of what they hold: one may stand elsewhere now, since another was taken out or put in.
  const rowsIn = (where) => [...where.querySelectorAll('form[data-live="row"]')].map((form) => ({ id: form.id, was: hidden(form, "was").value }));
  const movedRows = (old, made, own) => {
    const before = rowsIn(old), now = rowsIn(made), moved = new Map();
    for (const row of before) {
      const same = now.find((one) => one.id === row.id);
      const alike = now.filter((one) => one.was === row.was);
      if (same && (same.was === row.was || (own && own.id === row.id))) moved.set(row.id, row.id);
      else if (alike.length) moved.set(row.id, alike[0].id);
      else moved.set(row.id, same && before.length === now.length ? row.id : "");
    }
    return moved;
  };
  const movedId = (id, moved) => {
    const row = /^(r-[a-z]+-\d+)(-.*)$/.exec(id || "");
    if (!row || !moved.has(row[1])) return id;
    return moved.get(row[1]) && moved.get(row[1]) + row[2];
  };

  // Two have typed into one cell: neither is written over the other unseen.
  const clash = (form, was, now) => {
    atOnce(form);
    hidden(form, "was").value = was;
    form.dataset.now = now;
    const theirs = [...form.elements].filter((one) => dirty.has(one) && one.value !== one.defaultValue);
    for (const one of theirs) one.setAttribute("aria-invalid", "true");
    const told = theirs.map((one) => `${one.getAttribute("aria-label").split(",")[0].toLowerCase()} ${one.defaultValue || "empty"}`);
    const there = byId(`${form.id}-said`);
    const note = document.createElement("span");
    note.className = "bad";
    note.textContent = `Changed elsewhere meanwhile: ${told.join(", ")}. What you typed is not written: Enter writes it, Esc takes theirs.`;
    there.replaceChildren(note);
    said.textContent = note.textContent;
  };

  // A pane that is being typed into keeps its fields; what is marked for it is renewed, but never what was typed or what it was typed over.
  const renew = (made, own) => {
    const clashing = new Map();
    const parts = [...made.querySelectorAll("[data-patch][id]")].map((part) => [part, byId(part.id)]).filter((pair) => pair[1]);
    const isField = (one) => one.matches("textarea, input:not([type=hidden])");
    for (const [part, there] of parts) {
      if (!isField(part) || !dirty.has(there) || there.form === own) continue;
      if (part.defaultValue !== there.defaultValue && part.defaultValue !== there.value) clashing.set(there.form, "");
    }
    const inClash = [...clashing.keys(), ...document.querySelectorAll("form[data-now]")];
    for (const [part, there] of parts) {
      if (isField(part)) {
        if (!dirty.has(there)) there.value = part.value;
        there.defaultValue = part.defaultValue;
      } else if (part.matches("input")) {
        if (clashing.has(there.form)) clashing.set(there.form, part.value);
        else if (there.form !== null && "now" in there.form.dataset) there.form.dataset.now = part.value;
        else there.value = part.value;
      } else if (!inClash.some((form) => part.id === `${form.id}-said`)) there.replaceChildren(...part.childNodes);
    }
    for (const [form, now] of clashing) if (form.dataset.live === "row") clash(form, hidden(form, "was").value, now);
  };

  // A pane made anew: what was typed and not sent goes into the new fields, and what was typed over stays known.
  const rebuild = (old, made, own, moved) => {
    const forms = [...old.querySelectorAll("form")].filter((form) => !survives(form)).map((form) => [form, [...form.elements].map((one) => one.id).filter(Boolean)]);
    const soonOnes = [...old.querySelectorAll("[data-soon][id]")].map((one) => [one.id, [...one.querySelector(":scope > .more").childNodes]]);
    const unsent = [...dirty].filter((field) => old.contains(field) && !survives(field)).map((field) => {
      const form = field.form, mark = (name) => { const one = form && hidden(form, name); return one ? one.value : ""; };
      return { field, form, was: mark("was"), stamp: mark("stamp"), name: mark("name"), over: field.defaultValue };
    });
    const shut = unfolded(old, own), at = old.scrollTop, text = old.querySelector("#reading"), textAt = text ? text.scrollTop : 0;
    const card = old.querySelector("#card:not([hidden])"), chosen = card && card.dataset.mark && byId(card.dataset.mark);
    const within = own && card && card.contains(own);
    for (const { field } of unsent) dirty.delete(field);
    moving = true; // a field that is taken out while it is typed into tells of a change
    old.replaceChildren(made);
    for (const [id, nodes] of soonOnes) { // as it was, until it is fetched anew
      const there = byId(id), place = there && there.querySelector(":scope > .more");
      if (place && nodes.some((one) => one.nodeType === 1 && !one.matches("p.soft:only-child"))) { place.replaceChildren(...nodes); place.classList.add("old"); }
      if (place) for (const one of place.querySelectorAll(".money, .sums")) one.remove(); // never a sum of another order
    }
    moving = false;
    for (const [form, ids] of forms) {
      const heir = ids.map((id) => byId(movedId(id, moved))).find((one) => one && one.form);
      if (heir) heirs.set(form, heir.form);
    }
    const lostRows = new Set();
    for (const one of unsent) {
      const { field } = one, there = field.id && byId(movedId(field.id, moved));
      if (!there || !there.form) { if (/^r-[a-z]+-\d+-/.test(field.id) && field.value !== one.over) lostRows.add(field.value); continue; }
      const name = hidden(there.form, "name"), mark = hidden(there.form, "stamp"), was = hidden(there.form, "was");
      if (name && one.name && name.value !== one.name) continue; // another document stands there
      const over = there.defaultValue;
      if (field.type === "file") { there.files = field.files; dirty.add(there); continue; }
      there.value = field.value;
      dirty.add(there);
      if (mark && one.form !== own) mark.value = one.stamp;
      if (was && one.form !== own && over !== one.over && over !== there.value && there.form.dataset.live === "row") clash(there.form, one.was, was.value);
      if (there.matches("[data-check]")) check(there);
      if (there.matches("[data-preview]")) preview(there);
    }
    for (const one of shut) { const there = old.querySelector(one); if (there) there.open = true; }
    old.scrollTop = at;
    const now = old.querySelector("#reading");
    if (now) now.scrollTop = textAt;
    const mark = chosen && !within && byId(chosen.id);
    if (mark && mark.matches("#reading .m, #reading .l") && mark.textContent === chosen.textContent) open(mark, true);
    if (lostRows.size) return `Not written, since its row was changed or taken out elsewhere: ${[...lostRows].map((one) => `“${one}”`).join(", ")}.`;
    return "";
  };

  // Where the focus is, told so that it is found again: by its name, by what it stands in, or by its words.
  const focused = () => {
    const one = document.activeElement, where = one && one.closest("[data-pane]");
    if (!where) return null;
    const near = one.closest("[data-line], [id]:not([data-pane])");
    const words = (each) => each.getAttribute("aria-label") || each.textContent;
    const alike = (there) => [...there.querySelectorAll(one.tagName)].filter((each) => words(each) === words(one));
    const found = {
      where, id: one.id, tag: one.tagName, said: words(one), at: alike(where).indexOf(one),
      near: near && (near.dataset.line ? `[data-line="${CSS.escape(near.dataset.line)}"]` : `#${CSS.escape(near.id)}`),
      nth: near ? [...near.querySelectorAll(one.tagName)].indexOf(one) : -1, ends: null,
    };
    try { if (one.selectionStart !== null && one.selectionStart !== undefined) found.ends = [one.selectionStart, one.selectionEnd]; } catch { /* a field without a caret */ }
    return found;
  };
  const refocus = (was, moved) => {
    if (!was || document.activeElement !== body) return;
    const near = was.near && was.where.querySelector(was.near);
    const alike = [...was.where.querySelectorAll(was.tag)].filter((each) => (each.getAttribute("aria-label") || each.textContent) === was.said);
    const back = (was.id && byId(movedId(was.id, moved))) || (near && near.querySelectorAll(was.tag)[was.nth]) || alike[Math.min(Math.max(was.at, 0), alike.length - 1)];
    if (back && !back.disabled) back.focus({ preventScroll: true });
    if (document.activeElement === body) was.where.focus({ preventScroll: true }); // what had it is gone
    else if (was.ends && back.setSelectionRange) try { back.setSelectionRange(...was.ends); } catch { /* the same */ }
  };

  // A press that has begun ends on what it began on: panes put under it between press and release would swallow the click.
  let release = null; // while the first button is down
  let released = Promise.resolve();
  const lift = () => { if (release) setTimeout(release); release = null; }; // after the click of this release
  addEventListener("pointerdown", (event) => {
    lift();
    if (event.button) return; // the menu of another button may swallow its release
    released = new Promise((done) => { release = done; setTimeout(done, 5000); }); // a scroll bar may, too
  }, true);
  for (const end of ["pointerup", "pointercancel", "keydown"]) addEventListener(end, lift, true);
  addEventListener("pointermove", (event) => { if (!event.buttons) lift(); }, true);
  addEventListener("blur", lift); // of the window: a release outside it is not told

  // Puts new panes in place of the old.
  const show = (panes, always, own = null) => {
    const focus = focused();
    let moved = new Map(), told = "";
    for (const [name, html] of Object.entries(panes)) {
      const old = pane(name);
      if (!old) continue;
      const made = document.createElement("template");
      made.innerHTML = html; // made by the desk itself, every text in it escaped
      const rows = movedRows(old, made.content, own);
      const still = [...rows].every(([was, now]) => was === now) && rowsIn(old).length === rowsIn(made.content).length;
      if (busyIn(old) && !always.has(name) && still) { renew(made.content, own); continue; }
      if (rows.size) moved = rows;
      told = rebuild(old, made.content, own, rows) || told;
    }
    rail();
    soon();
    refocus(focus, moved);
    return told;
  };

  const send = (given, always = new Set()) => {
    const form = living(given);
    if (!form.isConnected) return Promise.resolve(false); // its row is gone, which was told
    const data = new URLSearchParams(new FormData(form));
    const asIs = data.toString();
    if (underway.get(form) === asIs && !("again" in form.dataset)) return Promise.resolve(false); // pressed twice
    underway.set(form, asIs);
    const name = new URL(form.action).pathname;
    const sent = [...form.elements].map((field) => [field, field.id, field.value]);
    sending += 1;
    turn += 1;
    body.classList.add("working");
    queue = queue.then(async () => {
      const now = living(form); // what was sent before may have moved its row
      for (const one of ["at-row", "was", "stamp"]) if (data.has(one) && hidden(now, one)) data.set(one, hidden(now, one).value);
      try {
        const answer = await fetch(name, { method: "POST", body: data, headers: { "X-Panes": "1" } });
        const type = answer.headers.get("content-type") || "";
        if (!type.startsWith("application/json")) throw new Error(await answer.text());
        const found = await answer.json();
        await released;
        const own = found.refused ? null : living(form);
        for (const [field, id, value] of sent) {
          const known = own && form.id && id.startsWith(`${form.id}-`) ? own.id + id.slice(form.id.length) : id;
          for (const one of [field, known && byId(known)]) {
            if (!one || !dirty.has(one) || (one !== field && one.form !== own)) continue;
            if (found.refused) { if (own === null && form.dataset.live === "row") one.setAttribute("aria-invalid", "true"); } else if (one.value === value) clean(one); // else it was typed on
          }
        }
        stamp = found.stamp;
        turn += 1;
        if (!found.refused && location.pathname === "/") history.replaceState(null, "", found.where);
        const told = show(found.panes, found.refused ? new Set() : always, own);
        said.textContent = [found.told, told].filter(Boolean).join(" ");
        return !found.refused;
      } catch (error) {
        lost("The desk does not answer. What you typed is still here; start it again, and reload the page.");
        return false;
      } finally {
        sending -= 1;
        underway.delete(form);
        body.classList.toggle("working", sending > 0);
      }
    });
    return queue;
  };

  const lost = (words) => {
    said.textContent = words;
    if (byId("lost")) return;
    const banner = document.createElement("p");
    banner.id = "lost";
    banner.className = "banner";
    banner.setAttribute("role", "alert");
    banner.textContent = words;
    byId("p-top").append(banner);
  };
  // It answers again: rows that were typed and could not be sent are sent now.
  const answers = () => {
    const banner = byId("lost");
    if (!banner) return;
    banner.remove();
    for (const form of new Set([...dirty].map((field) => field.form))) if (form && form.dataset.live === "row" && !("now" in form.dataset)) send(form);
  };

  const waiting = new WeakMap(); // rows that are sent as soon as nobody types
  const pending = new Set();
  const later = (form) => {
    clearTimeout(waiting.get(form));
    pending.add(form);
    waiting.set(form, setTimeout(() => { pending.delete(form); send(form); }, 350));
  };
  const atOnce = (form) => { clearTimeout(waiting.get(form)); pending.delete(form); };
  document.addEventListener("input", (event) => {
    const field = event.target;
    if (!field.form) return;
    dirty.add(field);
    if (field.matches("[data-check]")) { check(field); learn().then(() => complete(field)); }
    if (field.matches("[data-preview]")) preview(field);
    if (field.form.dataset.live === "row" && !("now" in field.form.dataset)) later(field.form);
  });
  document.addEventListener("change", (event) => {
    const form = event.target.form;
    if (!form || form.dataset.live !== "row" || "now" in form.dataset) return;
    if (dirty.has(event.target)) { atOnce(form); send(form); } // else it was sent while she typed
  });
  // Left, not changed: a field made anew under what she typed tells of no change.
  document.addEventListener("focusout", (event) => {
    const form = event.target.form;
    if (form && form.dataset.live === "typed" && dirty.has(event.target) && !moving) send(form);
  });
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!("live" in form.dataset)) { // it opens another page, with what is typed in it
      const goes = () => { const now = living(form); for (const one of [...dirty]) if (one.form === now) dirty.delete(one); return now; };
      if (sending || pending.size) { event.preventDefault(); settled().then(() => goes().submit()); } else goes();
      return;
    }
    event.preventDefault();
    atOnce(form);
    const where = form.closest("[data-pane]");
    const always = new Set(where ? [where.dataset.pane] : []);
    const kind = form.dataset.live;
    if (kind === "row") always.clear();
    if ("now" in form.dataset) { hidden(form, "was").value = form.dataset.now; delete form.dataset.now; } // she has seen the other's, and writes hers
    send(form, always).then((good) => {
      const row = document.querySelector("tr.new");
      if (!good || kind !== "new" || !row || [...dirty].some((field) => row.contains(field))) return; // she types the next one already
      row.querySelector("input").focus();
    });
  });

  // What was typed is written before another page is opened.
  const settled = async () => {
    for (const form of [...pending]) { atOnce(form); send(form); }
    while (sending) await queue;
  };
  const go = (where) => { settled().then(() => location.assign(where)); };
  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[href]");
    if (!link || event.defaultPrevented || event.button || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
    if (link.getAttribute("href").startsWith("#") || !(sending || pending.size) || link.matches("[data-mark-at]")) return;
    event.preventDefault();
    go(link.href);
  });

  // A file that is dropped is chosen by it; what it is, and whether to take it in, she says as for any other.
  const takes = (event) => event.target.closest("#p-documents, #p-measures");
  const dropping = (on) => { for (const one of document.querySelectorAll("#p-documents, #p-measures")) one.classList.toggle("dropping", one === on); };
  const withFiles = (event) => event.dataTransfer && [...event.dataTransfer.types].includes("Files");
  document.addEventListener("dragover", (event) => { if (withFiles(event)) { event.preventDefault(); dropping(takes(event)); } });
  document.addEventListener("dragleave", (event) => { if (!event.relatedTarget) dropping(null); });
  document.addEventListener("drop", (event) => {
    if (!withFiles(event)) return;
    event.preventDefault(); // beside the pane too, where the browser would open it instead of the desk
    dropping(null);
    const where = takes(event), measured = where && where.id === "p-measures";
    const field = byId(measured ? "list-file" : "file"), one = event.dataTransfer.files[0], more = event.dataTransfer.files.length - 1;
    if (!field || !one || !where) return;
    const chosen = new DataTransfer();
    chosen.items.add(one);
    field.files = chosen.files;
    dirty.add(field);
    field.closest("details").open = true;
    field.scrollIntoView({ block: "center" });
    field.focus({ preventScroll: true });
    said.textContent = `${one.name} is chosen. ${measured ? "Take it in." : "Say what it is, and take it in."}${more > 0 ? " Of several files the first is taken." : ""}`;
  });

  // What a line of her own would be read as, while it is typed.
  const asking = new WeakMap();
  const check = (field) => {
    clearTimeout(asking.get(field));
    const heard = () => byId(field.getAttribute("aria-describedby"));
    const tell = (words, kind = "") => { const there = heard(); if (there) { there.className = "heard " + kind; there.textContent = words; } };
    tell(""); // what stood there was of other words
    asking.set(field, setTimeout(async () => {
      const line = field.value;
      if (!line.trim()) return;
      try {
        const answer = await fetch("/check", { method: "POST", body: new URLSearchParams({ key, line }) });
        const found = await answer.json();
        if (!field.isConnected || field.value !== line) return; // she has typed on
        tell(found.wrong || "Reads: " + found.says.join("; "), found.wrong ? "bad" : "good");
      } catch { /* it is looked at again when it is written */ }
    }, 300));
  };

  // The word that is being typed in a line of her own, completed from the words that lines are read by, and the rooms of the job.
  let words = [], learned = "";
  const learn = async () => {
    if (learned === stamp) return;
    learned = stamp;
    try { words = await (await fetch("/words")).json(); } catch { learned = ""; }
  };
  const complete = (field) => {
    const line = field.value, found = new Set();
    if (document.activeElement !== field) return;
    for (const { index } of [...line.matchAll(/(?<![\p{L}\p{N}-])[\p{L}\p{N}]/gu)].slice(-3)) {
      const begun = line.slice(index).toLowerCase();
      if (begun.length > 1) for (const word of words) if (word.length > begun.length && word.toLowerCase().startsWith(begun)) found.add(line + word.slice(begun.length));
    }
    byId("words").replaceChildren(...[...found].slice(0, 8).map((one) => { const made = document.createElement("option"); made.value = one; return made; }));
  };

  // What a pasted list would be taken for, before it is written.
  const preview = (field) => {
    clearTimeout(asking.get(field));
    const there = () => byId(field.dataset.preview);
    there().replaceChildren(); // what stood there was of another list
    asking.set(field, setTimeout(async () => {
      const text = field.value;
      if (!text.trim()) return;
      try {
        const answer = await fetch("/preview", { method: "POST", body: new URLSearchParams({ key, text }), headers: { "X-Panes": "1" } });
        const html = await answer.text();
        if (answer.ok && field.isConnected && field.value === text) there().innerHTML = html; // made by the desk itself, every text in it escaped
      } catch { /* it is told when it is written */ }
    }, 400));
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

  // A room that the documents name goes into the new row, and its sizes are typed next.
  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-name]"), name = byId("new-name"), next = byId("new-length");
    if (!link || !name || !next || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    name.value = link.dataset.name;
    dirty.add(name);
    next.focus();
  }, true);

  // Marks of the text, and the numbers that come from them.
  let lit = [];
  const light = (some) => { for (const one of lit) one.classList.remove("lit"); lit = some; for (const one of lit) one.classList.add("lit"); };
  const users = (id) => [...document.querySelectorAll("#p-order [data-at]")].filter((one) => one.dataset.at.split(" ").includes(id));
  const linesOf = (mark) => (mark.dataset.for || "").split(" ").map((id) => id && document.getElementById(id)).filter(Boolean);
  const pointOf = (mark) => {
    const link = mark && document.querySelector(`#p-points .asked > li:not(#aside li) a[data-mark-at="${CSS.escape(mark.id)}"]`);
    return link && link.closest("li");
  };
  const open = (mark, quiet = false) => {
    const card = document.getElementById("card");
    if (!card) return;
    const lines = linesOf(mark);
    light([mark, ...users(mark.id), ...lines.map((one) => one.querySelector("summary"))]);
    card.querySelector(".card-said").textContent = mark.dataset.said || "Nothing was read at these words.";
    card.querySelector(".card-words").textContent = lines.length ? "Used for: " + lines.map((one) => one.querySelector(".what").textContent.trim()).join("; ") : "";
    const row = mark.closest(".l");
    const set = (id, said) => { document.getElementById(id).value = said; };
    set("card-w", row.textContent.trim());
    set("card-qw", row.textContent.trim());
    set("card-qa", document.querySelector("#p-documents .tabs [aria-current] b").textContent);
    set("card-at", document.querySelector("#p-documents .tabs [aria-current] b").textContent + " " + row.dataset.n);
    set("card-lines", card.querySelector(".card-words").textContent);
    card.querySelector(".card-point").hidden = !pointOf(mark);
    card.hidden = false;
    if (!quiet) beside(mark);
    whole(mark, set, quiet);
    for (const id of ["card-l", "card-q"]) if (!dirty.has(byId(id))) byId(id).value = "";
  };
  // The card lies over the lower half: what it speaks of stands above it.
  const beside = (mark) => {
    const text = document.getElementById("reading");
    if (matchMedia("(max-width: 79.99rem)").matches) text.scrollIntoView({ block: "start" });
    text.scrollTop += mark.getBoundingClientRect().top - text.getBoundingClientRect().top - text.clientHeight / 3;
    clear(mark);
  };
  const clear = (mark) => {
    const over = mark.getBoundingClientRect().bottom + 8 - byId("card").getBoundingClientRect().top, where = byId("p-documents");
    if (over <= 0) return;
    if (where.scrollHeight > where.clientHeight) where.scrollTop += over;
    else scrollBy(0, over);
  };
  // The whole clause, which may run over several lines, and the line by which none of it is ordered.
  const whole = async (mark, set, quiet) => {
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
      const found = answer.ok && await answer.json();
      if (!found || card.dataset.mark !== mark.id || !card.isConnected) return; // another mark was chosen meanwhile
      words.textContent = "The clause: “" + found.words + "”";
      set("card-w", found.words);
      set("card-qw", found.there);
      set("card-qa", found.at);
      none.value = found.none.join("\n");
      box.querySelector("span").textContent = "Order none of it: writes “" + found.none.join(" ") + "”";
      box.hidden = !found.none.length;
      stays.hidden = !!found.none.length;
      if (!quiet) clear(mark); // the card is taller now
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
    if (event.target.closest(".card-point")) {
      const point = pointOf(byId(byId("card").dataset.mark));
      if (!point) return;
      showPart("points");
      point.scrollIntoView({ block: "center" });
      point.querySelector("input:not([type=hidden]), button, a").focus({ preventScroll: true });
      return;
    }
    const mark = event.target.closest("#reading .m[id]") || event.target.closest("#reading .l");
    if (mark && (mark.matches(".m") || (mark.textContent.trim() && getSelection().isCollapsed))) { open(mark); return; }
    const link = event.target.closest("a[data-mark-at]");
    if (!link) return;
    event.preventDefault();
    const id = link.dataset.markAt;
    if (toMark(id)) return;
    const file = link.dataset.file || link.textContent.replace(/^.*\(/, "").replace(/(, | )(line|page|paragraph)?.*$/, "");
    const tab = [...document.querySelectorAll("#p-documents .tabs a")].find((one) => one.querySelector("b").textContent === file);
    if (tab) go(tab.href + "#" + id);
  });
  const step = (by) => {
    // What was set aside and may be to order comes first: it stands under no question, and would be missed silently.
    const marks = [...document.querySelectorAll("#reading .perhaps[id]"), ...document.querySelectorAll("#reading [data-open][id]:not(.perhaps)")];
    if (!marks.length) { said.textContent = "Nothing is open in this document."; return; }
    const at = marks.indexOf(document.activeElement);
    toMark(marks[at < 0 ? (by > 0 ? 0 : marks.length - 1) : (at + by + marks.length) % marks.length].id);
  };
  document.addEventListener("keydown", (event) => {
    const typing = event.target.matches("input, textarea, select");
    const clashing = event.target.form && "now" in event.target.form.dataset ? event.target.form : null;
    if (event.key === "Escape" && clashing) { // what another has written stands
      hidden(clashing, "was").value = clashing.dataset.now;
      delete clashing.dataset.now;
      for (const one of [...dirty]) if (one.form === clashing) { one.value = one.defaultValue; clean(one); }
      byId(`${clashing.id}-said`).replaceChildren();
      return;
    }
    if (event.key === "Escape") {
      const card = byId("card"), from = card && card.contains(event.target) && byId(card.dataset.mark);
      if (card) card.hidden = true;
      light([]);
      if (from) (from.matches("[tabindex]") ? from : byId("reading")).focus({ preventScroll: true }); // where it was opened
      return;
    }
    if (event.key === "Enter" && event.target.matches("#reading .m[id]")) { open(event.target); document.getElementById("card-l").focus(); event.preventDefault(); return; }
    if (event.target.id === "reading" && (event.key === "ArrowDown" || event.key === "ArrowUp" || event.key === "Enter")) {
      lines(event);
      return;
    }
    if (typing || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "n") step(1);
    else if (event.key === "p") step(-1);
    else return;
    event.preventDefault();
  });
  // In the text the arrows go from line to line, over those that hold nothing, and Enter chooses one: a line without a mark too.
  const lines = (event) => {
    const all = [...event.target.querySelectorAll(".l")].filter((one) => one.textContent.trim()), was = event.target.querySelector(".l.now");
    if (event.key === "Enter") {
      if (!was) return;
      event.preventDefault();
      open(was);
      byId("card-l").focus();
      return;
    }
    event.preventDefault();
    const at = all.indexOf(was) + (event.key === "ArrowDown" ? 1 : -1), next = all[at < 0 && !was ? all.length - 1 : Math.min(Math.max(at, 0), all.length - 1)];
    if (!next) return;
    if (was) was.classList.remove("now");
    next.classList.add("now");
    next.scrollIntoView({ block: "nearest" });
    said.textContent = `Line ${next.dataset.n}: ${next.textContent.trim()}`;
  };
  const rail = () => {
    const text = document.getElementById("reading"), at = document.querySelector(".rail");
    if (!text || !at) return;
    at.replaceChildren();
    const high = text.scrollHeight, top = text.getBoundingClientRect().top - text.scrollTop;
    for (const mark of text.querySelectorAll("[data-open][id]")) {
      const one = document.createElement("i");
      one.className = ["unread", "perhaps"].find((kind) => mark.classList.contains(kind)) || "";
      one.style.top = `${(100 * (mark.getBoundingClientRect().top - top)) / high}%`;
      at.append(one);
    }
  };
  rail();
  addEventListener("resize", rail);
  // The columns stay below what stands over them, however much that is.
  const over = byId("p-top"), below = () => root.style.setProperty("--top", `${Math.min(over.offsetHeight, innerHeight / 3)}px`);
  new ResizeObserver(below).observe(over);
  below();
  if (location.hash) toMark(location.hash.slice(1));

  // What is dear to make is asked for when it is opened; of another state of the job than is shown, it is asked for again.
  const kept = new Set(), shut = new Set(); // what is unfolded in such a part, which comes after its pane, and what was folded
  const fill = async (one, tries = 0) => {
    const place = one.dataset && one.dataset.more && one.querySelector(":scope > .more");
    if (!place || !(one.open || "soon" in one.dataset) || !one.isConnected || place.dataset.made) return;
    place.dataset.made = "1";
    try {
      const answer = await fetch(one.dataset.more + (one.dataset.more.includes("?") ? "&" : "?") + location.search.slice(1), { headers: { "X-Panes": "1" } });
      const html = await answer.text();
      if (!answer.ok || answer.headers.get("x-stamp") !== stamp) throw new Error(answer.status);
      const focus = place.contains(document.activeElement) ? focused() : null, typed = [...dirty].filter((field) => field.id && place.contains(field));
      const forms = [...place.querySelectorAll("form")].map((form) => [form, [...form.elements].map((each) => each.id).filter(Boolean)]);
      moving = true;
      place.innerHTML = html; // made by the desk itself, every text in it escaped
      moving = false;
      place.classList.remove("old");
      for (const [form, ids] of forms) {
        const heir = ids.map((id) => byId(id)).find((each) => each && each.form);
        if (heir) heirs.set(form, heir.form);
      }
      for (const field of typed) {
        dirty.delete(field);
        const there = [...place.querySelectorAll("input")].find((each) => each.name === field.name);
        if (there) { there.value = field.value; dirty.add(there); }
      }
      refocus(focus, new Map());
      for (const [some, open] of [[kept, true], [shut, false]]) for (const id of some) { const there = byId(id); if (there && place.contains(there)) there.open = open; }
    } catch { // the link to it still stands there
      delete place.dataset.made;
      if (tries < 20) setTimeout(() => fill(one, tries + 1), 1500);
      look();
    }
  };
  document.addEventListener("toggle", (event) => {
    const one = event.target;
    if (one.id && one.isConnected && one.closest(".more")) { kept[one.open ? "add" : "delete"](one.id); shut[one.open ? "delete" : "add"](one.id); }
    fill(one);
  }, true);
  const soon = () => { for (const one of document.querySelectorAll("[data-soon]")) fill(one); };
  soon();

  // Another program, or another window, may have changed a file.
  let looking = false, missed = 0;
  const look = async () => {
    if (looking || sending) return;
    looking = true;
    const at = turn;
    try {
      const found = await (await fetch("/state")).json();
      missed = 0;
      answers();
      if (turn !== at || found.stamp === stamp) return;
      const html = await (await fetch("/" + (location.search || "?"))).text();
      const made = new DOMParser().parseFromString(html, "text/html");
      const panes = {};
      for (const one of made.querySelectorAll("[data-pane]")) panes[one.dataset.pane] = one.innerHTML;
      await released;
      if (turn !== at) return; // what was sent meanwhile shows what it finds itself
      stamp = made.body.dataset.stamp;
      turn += 1;
      const told = show(panes, new Set());
      said.textContent = ["A file of the job has changed, and is shown as it is now.", told].filter(Boolean).join(" ");
    } catch {
      missed += 1;
      if (missed === 2) lost("The desk does not answer. What is shown may be old; start it again, and reload the page.");
    } finally { looking = false; }
  };
  setInterval(look, 1500);
  addEventListener("beforeunload", (event) => { if ([...dirty].some((one) => one.matches("textarea, input, select") && document.contains(one))) event.preventDefault(); });
})();
