// What the page can do beyond showing: print, and play the film in the page. Without it every link still works.
"use strict";

const button = document.querySelector("button.print");
if (button) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
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
