"""From a cook's words to a row: case files, and what must hold for any words."""

from __future__ import annotations

import csv
import random
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.measure.lookup import Table, load, read_table
from pipeline.measure.phrase import tokens, vocabulary

HERE = Path(__file__).parent
TABLE = load()
NAMES = sorted({(name, row.name) for row in TABLE.rows() for name in (row.name, *row.aliases)})
LINES = [(n, line) for n, line in enumerate((HERE / "lookup_cases.csv").read_text("utf-8").splitlines(), 1) if line]
CASES = [(n, *next(csv.reader([line]))) for n, line in LINES if not line.startswith(("#", "words,"))]
LISTS = [
    (recipe, words.strip())
    for line in (HERE / "home_recipes.txt").read_text(encoding="utf-8").splitlines()
    if line and not line.startswith("#")
    for recipe, _, listed in [line.partition(":")]
    for words in listed.split("|")
]


def found(table: Table, words: str) -> tuple[str, str]:
    match = table.find(words)
    return (match.row.name, match.row.state) if match else ("-", "")


def test_there_are_cases() -> None:
    assert len(CASES) > 300 and len(LISTS) > 250
    assert sum(case[2] == "-" for case in CASES) > 40


@pytest.mark.parametrize(("line", "words", "name", "state"), CASES, ids=[f"line {c[0]}: {c[1]}" for c in CASES])
def test_case(line: int, words: str, name: str, state: str) -> None:
    assert found(TABLE, words) == (name, state), f"lookup_cases.csv:{line}"


@pytest.mark.parametrize(("recipe", "words"), LISTS, ids=[f"{r}: {w}" for r, w in LISTS])
def test_what_home_recipes_list_is_known_without_guessing(recipe: str, words: str) -> None:
    match = TABLE.find(words)
    assert match is not None, TABLE.near(words)
    assert match.how != "spelling"


# What must never be taken for what: the head noun, or the word in front of it, is another ingredient.
CONFUSIONS = """coconut milk: milk | baking soda: baking powder | sweet potato: potatoes
almond flour: all-purpose flour | peanut butter: butter | cream of tartar: heavy cream
rice vinegar: white rice | egg noodles: egg
butternut squash: butter | tomato paste: tomatoes | lemon zest: lemon juice | buttermilk: butter | buttermilk: milk
condensed milk: milk | cream cheese: heavy cream | brown sugar: granulated sugar | ginger beer: ginger
bean sprouts: green beans | coconut oil: coconut | fish sauce: fish fillet | vanilla sugar: vanilla extract
oat milk: rolled oats | baking powder: baking soda | almond milk: almonds | butter beans: butter
rice flour: white rice
chicken stock: chicken | garlic powder: garlic | onion powder: onion | lime leaves: lime | corn syrup: corn
maple sugar: maple syrup | cocoa butter: butter | cocoa butter: cocoa powder | egg white: egg | coconut sugar: coconut
mustard seeds: mustard | celery seed: celery | apple juice: apples | orange zest: orange | potato starch: potatoes
wheat germ: wheat bran | sesame oil: sesame seeds | peanut oil: peanuts | tomato sauce: tomatoes | soy milk: soy sauce
ice cream: heavy cream | sour cream: heavy cream | milk chocolate: milk | chocolate milk: chocolate
black beans: black pepper
dried apricots: apricots | ground ginger: candied ginger | red lentils: lentils | white chocolate: chocolate
pumpkin seeds: pumpkin | water chestnuts: water | chestnut puree: water chestnuts
graham crackers: crackers""".replace("\n", " | ").split(" | ")


@pytest.mark.parametrize("pair", CONFUSIONS)
def test_never_taken_for(pair: str) -> None:
    words, wrong = pair.split(": ")
    name, _ = found(TABLE, words)
    assert name != "-"
    assert name != wrong
    assert any(row.name == wrong for row in TABLE.rows()), f"{wrong} is no row: the case proves nothing"


def test_every_name_finds_its_own_row() -> None:
    wrong = [(alias, name, found(TABLE, alias)) for alias, name in NAMES if found(TABLE, alias)[0] != name]
    assert wrong == []


def test_every_state_is_found_before_the_name_and_after_a_comma() -> None:
    rows = [row for row in TABLE.rows() if row.state]
    for row in rows:
        assert found(TABLE, f"{row.state} {row.name}") == (row.name, row.state)
        assert found(TABLE, f"{row.name}, {row.state}") == (row.name, row.state)
    assert len(rows) > 150


STRANGE = st.text("qxzjvk", min_size=5, max_size=9)
NAME = st.sampled_from(NAMES)
PLAIN = st.sampled_from(["organic", "fresh", "free-range", "finely", "good-quality", "large", "peeled"])


@given(NAME, STRANGE, st.booleans())
@settings(max_examples=200)
def test_one_strange_word_makes_it_unknown(name: tuple[str, str], strange: str, before: bool) -> None:
    # what follows "in" is not looked at, and "chicken or turkey mince" may share its last word
    before = before or " in " in name[0] or " or " in name[0]
    words = f"{strange} {name[0]}" if before else f"{name[0]} {strange}"
    assert TABLE.find(words) is None


