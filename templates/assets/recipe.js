// What else the page can do: print, play the film in the page, tick off, leave the screen lit. Without it every link
// still works.
"use strict";

(() => {
  const say = kitchen.say;

  const print = document.querySelector("button.print");
  if (print) {
    print.hidden = false;
    print.addEventListener("click", () => window.print());
  }

  const film = document.getElementById("film");
  if (film) {
    for (const link of document.querySelectorAll("a.moment[data-second]")) {
      link.addEventListener("click", (event) => {
        event.preventDefault();
        film.currentTime = Number(link.dataset.second);
        film.scrollIntoView({ block: "nearest" });
        film.play().catch(() => film.focus());
      });
    }
  }

  // Ticks are kept for this visit: tomorrow's cook starts with a clean list.
  const place = `ticks ${location.pathname}`;
  const ticks = new Set();
  try {
    for (const one of JSON.parse(sessionStorage.getItem(place) ?? "[]")) ticks.add(one);
  } catch {
    // A browser that keeps nothing: the ticks last until the page is left.
  }

  function tick(key, on) {
    if (on) ticks.add(key);
    else ticks.delete(key);
    try {
      sessionStorage.setItem(place, JSON.stringify([...ticks]));
    } catch {
      // As above.
    }
  }

  document.querySelectorAll(".part tbody tr").forEach((row, i) => {
    const key = `list ${i}`;
    const cell = row.querySelector(".what");
    const label = document.createElement("label");
    const box = document.createElement("input");
    box.type = "checkbox";
    box.className = "screen";
    box.checked = ticks.has(key);
    label.className = "got";
    const words = document.createElement("span");
    words.append(...cell.childNodes);
    label.append(box, words);
    cell.append(label);
    row.closest("table").classList.add("ticked");
    row.classList.toggle("done", box.checked);
    box.addEventListener("change", () => {
      row.classList.toggle("done", box.checked);
      tick(key, box.checked);
    });
  });

  document.querySelectorAll(".step").forEach((step, i) => {
    const key = `step ${i}`;
    const number = step.querySelector(".number");
    const button = document.createElement("button");
    button.type = "button";
    button.className = "number";
    button.textContent = number.textContent;
    button.setAttribute("aria-label", say("counter.step_done", { n: number.textContent.trim() }));
    const show = () => {
      button.setAttribute("aria-pressed", String(ticks.has(key)));
      step.classList.toggle("done", ticks.has(key));
    };
    button.addEventListener("click", () => {
      tick(key, !ticks.has(key));
      show();
    });
    number.replaceWith(button);
    show();
  });

  // The screen stays lit while the switch is on and the page is looked at.
  const lit = document.querySelector(".lit");
  if (lit && "wakeLock" in navigator) {
    const box = lit.querySelector("input");
    let lock = null;
    const ask = async () => {
      try {
        lock = await navigator.wakeLock.request("screen");
      } catch {
        box.checked = false; // the device refuses, as on a low battery
      }
    };
    box.addEventListener("change", () => {
      if (box.checked) {
        ask();
      } else {
        lock?.release();
        lock = null;
      }
    });
    document.addEventListener("visibilitychange", () => {
      if (box.checked && document.visibilityState === "visible") ask();
    });
    box.checked = false;
    lit.hidden = false;
  }
})();
