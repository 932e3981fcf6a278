// Kitchen measures as the program has them: the same rules from the same table (kitchen.js), in exact fractions of
// whole numbers, so that a page never says what the program would not. No part of a page is touched here.
"use strict";

globalThis.measures = (() => {
  const table = kitchen.measures;

  // Fractions ------------------------------------------------------------------------------------------------------

  const gcd = (a, b) => {
    while (b) [a, b] = [b, a % b];
    return a < 0n ? -a : a;
  };
  const ratio = (n, d = 1n) => {
    const by = gcd(n, d) || 1n;
    return { n: n / by, d: d / by };
  };
  const read = (text) => {
    const [n, d = "1"] = String(text).split("/");
    return ratio(BigInt(n), BigInt(d));
  };
  const plus = (a, b) => ratio(a.n * b.d + b.n * a.d, a.d * b.d);
  const minus = (a, b) => ratio(a.n * b.d - b.n * a.d, a.d * b.d);
  const times = (a, b) => ratio(a.n * b.n, a.d * b.d);
  const over = (a, b) => (b.n < 0n ? ratio(-a.n * b.d, a.d * -b.n) : ratio(a.n * b.d, a.d * b.n));
  const less = (a, b) => a.n * b.d < b.n * a.d;
  const same = (a, b) => a.n === b.n && a.d === b.d;
  const size = (a) => (a.n < 0n ? { n: -a.n, d: a.d } : a);
  const floor = (a) => (a.n >= 0n ? a.n / a.d : -((-a.n + a.d - 1n) / a.d));
  const ceil = (a) => -floor({ n: -a.n, d: a.d });
  const number = (a) => Number(a.n) / Number(a.d);
  const whole = (n) => ({ n: BigInt(n), d: 1n });
  const ZERO = whole(0);
  const ONE = whole(1);
  const HALF = ratio(1n, 2n);
  const written = (a) => (a.d === 1n ? String(a.n) : `${a.n}/${a.d}`);

  const ROUNDED = read(table.rounded);
  const off = (shown, asked) => (asked.n ? minus(over(shown, asked), ONE) : ZERO);
  const toStep = (value, step) => {
    const steps = floor(plus(over(value, step), HALF));
    return times(whole(steps < 1n ? 1n : steps), step);
  };

  // Numbers in words -----------------------------------------------------------------------------------------------

  function decimal(value) {
    const hundredths = floor(plus(times(value, whole(100)), HALF));
    const text = `${hundredths / 100n}.${String(hundredths % 100n).padStart(2, "0")}`;
    return text.replace(/\.?0+$/, "").replace(".", kitchen.words.measure.decimal);
  }

  function sayNumber(value) {
    const full = floor(value);
    const rest = minus(value, whole(full));
    if (!rest.n) return String(full);
    const glyph = table.glyphs[written(rest)];
    if (glyph) return full ? `${full}${glyph}` : glyph;
    return decimal(value);
  }

  // The catalogue's word for a unit beside a number: up to one as for one, "1½" as for two.
  function unitWord(value, name) {
    const n = !less(ONE, value) ? 1 : value.d === 1n ? Number(value.n) : 2;
    return kitchen.say(`units.${name.replace(" ", "_")}`, { n });
  }

  const sayPart = (value, name) => `${sayNumber(value)} ${unitWord(value, name)}`;

  // Cups and spoons ------------------------------------------------------------------------------------------------

  const lcm = (a, b) => (a / gcd(a, b)) * b;
  const ladders = new Map();

  function ladder(standard) {
    if (ladders.has(standard)) return ladders.get(standard);
    const rows = table.measures.filter((row) => row.when === "");
    const sizes = new Map(rows.map((row) => [row.unit, read(table.sizes[standard][row.unit])]));
    const parts = new Map(
      rows.map((row) => [
        row.unit,
        [[ZERO, ZERO], ...Object.entries(row.fractions).map(([part, odd]) => [read(part), read(odd)])],
      ]),
    );
    let scale = 1n;
    for (const [name, one] of sizes) {
      scale = lcm(scale, one.d);
      for (const [part] of parts.get(name)) scale = lcm(scale, times(one, part.n ? part : ONE).d);
    }
    const whole_ = (a) => (a.n * scale) / a.d;
    const rungs = rows.map((row) => {
      const one = whole_(sizes.get(row.unit));
      const filled = parts.get(row.unit).map(([part, odd]) => [part, (part.n * one) / part.d, odd]);
      const least = floor(times(read(row.least), whole(one)));
      const rung = { unit: row.unit, size: one, least, parts: filled, values: [], alone: row.alone === true };
      if (row.below && sizes.has(row.below[0])) {
        const under = floor(times(times(sizes.get(row.below[0]), read(row.below[1])), whole(scale)));
        const limit = row.most && BigInt(row.most) * one < under ? BigInt(row.most) * one : under;
        for (let w = 0n; w <= limit / one; w += 1n) rung.values.push(...fill(rung, w, w));
        rung.values = rung.values.filter((v) => v.size < limit);
        rung.values.sort((a, b) => (a.size < b.size ? -1 : a.size > b.size ? 1 : 0));
      }
      return rung;
    });
    const made = { rungs, scale, terms: table.terms };
    ladders.set(standard, made);
    return made;
  }

  function fill(rung, first, last) {
    if (last - first > 4n) [first, last] = [(first + last) / 2n - 1n, (first + last) / 2n + 2n];
    const out = [];
    for (let w = first; w <= last; w += 1n) {
      for (const [part, size_, odd] of rung.parts) {
        const value = w * rung.size + size_;
        if (value >= rung.least) out.push({ number: plus(whole(w), part), size: value, odd, unit: rung.unit });
      }
    }
    return out;
  }

  const below = (a, b) => (a / b > 0n ? a / b - 1n : 0n);

  function near(rung, low, high) {
    if (!rung.values.length) return fill(rung, low > 0n ? below(low, rung.size) : 0n, high / rung.size + 1n);
    let start = rung.values.findIndex((v) => v.size >= low);
    if (start < 0) start = rung.values.length;
    let end = rung.values.findIndex((v) => v.size > high);
    if (end < 0) end = rung.values.length;
    return rung.values.slice(Math.max(start - 1, 0), end + 1);
  }

  // Sums of exactly `terms` measures, each smaller than the one before; `use` is told each, with its size.
  function sums(rungs, terms, low, high, first, use) {
    for (let i = first; i < rungs.length; i += 1) {
      const rung = rungs[i];
      if (terms === 1) {
        if (!rung.alone || first === 0) for (const value of near(rung, low, high)) use(value.size, [value]);
        continue;
      }
      const leading = rung.values.length
        ? rung.values
        : fill(rung, low > 0n ? below(low, rung.size) : 0n, high > 0n ? high / rung.size : -1n);
      for (const value of leading) {
        if (value.size < high) {
          sums(rungs, terms - 1, low - value.size, high - value.size, i + 1, (s, rest) =>
            use(value.size + s, [value, ...rest]),
          );
        }
      }
    }
  }

  const known = new Map();

  // The fewest measures that hold `ml` within a twentieth; among as few, the nearest and least odd.
  function spoons(ml, standard) {
    const key = `${standard} ${written(ml)}`;
    if (known.has(key)) return known.get(key);
    const { rungs, scale, terms } = ladder(standard);
    const target = times(ml, whole(scale));
    const error = ratio(1n, 20n);
    const low = ceil(times(target, minus(ONE, error)));
    const high = floor(times(target, plus(ONE, error)));
    let nearest = null;
    let best = null;
    for (let count = 1; count <= terms && !best; count += 1) {
      sums(rungs, count, low, high, 0, (total, pick) => {
        if (low <= total && total <= high) {
          const odd = pick.reduce((sum, v) => plus(sum, v.odd), ZERO);
          const score = plus(over(size(minus(whole(total), target)), times(error, target)), odd);
          if (!best || less(score, best.score) || (same(score, best.score) && total < best.total)) {
            best = { score, total, pick };
          }
        } else {
          const gap = size(minus(whole(total), target));
          if (!nearest || less(gap, nearest.gap)) nearest = { gap, total, pick };
        }
      });
    }
    const { total, pick } = best ?? nearest;
    const held = ratio(total, scale);
    const said = { text: pick.map((v) => sayPart(v.number, v.unit)).join(" + "), error: off(held, ml) };
    known.set(key, said);
    return said;
  }

  // What a scale, a jug and a pound-and-ounce scale read -------------------------------------------------------------

  function reading(value, steps) {
    const [, step] = table[steps].find(([limit]) => limit === null || less(value, read(limit)));
    return toStep(value, read(step));
  }

  function metric(value, steps, small, large) {
    const shown = reading(value, steps);
    const text = less(shown, whole(1000))
      ? `${decimal(shown)} ${unitWord(shown, small)}`
      : `${decimal(over(shown, whole(1000)))} ${unitWord(over(shown, whole(1000)), large)}`;
    return { text, error: off(shown, value) };
  }

  function ounces(g) {
    const ounce = read(table.ounce);
    const value = reading(over(g, ounce), "ounces");
    const pounds = floor(over(value, whole(16)));
    const rest = minus(value, whole(pounds * 16n));
    const texts = pounds ? [sayPart(whole(pounds), "pound")] : [];
    if (rest.n || !pounds) texts.push(sayPart(rest, "ounce"));
    return { text: texts.join(" "), error: off(times(value, ounce), g) };
  }

  // Pieces, eggs, lengths, pans ------------------------------------------------------------------------------------

  function pieces(value) {
    if (!less(value, ONE)) return toStep(value, read(table.pieces.step));
    let best = null;
    for (const part of table.pieces.parts.map(read)) {
      const gap = size(minus(part, value));
      if (!best || less(gap, best.gap) || (same(gap, best.gap) && less(best.part, part))) best = { gap, part };
    }
    return best.part;
  }

  // What is counted: a unit that the catalogue knows ("large clove") in its words, anything else as the page has it.
  function things(value, one, many) {
    const at = one.lastIndexOf(" ") + 1;
    if (Object.hasOwn(kitchen.words.units, one.slice(at))) return one.slice(0, at) + unitWord(value, one.slice(at));
    return less(ONE, value) ? many : one;
  }

  const counted = (value, one, many) => `${sayNumber(value)} ${things(value, one, many)}`.trimEnd();

  function egg(amount, value, words) {
    let full = floor(value);
    let part = minus(value, whole(full));
    const [, kind] = table.eggs.find(([limit]) => limit === null || less(part, read(limit)));
    if (kind === "whole") [full, part] = [full + 1n, ZERO];
    if (!kind || !part.n) {
      if (!full) return { text: grams(times(part, amount.each)).text, derived: true };
      const far = less(ROUNDED, size(off(whole(full), value)));
      return { text: counted(whole(full), amount.one, amount.many), derived: amount.derived || far };
    }
    const bit = `1 ${kind === "yolk" ? words.yolk : words.white}`;
    const name = full > 1n ? words.eggs : words.egg;
    const both = full ? `${[String(full), amount.one, name].filter(Boolean).join(" ")} + ${bit}` : bit;
    const said = grams(times(part, amount.each)).text;
    return { text: words.either.replace("{pieces}", both).replace("{grams}", said), derived: amount.derived };
  }

  const LENGTHS = { in: "inch", cm: "centimeter", mm: "millimeter" };
  const grams = (value) => metric(value, "scale", "gram", "kilogram");

  function end(amount, value, standard) {
    if (!value.n) return { text: "0", error: ZERO };
    switch (amount.how) {
      case "grams":
        return grams(value);
      case "ounces":
        return ounces(value);
      case "ml":
        return metric(value, "jug", "milliliter", "liter");
      case "spoons":
        return spoons(value, standard);
      case "fluid": {
        const ounce = read(table.sizes[standard]["fluid ounce"]);
        const shown = toStep(over(value, ounce), HALF);
        return { text: sayPart(shown, "fluid ounce"), error: off(times(shown, ounce), value) };
      }
      case "count":
      case "egg": {
        // A range of eggs goes by whole ones: nobody halves an egg that may be left out.
        const shown = amount.how === "egg" ? toStep(value, ONE) : pieces(value);
        return { text: counted(shown, amount.one, amount.many), error: off(shown, value) };
      }
      default: {
        const [one, step] = table.lengths[amount.how].map(read);
        const shown = toStep(over(value, one), step);
        return { text: sayPart(shown, LENGTHS[amount.how]), error: off(times(shown, one), value) };
      }
    }
  }

  // Two ends as one range; a unit that both share is said once.
  function range(ends) {
    const [low, high] = ends;
    if (ends.length === 1 || low === high) return low;
    if (!`${low}${high}`.includes(" ")) return `${low}–${high}`;
    const at = low.lastIndexOf(" ");
    const head = at < 0 ? "" : low.slice(0, at);
    const unit = low.slice(at + 1);
    if (head && !head.includes(" ") && (high.endsWith(` ${unit}`) || high.endsWith(` ${unit}s`))) {
      return `${head}–${high}`;
    }
    return kitchen.say("measure.to", { low, high });
  }

  // An amount from the page's data: [how, low, high, about, derived, one, many, each].
  function amount([how, low, high = "", about = 0, derived = 0, one = "", many = "", each = "0"]) {
    return {
      how,
      low: read(low),
      high: read(high || low),
      about: Boolean(about),
      derived: Boolean(derived),
      one,
      many,
      each: read(each || "0"),
    };
  }

  // `by` times an amount, in the cups of `standard`: what is said, and whether it was worked out or rounded.
  function scaled(one, by, standard, words) {
    if (one.how === "egg" && same(one.low, one.high)) return egg(one, times(one.low, by), words);
    const values = same(one.low, one.high) ? [one.low] : [one.low, one.high];
    const ends = values.map((value) => end(one, times(value, by), standard));
    const far = ends.some(({ error }) => less(ROUNDED, size(error)));
    return { text: range(ends.map(({ text }) => text)), derived: one.derived || far };
  }

  // A pan that holds `by` times as much at the same depth: its sides grow with the root.
  function pan([unit, ...sides], by) {
    const [one, step] = table.pans[unit].map(read);
    const root = Math.sqrt(number(by));
    const said = sides.map((side) => {
      const steps = Math.max(Math.floor((number(over(read(side), one)) * root) / number(step) + 0.5), 1);
      return sayNumber(times(whole(steps), step));
    });
    return `${said.join(" × ")} ${unitWord(whole(2), LENGTHS[unit])}`;
  }

  // How many such pans hold it, where it is about a whole number of them; else 0.
  function pans(by) {
    const count = floor(plus(by, HALF));
    const far = count > 1n && less(read(table.pans.such), size(off(whole(count), by)));
    return count > 1n && !far ? Number(count) : 0;
  }

  // A number as a cook types it: "12", "2.5", "2,5", "1 1/2", "1½", "⅔"; null for anything else or nothing.
  function typed(text) {
    const glyphs = Object.entries(table.glyphs);
    let plain = text.trim().replace(/⁄/g, "/");
    for (const [part, glyph] of glyphs) plain = plain.replace(glyph, ` ${part}`);
    plain = plain.trim().replace(/\s+/g, " ");
    const found = /^(?:(\d{1,6})(?:[.,](\d{1,6}))?)?(?:(?:^| )(\d{1,4})\/(\d{1,4}))?$/.exec(plain);
    if (!found || !plain || (found[2] && found[3]) || (found[4] && !BigInt(found[4]))) return null;
    let value = found[1] ? read(found[1]) : ZERO;
    if (found[2]) value = plus(value, ratio(BigInt(found[2]), 10n ** BigInt(found[2].length)));
    if (found[3]) value = plus(value, ratio(BigInt(found[3]), BigInt(found[4])));
    return value.n > 0n ? value : null;
  }

  return { read, written, number, times, over, plus, less, same, ONE, amount, scaled, pan, pans, typed, sayNumber, unitWord, things };
})();