@given(NAME, PLAIN)
@settings(max_examples=200)
def test_a_plain_word_changes_nothing(name: tuple[str, str], plain: str) -> None:
    # "fresh" is plain only where the row is not dried or canned.
    match = TABLE.find(f"{plain} {name[0]}")
    if plain == "fresh":
        assert match is None or match.how in ("inside", "alias", "name")
    else:
        assert match is not None and match.row.name == name[1]


@given(
    NAME.filter(lambda n: not {"in", "on", "or"} & set(n[0].split())), NAME.filter(lambda n: " or " not in n[0])
)  # what follows "in" or "on" is not looked at
@settings(max_examples=200)
def test_two_ingredients_are_not_one(one: tuple[str, str], other: tuple[str, str]) -> None:
    """ "almond" and "milk" make almond milk only because the table says so; else two names are no ingredient."""
    match = TABLE.find(f"{one[0]} {other[0]}")
    if match is None or match.how == "spelling":
        return
    known = vocabulary().words
    group = [r for r in TABLE.rows() if r.name == match.row.name]
    names = {w for r in group for name in (r.name, r.state, *r.aliases, *r.counts) for w in tokens(name)}
    listed = {w for key in known for w in key}
    said = {w for w in tokens(f"{one[0]} {other[0]}") if w not in listed and not w.endswith("%")}
    assert {w.removesuffix("s") for w in said} <= {w.removesuffix("s") for w in names}


@given(st.text(max_size=60))
@settings(max_examples=300)
def test_any_text_gets_an_answer(text: str) -> None:
    match = TABLE.find(text)
    assert match is None or 0 < match.score <= 1
    assert len(TABLE.near(text)) <= 3


@given(NAME, st.sampled_from([str.upper, str.title, lambda s: f"  {s}  ", lambda s: s.replace(" ", "  ")]))
@settings(max_examples=100)
def test_case_and_blanks_do_not_matter(name: tuple[str, str], change) -> None:  # type: ignore[no-untyped-def]
    assert found(TABLE, change(name[0])) == found(TABLE, name[0])


def slips(words: list[str], rng: random.Random) -> str:
    """The words with one letter left out, doubled, swapped or wrong, never the first."""
    at = rng.choice([i for i, w in enumerate(words) if len(w) >= 5])
    word, j = words[at], rng.randrange(1, len(words[at]))
    wrong = rng.choice(
        [word[:j] + word[j + 1 :], word[:j] + word[j] + word[j:], word[:j] + rng.choice("aeiourst") + word[j + 1 :]]
    )
    return " ".join([*words[:at], wrong, *words[at + 1 :]])


def test_a_slip_of_one_letter_is_mended_right_or_not_at_all() -> None:
    rng = random.Random(8)
    mended, astray = 0, []
    names = [(tokens(alias), name) for alias, name in NAMES if any(len(w) >= 5 for w in tokens(alias))]
    for words, name in rng.sample(names, 800):
        slip = slips(list(words), rng)
        match = TABLE.find(slip)
        if match is not None and match.how == "spelling":
            mended += 1
            if match.row.name != name:
                astray.append(f"{' '.join(words)} as {slip}: {match.row.name}")
    assert astray == []
    assert mended > 300


def test_match_says_on_what_ground() -> None:
    how = {w: TABLE.find(w) for w in ("butter", "caster sugar", "very cold butter", "buter")}
    assert [m.how for m in how.values() if m] == ["name", "alias", "inside", "spelling"]
    assert [m.words for m in how.values() if m] == list(how)
    scores = [m.score for m in how.values() if m]
    assert scores == sorted(scores, reverse=True) and scores[-1] < 0.9


def test_near_names_help() -> None:
    assert "noodles" in TABLE.near("buckwheet noodles")
    assert "dragon fruit" in TABLE.near("dragonfruit powder")
    assert TABLE.near("") == ()


def test_state_row_has_the_pieces_of_its_ingredient() -> None:
    melted, plain = TABLE.find("melted butter"), TABLE.find("butter")
    assert melted and plain and melted.row.counts == plain.row.counts
    dried, canned = TABLE.find("dried mint leaves"), TABLE.find("canned chickpeas")
    assert dried and dried.row.state == "dried" and dried.row.counts == {}
    assert canned and "can" in canned.row.counts


def test_the_ready_index_is_the_table_s_own() -> None:
    text = (HERE.parents[1] / "pipeline/measure/data/ingredients.csv").read_text(encoding="utf-8")
    fresh = read_table(text, "ingredients.csv")
    assert {k: list(v) for k, v in fresh.index().items()} == {k: list(v) for k, v in TABLE._index.items()}


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("spelt,,,120,110,150,,dry,from memory,", "three rising numbers"),
        ("spelt,,,90,110,150,,powder,from memory,", "no form"),
        ("spelt,,,90,110,150,each=big,dry,from memory,", "no count weight"),
    ],
)
def test_a_broken_row_names_its_place(line: str, why: str) -> None:
    table = read_table("# head\nname,...\n" + line, "some.csv")
    with pytest.raises(ValueError, match=rf"some\.csv:3: .*{why}"):
        list(table.rows())
