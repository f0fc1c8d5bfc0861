(() => {
  "use strict";
  const papers = document.getElementById("papers");
  const tip = papers.querySelector(".tip");
  const byName = new Map();
  for (const mark of papers.querySelectorAll("[data-mark]")) {
    const list = byName.get(mark.dataset.mark);
    if (list) list.push(mark); else byName.set(mark.dataset.mark, [mark]);
  }
  const usersOf = new Map();
  for (const user of document.querySelectorAll("main [data-at]")) {
    for (const name of user.dataset.at.split(" ")) {
      const list = usersOf.get(name);
      if (list) list.push(user); else usersOf.set(name, [user]);
    }
  }
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
  const fromNumber = (user) => {
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
  const arrive = () => {
    let target = null;
    try { target = document.getElementById(decodeURIComponent(location.hash.slice(1))); } catch { return; }
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
  // Measured rows of a room, where there are many, stay folded below their sum until they are asked for.
  for (const room of document.querySelectorAll("tbody.room")) {
    const rows = room.nextElementSibling;
    const head = room.querySelector("th");
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = head.textContent;
    const turn = (open) => { rows.classList.toggle("shut", !open); button.setAttribute("aria-expanded", String(open)); };
    turn(false);
    button.addEventListener("click", () => turn(rows.classList.contains("shut")));
    head.replaceChildren(button);
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
    field.addEventListener("input", () => {
      const words = field.value.toLowerCase().split(/\s+/).filter(Boolean);
      for (const one of searched) {
        const text = one.textContent.toLowerCase();
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
