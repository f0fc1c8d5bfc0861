(() => {
  "use strict";
  const papers = document.getElementById("papers");
  const tip = papers.querySelector(".tip");
  const byName = new Map();
  const put = (map, name, one) => { if (map.has(name)) map.get(name).push(one); else map.set(name, [one]); };
  for (const mark of papers.querySelectorAll("[data-mark]")) put(byName, mark.dataset.mark, mark);
  const usersOf = new Map();
  for (const user of document.querySelectorAll("main [data-at]")) {
    for (const name of user.dataset.at.split(" ")) put(usersOf, name, user);
  }

  // Long lists are data in the page: deflated, and laid out where somebody looks.
  const made = (name, looks, text = "") => {
    const one = document.createElement(name);
    if (looks) one.className = looks;
    one.textContent = text;
    return one;
  };
  const read = async (template) => {
    const bytes = Uint8Array.from(atob(template.content.textContent), (c) => c.charCodeAt(0));
    const inflated = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
    return JSON.parse(await new Response(inflated).text());
  };
  const unpacked = (template) => {
    template.remove();
    return read(template);
  };
  const laying = new Map();
  const lines = async (paper) => {
    const text = paper.querySelector(".text");
    const template = text.querySelector("template");
    if (!template) return;
    const all = document.createDocumentFragment();
    for (const [name, pieces] of await unpacked(template)) {
      const line = made("div", "l");
      line.dataset.n = name;
      for (const piece of pieces) {
        if (typeof piece === "string") { line.append(piece); continue; }
        const [words, mark, kind, said, first, user] = piece;
        const one = made(user ? "a" : "span", "m " + kind, words);
        if (user) one.href = "#" + user;
        else if (["asked", "confirm", "unread"].includes(kind)) { one.tabIndex = 0; one.setAttribute("role", "note"); }
        if (first) one.id = mark;
        one.dataset.mark = mark;
        one.title = said;
        put(byName, mark, one);
        line.append(one);
      }
      all.append(line);
    }
    text.replaceChildren(all);
  };
  const laidOut = (paper) => {
    if (!laying.has(paper)) laying.set(paper, lines(paper));
    return laying.get(paper);
  };
  for (const paper of papers.querySelectorAll(".paper:has(template)")) {
    paper.addEventListener("toggle", () => { if (paper.open) laidOut(paper); });
  }
  const paperOf = (mark) => document.getElementById(mark.split("-")[0]);
  let lit = [];
  const light = (elements) => {
    for (const one of lit) one.classList.remove("lit");
    lit = elements;
    for (const one of lit) one.classList.add("lit");
  };
  const beside = () => getComputedStyle(papers).position === "sticky";
  const show = (mark) => {
    const paper = mark.closest("details");
    if (paper) paper.open = true;
    if (!beside()) return;
    const box = papers.getBoundingClientRect();
    const at = mark.getBoundingClientRect();
    if (at.top > box.top + 60 && at.bottom < box.bottom - 110) return;
    const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
    papers.scrollTo({ top: papers.scrollTop + at.top - box.top - box.height / 3, behavior: calm || Math.abs(at.top - box.top) > 2 * box.height ? "auto" : "smooth" });
  };
  const fromNumber = async (user) => {
    await Promise.all(user.dataset.at.split(" ").map((name) => laidOut(paperOf(name))));
    const marks = user.dataset.at.split(" ").flatMap((name) => byName.get(name) || []);
    if (!marks.length) return;
    light([user, ...marks]);
    tip.textContent = marks[0].title;
    show(marks[0]);
  };
  const fromMark = (mark) => {
    const users = usersOf.get(mark.dataset.mark) || [];
    const shut = users.map((user) => user.closest(".items details:not([open])")).filter(Boolean);
    light([...(byName.get(mark.dataset.mark) || []), ...users, ...shut.map((one) => one.querySelector("summary"))]);
    const lines = [...new Set(users.map((user) => user.closest(".items > li")).filter(Boolean))];
    const names = lines.map((line) => line.querySelector(".what").textContent.trim());
    tip.textContent = mark.title + (names.length ? "\nUsed for: " + names.join("; ") : "");
  };
  const look = (event) => {
    const mark = event.target.closest("[data-mark]");
    if (mark) return fromMark(mark);
    const user = event.target.closest("main [data-at]");
    if (user) fromNumber(user);
  };
  document.addEventListener("mouseover", look);
  document.addEventListener("focusin", look);
  document.addEventListener("mouseout", (event) => {
    if (event.relatedTarget && event.relatedTarget.closest("[data-mark], [data-at]")) return;
    light([]);
    const mark = document.activeElement.closest("[data-mark]");
    if (mark) fromMark(mark); // what has the focus stays shown when the pointer leaves
  });
  document.addEventListener("keydown", (event) => { if (event.key === "Escape") { light([]); tip.textContent = ""; } });

  // A link opens what holds its target, so that the target can be seen, and takes the focus there.
  const arrive = async () => {
    let name = "";
    try { name = decodeURIComponent(location.hash.slice(1)); } catch { return; }
    if (/^d\d+-m\d+$/.test(name) && paperOf(name)) await laidOut(paperOf(name));
    const target = document.getElementById(name);
    if (!target) return;
    for (let up = target.closest("details"); up; up = up.parentElement.closest("details")) up.open = true;
    if (!target.matches("a, [tabindex]")) target.setAttribute("tabindex", "-1");
    target.focus({ preventScroll: true });
    if (target.matches("[data-mark]") && beside()) show(target); else target.scrollIntoView({ block: "center" });
  };
  addEventListener("hashchange", arrive);
  document.addEventListener("click", (event) => {
    const link = event.target.closest('a[href^="#"]');
    if (link && link.getAttribute("href") === location.hash) { event.preventDefault(); arrive(); }
  });
  if (location.hash) arrive();

  const items = [...document.querySelectorAll(".items details")];
  if (items.length) {
    const all = document.createElement("button");
    all.className = "all";
    all.type = "button";
    all.textContent = "Open all working";
    all.addEventListener("click", () => {
      const open = items.some((one) => !one.open);
      for (const one of items) one.open = open;
      all.textContent = open ? "Close all working" : "Open all working";
    });
    document.querySelector(".items").after(all);
  }
  // What is folded below a head opens when it is asked for.
  const folds = (room, turn) => {
    const head = room.querySelector("th");
    const button = made("button", "", head.textContent);
    button.type = "button";
    button.setAttribute("aria-expanded", "false");
    button.addEventListener("click", () => {
      const open = button.getAttribute("aria-expanded") !== "true";
      button.setAttribute("aria-expanded", String(open));
      turn(open);
    });
    head.replaceChildren(button);
  };
  for (const room of document.querySelectorAll("tbody.room")) {
    const rows = room.nextElementSibling;
    rows.classList.add("shut");
    folds(room, (open) => rows.classList.toggle("shut", !open));
  }
  const row = ([label, working, at, words, layer]) => {
    const one = made("tr");
    const head = made("th", "", label);
    head.scope = "row";
    const cell = made("td", "", working);
    if (words) cell.append(made("span", "words", words));
    const from = made("td", "from", layer || "");
    at.forEach(([mark, file, line], n) => {
      from.append(n && at[n - 1][1] === file ? ", " : (n ? "; " : "") + file + " ");
      const link = made("a", "to", line);
      link.href = "#" + mark;
      link.dataset.at = mark;
      link.prepend(made("span", "unseen", "line "));
      from.append(link);
    });
    if (at.length) {
      one.dataset.at = at.map(([mark]) => mark).join(" ");
      for (const [mark] of at) put(usersOf, mark, one);
    }
    one.append(head, cell, from);
    return one;
  };
  for (const all of document.querySelectorAll("tbody.all-rooms")) {
    let parts = [];
    folds(all, async (open) => {
      const template = all.querySelector("template");
      if (template) {
        for (const [name, sum, steps] of await unpacked(template)) {
          const room = made("tbody", "room");
          const line = made("tr");
          const head = made("th", "", name);
          head.scope = "row";
          line.append(head, made("td", "", sum), made("td", "from"));
          room.append(line);
          const rows = made("tbody", "rows shut");
          folds(room, (shown) => {
            if (!rows.childElementCount) rows.append(...steps.map(row));
            rows.classList.toggle("shut", !shown);
          });
          parts.push(room, rows);
        }
        all.after(...parts);
      }
      for (const part of parts) part.classList.toggle("gone", !open);
    });
  }

  // What does not hold every word that is typed is left out of sight.
  const list = document.querySelector(".items");
  if (list && items.length > 1) {
    const field = document.createElement("input");
    field.type = "search";
    field.className = "filter";
    field.placeholder = "Show lines and open points with these words";
    field.setAttribute("aria-label", field.placeholder);
    const searched = [...document.querySelectorAll(".items > li, li.point")];
    const folded = new Map();  // what a line holds as data: rooms, and how each row was measured
    const unfold = async (one) => {
      const data = await Promise.all([...one.querySelectorAll(".all-rooms template")].map(read));
      if (!folded.has(one)) folded.set(one, data.flat(Infinity).join(" ").toLowerCase());
    };
    field.addEventListener("input", async () => {
      await Promise.all(searched.filter((one) => !folded.has(one)).map(unfold));
      const words = field.value.toLowerCase().split(/\s+/).filter(Boolean);
      for (const one of searched) {
        const text = one.textContent.toLowerCase() + " " + folded.get(one);
        one.classList.toggle("gone", !words.every((word) => text.includes(word)));
      }
    });
    list.before(field);
  }

  // n and p go from one open point to the next and back.
  const points = [...document.querySelectorAll(".point")];
  let point = -1;
  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target.matches("input, textarea, select")) return;
    const way = { n: 1, p: -1 }[event.key];
    const shown = points.filter((one) => !one.closest(".gone"));
    if (!way || !shown.length) return;
    const from = shown.indexOf(points[point]);
    const next = shown[from < 0 ? (way > 0 ? 0 : shown.length - 1) : (from + way + shown.length) % shown.length];
    point = points.indexOf(next);
    next.setAttribute("tabindex", "-1");
    next.focus({ preventScroll: true });
    next.scrollIntoView({ block: "center" });
    light([next]);
  });

})();
