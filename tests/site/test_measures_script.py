"""The page's script says what the program says: the same amounts, worked out by Node and by Python.

Neither is checked against itself: each value is worked out twice, by two programs from one table. That the program's
own answers are right is held in tests/measure.
"""

from __future__ import annotations

import json
import random
import shutil
import subprocess
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from outside import need

from pipeline.measure.pan import Pan, say_pan, such_pans
from pipeline.measure.scaling import How, Scalable, data, say_scaled
from pipeline.measure.units import STANDARDS
from pipeline.site.counter import forms
from pipeline.site.kitchen import kitchen_script
from pipeline.site.theme import shipped_templates, shipped_words

HARNESS = """
const fs = require("fs"), vm = require("vm");
for (const file of process.argv.slice(2, 4)) vm.runInThisContext(fs.readFileSync(file, "utf8"), file);
const words = { egg: "egg", eggs: "eggs", yolk: "yolk", white: "white", either: "{pieces} or {grams}" };
const cases = JSON.parse(fs.readFileSync(0, "utf8"));
const m = measures;
const work = {
  scaled: ([amount, by, standard]) => {
    const { text, derived } = m.scaled(m.amount(amount), m.read(by), standard, words);
    return [text, derived];
  },
  pan: ([sides, by]) => [m.pan(sides, m.read(by)), m.pans(m.read(by))],
  typed: (text) => { const value = m.typed(text); return value && m.written(value); },
};
console.log(JSON.stringify(cases.map(([what, told]) => work[what](told))));
"""


def node(tmp_path: Path, cases: list[Any]) -> list[Any]:
    need("node", bool(shutil.which("node")))
    table, harness = tmp_path / "kitchen.js", tmp_path / "harness.js"
    table.write_text(kitchen_script(shipped_words()), "utf-8")
    harness.write_text(HARNESS, "utf-8")
    script = shipped_templates() / "assets" / "measures.js"
    told = subprocess.run(
        ["node", str(harness), str(table), str(script)],
        input=json.dumps(cases),
        capture_output=True,
        text=True,
        check=True,
    )
    return list(json.loads(told.stdout))


def amounts() -> list[tuple[Scalable, Fraction, str]]:
    """Every kind of amount, from a trace to a canteen's, in every kitchen's cups; from a fixed seed."""
    dice = random.Random(10)
    hows: tuple[How, ...] = ("grams", "ounces", "ml", "spoons", "spoons", "fluid", "count", "egg", "in", "cm", "mm")
    out: list[tuple[Scalable, Fraction, str]] = []
    for _ in range(4000):
        how = dice.choice(hows)
        low = Fraction(dice.randint(1, 3000), dice.choice((1, 2, 3, 4, 7, 8, 10, 1000)))
        high = low if dice.random() < 0.8 else low * Fraction(dice.randint(11, 25), 10)
        one = Scalable(how, low, high, False, dice.random() < 0.3, "large", "large", Fraction(50))
        out.append((one, Fraction(dice.randint(1, 48), dice.choice((1, 2, 3, 4, 8, 9, 12))), dice.choice(STANDARDS)))
    # What may be left of a range: nothing to something; and the words about an amount.
    for how in hows:
        for high in (Fraction(1, 8), Fraction(1, 2), Fraction(1), Fraction(7, 3), Fraction(15), Fraction(1234)):
            for by in (Fraction(1, 3), Fraction(1), Fraction(3, 2), Fraction(7)):
                for standard in STANDARDS:
                    one = Scalable(how, Fraction(0), high, True, False, "clove", "cloves", Fraction(33))
                    out.append((one, by, standard))
    # Eggs of each size by every batch of up to four, in twelfths: yolks, whites and wholes.
    for each in (Fraction(38), Fraction(44), Fraction(50), Fraction(56), Fraction(63)):
        for count in range(1, 7):
            for twelfths in range(1, 49):
                one = Scalable("egg", Fraction(count), Fraction(count), False, False, "", "", each)
                out.append((one, Fraction(twelfths, 12), "us"))
    # Each millilitre of a cook's day, in each kitchen: where fractions of cups and spoons meet.
    for standard in STANDARDS:
        for ml in range(1, 800):
            out.append((Scalable("spoons", Fraction(ml, 2), Fraction(ml, 2)), Fraction(1), standard))
    return out


