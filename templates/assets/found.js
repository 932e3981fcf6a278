// What the archive and the pantry share: the data of all recipes, and a row of their lists.
"use strict";

const found = (() => {
  // "creme" finds "crème".
  function fold(text) {
    return text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
  }

  // The data is a script of its own, loaded when first asked for, so that a page stays light and works from a disk, too.
  let loading;
  function data(form) {
    loading ??= new Promise((done, failed) => {
      const script = document.createElement("script");
      script.src = form.dataset.data;
      script.onload = () => done(globalThis.finder);
      script.onerror = failed;
      document.head.append(script);
    });
    return loading;
  }

  // A recipe of the data as a row: its picture, if it has one, and its name as a link.
  function row(up, recipe) {
    const made = document.createElement("li");
    const link = document.createElement("a");
    link.href = `${up}recipes/${recipe[0]}.html`;
    link.textContent = recipe[1];
    if (recipe[10]) {
      const shot = document.createElement("img");
      shot.className = "thumb";
      shot.src = `${up}photos/${recipe[10]}`;
      shot.alt = "";
      shot.loading = "lazy";
      shot.width = shot.height = 72;
      made.append(shot);
    }
    made.append(link);
    return made;
  }

  return { fold, data, row };
})();
