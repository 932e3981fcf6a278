// Finds recipes in the whole archive.
"use strict";

const form = document.querySelector("form.sieve");
const whole = document.querySelector(".whole-list");
const sieved = document.querySelector(".sieved");
const list = sieved.querySelector("ul");
const more = sieved.querySelector(".more-found");
const tally = document.querySelector(".tally");
const none = document.querySelector(".none");
const find = document.getElementById("find");
const picks = [...form.querySelectorAll("[data-pick]")];
const STEP = 60; // recipes shown at once; the rest on demand
const PLACE = { kinds: 5, cuisines: 6, keywords: 7 };
let matches = [];
let shown = 0;

// Looks at each word of the archive once, then at each recipe's numbers.
function search(all) {
  const wanted = (found.fold(find.value).match(/[\p{L}\p{N}]+/gu) ?? []).map((typed) => {
    const places = new Set();
    all.words.forEach((word, i) => {
      if (word.includes(typed)) places.add(i);
    });
    return places;
  });
  const chosen = picks
    .filter((pick) => pick.value !== "" && pick.dataset.pick !== "minutes")
    .map((pick) => [PLACE[pick.dataset.pick], all[pick.dataset.pick].indexOf(pick.value)]);
  const within = Number(document.getElementById("pick-minutes").value);
  return all.recipes.filter(
    (recipe) =>
      (!within || (recipe[3] > 0 && recipe[3] <= within)) &&
      chosen.every(([place, value]) => recipe[place].includes(value)) &&
      wanted.every((places) => recipe[9].some((word) => places.has(word))),
  );
}

function show() {
  const rows = matches.slice(shown, shown + STEP).map((recipe) => {
    const row = found.row(form.dataset.up, recipe);
    const facts = document.createElement("span");
    facts.className = "shelf-facts";
    for (const text of [recipe[2], recipe[4]].filter(Boolean)) {
      const fact = document.createElement("span");
      fact.textContent = text;
      facts.append(fact);
    }
    row.append(facts);
    return row;
  });
  list.append(...rows);
  shown += rows.length;
  more.hidden = shown >= matches.length;
  return rows[0];
}

async function sieve() {
  const asked = find.value.trim() !== "" || picks.some((pick) => pick.value !== "");
  remember();
  const all = asked ? await found.data(form) : null;
  matches = all ? search(all) : [];
  list.replaceChildren();
  shown = 0;
  if (asked) show();
  whole.hidden = asked;
  sieved.hidden = !asked || matches.length === 0;
  none.hidden = !asked || matches.length > 0;
  tally.textContent = kitchen.say("archive.tally", { n: asked ? matches.length : Number(tally.dataset.count) });
}

// The choice stands in the address, so that it can be sent on and survives going back.
function remember() {
  const parts = new URLSearchParams();
  if (find.value.trim()) parts.set("find", find.value.trim());
  for (const pick of picks) if (pick.value) parts.set(pick.dataset.pick, pick.value);
  const hash = parts.toString();
  history.replaceState(null, "", hash ? `#${hash}` : location.pathname + location.search);
}

function recall() {
  const parts = new URLSearchParams(location.hash.slice(1));
  find.value = parts.get("find") ?? "";
  for (const pick of picks) {
    const value = parts.get(pick.dataset.pick) ?? "";
    pick.value = [...pick.options].some((option) => option.value === value) ? value : "";
  }
}

form.hidden = false;
form.addEventListener("submit", (event) => event.preventDefault());
form.addEventListener("input", sieve);
form.addEventListener("change", sieve);
form.addEventListener("focusin", () => found.data(form), { once: true });
more.addEventListener("click", () => show()?.querySelector("a").focus());
if (location.hash.includes("=")) {
  recall();
  sieve();
}