def test_every_amount_is_the_same_in_the_page(tmp_path: Path) -> None:
    cases = amounts()
    got = node(tmp_path, [["scaled", [data([one])[0], str(by), standard]] for one, by, standard in cases])
    wrong = [
        f"{one} × {by} ({standard}): {list(want)} in Python, {told} in the page"
        for (one, by, standard), told in zip(cases, got, strict=True)
        if list(want := say_scaled(one, by, standard)) != told  # type: ignore[arg-type]
    ]
    assert len(cases) > 10_000
    assert {standard for _, _, standard in cases} == set(STANDARDS)
    assert wrong == []


def test_every_pan_is_the_same_in_the_page(tmp_path: Path) -> None:
    dice = random.Random(11)
    cases: list[tuple[Pan, Fraction]] = []
    for _ in range(600):
        unit, one = dice.choice((("in", Fraction(127, 5)), ("cm", Fraction(10))))
        sides = tuple(Fraction(dice.randint(10, 40), 2) * one for _ in range(dice.randint(1, 2)))
        cases.append((Pan(unit, sides), Fraction(dice.randint(1, 60), dice.randint(1, 12))))  # type: ignore[arg-type]
    got = node(tmp_path, [["pan", [[pan.unit, *map(str, pan.sides)], str(by)]] for pan, by in cases])
    assert got == [[say_pan(pan, by), such_pans(by)] for pan, by in cases]


TYPED = {
    "12": "12", "2.5": "5/2", "2,5": "5/2", "1 1/2": "3/2", "1½": "3/2", "½": "1/2", "⅔": "2/3", " 3 ": "3",
    "1 ½": "3/2", "3/4": "3/4", "0.125": "1/8", "": None, "0": None, "-3": None, "many": None, "1e5": None, "1/0": None,
    "1..2": None, "2 3": None, "1.5 1/2": None, "12 rolls": None, "∞": None, "<b>": None, "½½": None,
}  # fmt: skip


def test_a_typed_number_is_read_or_refused(tmp_path: Path) -> None:
    assert dict(zip(TYPED, node(tmp_path, [["typed", text] for text in TYPED]), strict=True)) == TYPED


@pytest.mark.parametrize("number", [0, 1, 2, 21, 100, 101, 1_000_001])
def test_plural_forms_reach_the_script(number: int, tmp_path: Path) -> None:
    """Forms of Polish after gettext's manual: 1 plik, 2 pliki, 5 plików (GNU gettext, Plural forms)."""
    from pipeline.site.words import read_words

    own = tmp_path / "words.yaml"
    own.write_text(
        "language: {plural: 'n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2'}\n"
        "archive: {tally: ['{n} plik', '{n} pliki', '{n} plików']}\n",
        "utf-8",
    )
    need("node", bool(shutil.which("node")))
    words = read_words(shipped_templates() / "words.yaml", own)
    want = {0: "0 plików", 1: "1 plik", 2: "2 pliki", 21: "21 plików", 100: "100 plików", 101: "101 plików"}
    want[1_000_001] = "1000001 plików"
    assert words("archive.tally", n=number) == want[number]
    script = tmp_path / "say.js"
    script.write_text(kitchen_script(words) + f'console.log(kitchen.say("archive.tally", {{ n: {number} }}));', "utf-8")
    told = subprocess.run(["node", str(script)], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == want[number]


@pytest.mark.parametrize(
    ("what", "one", "many"),
    [
        ("rolls", "roll", "rolls"),
        ("loaf", "loaf", "loaves"),
        ("loaves", "loaf", "loaves"),
        ("cake", "cake", "cakes"),
        ("servings", "serving", "servings"),
        ("sandwiches", "sandwich", "sandwiches"),
        ("pastries", "pastry", "pastries"),
        ("pies", "pie", "pies"),
        ("9-inch cake", "9-inch cake", "9-inch cakes"),
        ("jar of jam", "jar of jam", "jars of jam"),
        ("cups", "cup", "cups"),
        ("", "", ""),
    ],
)
def test_what_is_made_as_one_and_as_several(what: str, one: str, many: str) -> None:
    assert forms(what) == (one, many)
    assert forms(what, "de") == (what, what)
