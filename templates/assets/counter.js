// At the counter: the batch, the reader's own cups, heat and words. Every amount is worked out anew from the page's
// data (exact fractions); as long as nothing is changed, the page says what it said without this script.
"use strict";

(() => {
  const holder = document.getElementById("counter-data");
  const panel = document.querySelector(".counter");
  if (!holder || !panel) return;
  const data = JSON.parse(holder.textContent);
  const say = kitchen.say;
  const m = measures;
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];
  const get = (id) => document.getElementById(id);

  const figures = data.figures.map(([scale, cup, counted, fruits]) => ({
    scale: scale.map(m.amount),
    cup: cup.map(m.amount),
    counted: Boolean(counted),
    fruits: (fruits ?? []).map(m.amount),
  }));
  const written = m.read(data.yield.number ?? "1");
  const unit = (made) => {
    if (!data.yield.number) return say("counter.batches");
    return (m.less(m.ONE, made) ? data.yield.many : data.yield.one) || say("counter.portions");
  };
  const eggs = {
    egg: say("counter.egg"),
    eggs: say("counter.eggs"),
    yolk: say("counter.egg_yolk"),
    white: say("counter.egg_white"),
    either: say("counter.egg_or"),
  };
  const [LEAST, MOST] = kitchen.measures.batch.map(m.read);

  // What was chosen: the batch for this visit, the kitchen for good (on this device only) ----------------------------

  const plain = { lead: data.weight ? "weight" : "volume", cup: data.cup, heat: "", names: "" };
  const mine = { ...plain };
  let by = m.ONE;

  function recall() {
    try {
      const kept = JSON.parse(localStorage.getItem("my-kitchen") ?? "{}");
      for (const field of all("[data-my]", panel)) {
        const value = kept[field.dataset.my];
        if ([...field.options].some((option) => option.value === value)) mine[field.dataset.my] = value;
      }
    } catch {
      // A browser that keeps nothing, or something else in its place: the page stays as written.
    }
    for (const field of all("[data-my]", panel)) field.value = mine[field.dataset.my];
  }

  function remember() {
    try {
      const changed = Object.entries(mine).filter(([key, value]) => value !== plain[key]);
      if (changed.length) localStorage.setItem("my-kitchen", JSON.stringify(Object.fromEntries(changed)));
      else localStorage.removeItem("my-kitchen");
    } catch {
      // As above.
    }
  }

  // What stands in the page ------------------------------------------------------------------------------------------

  const heads = all(".part thead tr").map((row) => [row.querySelector(".left"), row.querySelector(".right")]);
  const rows = all("tr[data-of]").map((row) => {
    const left = row.querySelector(".left");
    const right = row.querySelector(".right");
    const [scale, cup] = data.weight ? [left, right] : [right, left];
    const keep = (cell) => [...cell.children].map((said) => said.cloneNode(true));
    return { left, right, figure: figures[row.dataset.of], was: { scale: keep(scale), cup: keep(cup) } };
  });
  const uses = all("i[data-of]").map((place) => {
    const figure = figures[place.dataset.of];
    const was = [...place.childNodes].map((node) => node.cloneNode(true));
    const texts = all("b", place).map((said) => said.textContent);
    const order = sides(figure, data.weight).filter((side) => figure[side].length);
    return { place, figure, was, texts: Object.fromEntries(order.map((side, i) => [side, texts[i]])) };
  });
  const named = all(".named").map((place) => ({ place, was: place.textContent }));
  const heats = all(".heat").map((place) => ({ place, was: [...place.childNodes].map((n) => n.cloneNode(true)) }));
  const pans = all("[data-pan]").map((place) => ({ place, note: null }));
  const yields = document.querySelector(".yields");
  const yieldsWere = yields?.textContent;
  const measured = document.querySelector(".measured");
  const measuredWas = measured?.textContent;

  function sides(figure, weight) {
    return figure.counted || !weight ? ["cup", "scale"] : ["scale", "cup"];
  }

  // Whether an amount stands as it was written: what a scale reads does not change with the cup.
  function asWritten(one) {
    const cups = one.how === "spoons" || one.how === "fluid";
    return m.same(by, m.ONE) && !(cups && mine.cup !== data.cup);
  }

  function worked(one, words = eggs) {
    const { text, derived } = m.scaled(one, by, mine.cup, words);
    return { derived, text: one.about && !derived ? say("measure.about", { amount: text }) : text };
  }

  function saidNode({ text, derived }) {
    const said = document.createElement("span");
    // An amount ends its line only where it is made of several: "1¼ cups" and "+ 2 tbsp".
    const parts = text.split(/(?<![\d½⅓⅔¼¾⅛⅜⅝⅞+–]) /);
    const most = Math.max(...parts.map((part) => part.replace(/[½⅓⅔¼¾⅛⅜⅝⅞]/g, "$&$&").length)) + Number(derived);
    said.className = `said${derived ? " worked" : ""}${most > 9 ? " longer" : most > 8 ? " long" : ""}`;
    if (derived) {
      const near = document.createElement("span");
      near.className = "near";
      near.textContent = "≈";
      said.append(near);
    }
    parts.forEach((part, i) => said.append(...(i ? [" ", document.createElement("wbr"), part] : [part])));
    return said;
  }

  function cell(row, side) {
    const { figure, was } = row;
    const said = figure[side].map((one, i) => (asWritten(one) && was[side][i]) || saidNode(worked(one)));
    if (side === "cup" && figure.fruits.length) {
      const old = was.cup[figure.cup.length];
      if (m.same(by, m.ONE) && old) said.push(old);
      else said.push(saidNode({ text: say("recipe.from", { fruit: worked(figure.fruits[0]).text }), derived: false }));
    }
    return said.map((node) => node.cloneNode(true));
  }

  function use({ place, figure, was, texts }) {
    const order = sides(figure, mine.lead === "weight").filter((side) => figure[side].length);
    const shown = order.map((side) => figure[side][0]);
    if (shown.every(asWritten) && mine.lead === plain.lead) {
      place.replaceChildren(...was.map((node) => node.cloneNode(true)));
      return;
    }
    const out = [];
    // What is counted has its weight beside it: "2 (≈60 g) shallots"; "or" would be a choice.
    const rest = place.previousSibling?.textContent.endsWith("(");
    const between = !figure.counted ? ` ${say("recipe.or")} ` : rest ? ", " : " (";
    order.forEach((side, i) => {
      if (i) out.push(between);
      const said = document.createElement("b");
      // Beside the weight of all of it, the weight of a part of an egg would only be taken for another choice.
      const { text, derived } = worked(figure[side][0], order.length > 1 ? { ...eggs, either: "{pieces}" } : eggs);
      said.textContent = asWritten(figure[side][0]) && texts[side] ? texts[side] : `${derived ? "≈" : ""}${text}`;
      out.push(said);
    });
    if (between === " (" && order.length > 1) out.push(")");
    place.replaceChildren(...out);
  }

  function heat({ place, was }) {
    const scales = was.filter((node) => node.dataset?.scale);
    let shown = scales.filter((node) => node.dataset.scale === mine.heat);
    const unsaid = place.dataset[mine.heat];
    if (["fan", "gas"].includes(mine.heat) && !shown.length && unsaid) {
      const other = document.createElement("b");
      other.textContent = unsaid;
      shown = [other];
    }
    // Food has neither a fan nor a gas mark, and some ovens are stated for a fan only: what is given then stays.
    const kept = mine.heat && shown.length ? shown : was;
    const nodes = kept === shown ? shown.flatMap((node, i) => (i ? ["\u00a0/ ", node] : [node])) : was;
    place.replaceChildren(...nodes.map((node) => (typeof node === "string" ? node : node.cloneNode(true))));
  }

  function pan(one) {
    one.note?.remove();
    one.note = null;
    if (m.same(by, m.ONE)) return;
    const size = one.place.dataset.pan
      .split(";")
      .map((text) => m.pan(text.split(" "), by))
      .join(" / ");
    const n = m.pans(by);
    one.note = document.createElement(one.place.tagName === "LI" ? "span" : "p");
    one.note.className = "for-batch";
    one.note.textContent = say(n ? "counter.pan_such" : "counter.pan", { size, n });
    one.place.append(" ", one.note);
  }

  const amountMade = () => {
    const made = m.times(written, by);
    return `${m.sayNumber(made)} ${unit(made)}`;
  };

  function show() {
    const changed = !m.same(by, m.ONE);
    const weight = mine.lead === "weight";
    const names = { scale: say("recipe.scale"), cup: say("recipe.cup") };
    for (const [left, right] of heads) {
      left.textContent = weight ? names.scale : names.cup;
      right.textContent = weight ? names.cup : names.scale;
    }
    for (const row of rows) {
      row.left.replaceChildren(...cell(row, weight ? "scale" : "cup"));
      row.right.replaceChildren(...cell(row, weight ? "cup" : "scale"));
    }
    uses.forEach(use);
    heats.forEach(heat);
    pans.forEach(pan);
    for (const { place, was } of named) place.textContent = (mine.names && place.dataset[mine.names]) || was;
    if (yields) yields.textContent = changed && data.yield.number ? amountMade() : yieldsWere;
    if (measured) {
      const other = say("recipe.measured", { cups: say(`cups.${mine.cup}`) });
      const rounded = changed || mine.cup !== data.cup ? ` ${say("counter.rounded")}` : "";
      measured.textContent = mine.cup === data.cup ? measuredWas : other;
      note.textContent = rounded;
    }
    get("batch-said").textContent = changed
      ? say(data.yield.number ? "counter.changed" : "counter.changed_plain", {
          yield: amountMade(),
          times: m.sayNumber(by),
        })
      : "";
    panel.querySelector(".reset").hidden = !changed;
  }

  const note = document.createElement("span");
  measured?.parentElement.append(note);

  // The batch ----------------------------------------------------------------------------------------------------------

  const batch = get("batch");
  const dipstick = get("dipstick");
  const fields = [batch, get("have-amount")];

  function refuse(field, text) {
    field.setAttribute("aria-invalid", "true");
    get("batch-said").textContent = text;
  }

  function number(field) {
    const value = m.typed(field.value);
    if (!value) refuse(field, say("counter.bad_number", { typed: field.value.trim() }));
    return value;
  }

  function set(times, field) {
    if (m.less(times, LEAST) || m.less(MOST, times)) {
      const [least, most] = [LEAST, MOST].map((end) => m.sayNumber(end));
      refuse(field, say("counter.bad_size", { times: m.sayNumber(times), least, most }));
      return;
    }
    by = times;
    for (const one of fields) one.removeAttribute("aria-invalid");
    const made = m.times(written, by);
    if (field !== batch || m.same(by, m.ONE)) batch.value = m.sayNumber(made);
    get("batch-unit").textContent = unit(made);
    dipstick.value = String(m.number(made));
    dipstick.setAttribute("aria-valuetext", amountMade());
    show();
  }

  function setDipstick() {
    const full = m.number(written);
    const step = full > 24 ? Math.max(1, Math.round(full / 24)) : full >= 2 ? 1 : 0.25;
    dipstick.step = String(step);
    dipstick.min = String(full % step || step);
    dipstick.max = String(Math.max(full * 4, step * 4));
    dipstick.value = String(full);
    dipstick.setAttribute("aria-valuetext", amountMade());
  }

  get("batch-unit").textContent = unit(written);
  batch.value = m.sayNumber(written);
  setDipstick();
  batch.addEventListener("change", () => {
    const value = number(batch);
    if (value) set(m.over(value, written), batch);
  });
  for (const field of fields) {
    field.addEventListener("keydown", (event) => {
      if (event.key !== "Escape") return;
      // Back to the batch that stands; what was typed by mistake is forgotten.
      if (field === batch) batch.value = m.sayNumber(m.times(written, by));
      else field.value = "";
      for (const one of fields) one.removeAttribute("aria-invalid");
      show();
      field.select();
    });
  }
  dipstick.addEventListener("input", () => {
    const value = m.typed(dipstick.value);
    if (value) set(m.over(value, written), dipstick);
  });
  panel.querySelector(".reset").addEventListener("click", () => {
    set(m.ONE, batch);
    batch.focus();
  });

  // From what there is ---------------------------------------------------------------------------------------------------

  const of = get("have-of");
  const inUnit = get("have-unit");
  const SEVERAL = m.read("2");
  const middle = (one) => m.over(m.plus(one.low, one.high), m.read("2"));

  // The units that an amount can be had in: what it is called, and how many of them the recipe takes.
  function units({ scale, cup }) {
    const out = [];
    const weight = scale[0];
    if (weight) {
      out.push([m.unitWord(SEVERAL, "gram"), middle(weight)]);
      out.push([m.unitWord(SEVERAL, "ounce"), m.over(middle(weight), m.read(kitchen.measures.ounce))]);
    }
    const filled = cup.find((one) => ["spoons", "ml", "fluid"].includes(one.how));
    if (filled) {
      for (const name of ["cup", "tablespoon"]) {
        out.push([m.unitWord(SEVERAL, name), m.over(middle(filled), m.read(kitchen.measures.sizes[mine.cup][name]))]);
      }
    }
    const counted = cup.find((one) => one.how === "count" || one.how === "egg");
    if (counted) out.push([m.things(SEVERAL, counted.one, counted.many) || say("counter.have_pieces"), middle(counted)]);
    return out;
  }

  function option(text, value) {
    const made = document.createElement("option");
    made.textContent = text;
    made.value = value;
    return made;
  }

  function offer() {
    const before = inUnit.value;
    const row = rows[of.value];
    inUnit.replaceChildren(...(row ? units(row.figure).map(([name]) => option(name, name)) : []));
    if ([...inUnit.options].some(({ value }) => value === before)) inUnit.value = before;
  }

  rows.forEach(({ left, figure }, i) => {
    if (units(figure).length) of.append(option(left.parentElement.querySelector(".what").firstChild.textContent.trim(), String(i)));
  });
  if (of.options.length) {
    of.addEventListener("change", offer);
    offer();
    const work = () => {
      const value = number(get("have-amount"));
      const chosen = units(rows[of.value].figure).find(([name]) => name === inUnit.value);
      if (value && chosen) set(m.over(value, chosen[1]), get("have-amount"));
    };
    panel.querySelector(".set").addEventListener("click", work);
    get("have-amount").addEventListener("keydown", (event) => {
      if (event.key === "Enter") work();
    });
  } else {
    of.closest("details").hidden = true;
  }

  // My kitchen -----------------------------------------------------------------------------------------------------------

  recall();
  for (const field of all("[data-my]", panel)) {
    field.addEventListener("change", () => {
      mine[field.dataset.my] = field.value;
      remember();
      if (of.options.length) offer();
      show();
    });
  }
  panel.hidden = false;
  if (Object.keys(plain).some((key) => mine[key] !== plain[key])) show();
})();
