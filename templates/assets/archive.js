// Sieves the list that stands in the page; nothing is fetched, so it works from a file, too.
"use strict";

const form = document.querySelector("form.sieve");
const rows = [...document.querySelectorAll(".shelf li")].map((row) => ({
  row,
  find: fold(row.dataset.find),
  shelf: row.closest(".shelf"),
}));
const shelves = [...document.querySelectorAll(".shelf")];
const tally = document.querySelector(".tally");
const none = document.querySelector(".none");
const find = document.getElementById("find");
const picks = [...form.querySelectorAll("[data-pick]")];

// "creme" finds "crème".
function fold(text) {
  return text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
}

function fits(row, pick) {
  if (pick.value === "") return true;
  const has = row.dataset[pick.dataset.pick];
  if (pick.dataset.pick === "minutes") return Number(has) > 0 && Number(has) <= Number(pick.value);
  return has.split("|").includes(pick.value);
}

function sieve() {
  const words = fold(find.value).split(/\s+/).filter(Boolean);
  let left = 0;
  for (const { row, find: text } of rows) {
    const stays = words.every((word) => text.includes(word)) && picks.every((pick) => fits(row, pick));
    row.hidden = !stays;
    if (stays) left += 1;
  }
  for (const shelf of shelves) shelf.hidden = !shelf.querySelector("li:not([hidden])");
  tally.textContent = kitchen.say("archive.tally", { n: left });
  none.hidden = left > 0;
  remember();
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
if (location.hash.includes("=")) recall();
sieve();
