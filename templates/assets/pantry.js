// What can be cooked from what is there: ticks beside the ingredients, and the recipes that need the least besides.
// Without it every ingredient still leads to its recipes. The ticks are kept on this device only.
"use strict";

const form = document.querySelector(".larder-form");
const larder = document.querySelector(".larder");
const cookable = document.querySelector(".cookable");
const list = cookable.querySelector("ul");
const more = cookable.querySelector(".more-found");
const have = form.querySelector(".have");
const untick = form.querySelector(".untick");
const find = document.getElementById("larder-find");
const KEPT = "levelcup-larder";
const STEP = 30;
const NAMED = 6; // ingredients named as missing; the rest are counted
let ranked = [];
let shown = 0;

const boxes = [...larder.querySelectorAll("li")].map((row) => {
  const box = document.createElement("input");
  box.type = "checkbox";
  box.setAttribute("aria-label", row.dataset.name);
  row.prepend(box);
  return { box, row, name: row.dataset.name, folded: found.fold(row.dataset.name) };
});

function names(some) {
  if (some.length <= NAMED) return some.join(", ");
  const n = some.length - NAMED;
  return `${some.slice(0, NAMED).join(", ")} ${kitchen.say("found.pantry_more", { n })}`;
}

function show() {
  const rows = ranked.slice(shown, shown + STEP).map(({ recipe, missing }) => {
    const row = found.row(form.dataset.up, recipe);
    const note = document.createElement("span");
    note.className = "missing";
    note.textContent = missing.length
      ? kitchen.say("found.pantry_missing", { some: names(missing) })
      : kitchen.say("found.pantry_all");
    row.append(note);
    return row;
  });
  list.append(...rows);
  shown += rows.length;
  more.hidden = shown >= ranked.length;
  return rows[0];
}

async function rank() {
  const ticked = boxes.filter(({ box }) => box.checked).map(({ name }) => name);
  keep(ticked);
  have.textContent = ticked.length
    ? kitchen.say("found.pantry_have", { some: ticked.join(", ") })
    : kitchen.say("found.pantry_none");
  untick.hidden = ticked.length === 0;
  list.replaceChildren();
  shown = 0;
  ranked = [];
  if (ticked.length) {
    const all = await found.data(form);
    const places = new Map(all.ingredients.map((name, i) => [name, i]));
    const mine = new Set(ticked.map((name) => places.get(name)));
    const there = new Set(all.staples);
    for (const recipe of all.recipes) {
      const used = recipe[8].filter((i) => mine.has(i)).length;
      if (used === 0) continue;
      const missing = recipe[8].filter((i) => !mine.has(i) && !there.has(i)).map((i) => all.ingredients[i]);
      ranked.push({ recipe, used, missing });
    }
    ranked.sort((a, b) => a.missing.length - b.missing.length || b.used - a.used);
    show();
  }
  cookable.hidden = ranked.length === 0;
}

function keep(ticked) {
  try {
    if (ticked.length) localStorage.setItem(KEPT, JSON.stringify(ticked));
    else localStorage.removeItem(KEPT);
  } catch {
    // A browser that keeps nothing still finds.
  }
}

function kept() {
  try {
    return JSON.parse(localStorage.getItem(KEPT)) ?? [];
  } catch {
    return [];
  }
}

function narrow() {
  const typed = found.fold(find.value.trim());
  for (const { row, folded, box } of boxes) row.hidden = typed !== "" && !folded.includes(typed) && !box.checked;
  for (const part of larder.querySelectorAll("section")) part.hidden = !part.querySelector("li:not([hidden])");
}

form.hidden = false;
document.querySelector(".plain-way").hidden = true;
document.querySelector(".ticked-way").hidden = false;
form.addEventListener("submit", (event) => event.preventDefault());
find.addEventListener("input", narrow);
larder.addEventListener("change", rank);
more.addEventListener("click", () => show()?.querySelector("a").focus());
untick.addEventListener("click", () => {
  for (const { box } of boxes) box.checked = false;
  find.focus();
  rank();
});
const before = new Set(kept());
for (const { box, name } of boxes) box.checked = before.has(name);
if (before.size) rank();
