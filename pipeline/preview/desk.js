// The preview's own: reloads the page when a file is saved, and sets each finding beside the line it concerns.
"use strict";

(() => {
  const told = JSON.parse(document.getElementById("desk-data").textContent);

  function note(finding, tag) {
    const box = document.createElement(tag);
    box.className = `desk-note-here desk-${finding.severity}`;
    const first = document.createElement("p");
    const label = document.createElement("b");
    label.textContent = `${finding.label}, line ${finding.line}: `;
    first.append(label, finding.message);
    box.append(first);
    for (const text of [finding.why, finding.help.length ? `Write: ${finding.help.join(" or ")}` : ""]) {
      if (!text) continue;
      const more = document.createElement("p");
      more.textContent = text;
      box.append(more);
    }
    return box;
  }

  // After the page's own scripts: those count the rows of the list.
  addEventListener("load", () => {
    for (const finding of told.findings) {
      const { part, row, step } = finding.place;
      if (step !== undefined) {
        const place = document.querySelector(`#step-${step} .step-words`) ?? document.getElementById(`step-${step}`);
        place?.append(note(finding, "div"));
      } else if (row !== undefined) {
        const line = document.querySelectorAll(".ledger table.part")[part]?.querySelectorAll("tbody tr:not(.desk-row)")[row];
        if (!line) continue;
        const under = document.createElement("tr");
        under.className = "desk-row";
        const cell = document.createElement("td");
        cell.colSpan = 3;
        cell.append(note(finding, "div"));
        under.append(cell);
        let last = line;
        while (last.nextElementSibling?.classList.contains("desk-row")) last = last.nextElementSibling;
        last.after(under);
      }
    }
  });

  // Drafts and recipes with errors are marked wherever a link leads to them.
  for (const link of document.querySelectorAll("main a[href*='recipes/']")) {
    const slug = link.pathname.split("/").pop().replace(/\.html$/, "");
    for (const [slugs, word] of [[told.drafts, "draft"], [told.wrong, "errors"]]) {
      if (!slugs.includes(slug)) continue;
      const tag = document.createElement("span");
      tag.className = "desk-tag";
      tag.textContent = word;
      link.prepend(tag);
    }
  }

  const place = `desk-scroll ${location.pathname}`;
  const before = sessionStorage.getItem(place);
  if (before !== null) {
    sessionStorage.removeItem(place);
    document.documentElement.style.scrollBehavior = "auto";
    scrollTo(0, Number(before));
  }

  const news = new EventSource(`/-/news?since=${told.version}`);
  news.addEventListener("saved", () => {
    news.close();
    sessionStorage.setItem(place, String(scrollY));
    location.reload();
  });
})();
