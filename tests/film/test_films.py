"""The marked films are sound: scripts parse, truth stands in them, recipes are true, captions say the same."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest
from ears import NO_NOISE, Noise, in_figures, in_words
from marked import APART, FILMS, Film, films, load, read_script, spoken
from noise import FORMS, MACHINE, SUFFIX, Form, captions, hear, spared, tokens_of, write

from pipeline.film.captions import read_captions, read_captions_text
from pipeline.measure.amount import Amount
from pipeline.measure.duration import read_duration
from pipeline.measure.grammar import read_amount
from pipeline.measure.heat import Heat, HeatError, read_heat
from pipeline.measure.lookup import load as table
from pipeline.measure.pair import compare
from pipeline.measure.pair_heat import compare_heat
from pipeline.recipe.model import Recipe, Use
from pipeline.recipe.read import read

ALL = [*films(), *films(apart=True)]
KINDS = {"use", "recap", "list", "substitution", "pan", "viewer", "repeat", "other"}
every = pytest.mark.parametrize("film", ALL, ids=lambda film: film.name)


def test_there_are_films_of_both_sorts() -> None:
    assert len(ALL) >= 11, f"few films under {FILMS}"
    assert {film.name for film in films(apart=True)} == {folder.name for folder in APART.iterdir()}


@every
def test_marks_are_where_the_script_says(film: Film) -> None:
    begun = {step: p.start for p in film.paragraphs for step in p.steps}
    assert film.marks == begun
    assert sum(len(p.steps) for p in film.paragraphs) == len(begun), "a step begins twice"
    starts = {t.start for t in spoken(film.paragraphs)}
    assert set(film.marks.values()) <= starts, "a mark is the time of a first word"
    assert len(set(film.marks.values())) == len(film.marks), "no two steps begin at once"


@every
def test_recipe_is_readable_and_has_the_marked_steps(film: Film) -> None:
    recipe = read(film.recipe)
    assert set(film.marks) <= set(range(1, len(recipe.steps) + 1))
    assert 8 <= len(recipe.steps) <= 44
    assert all(step.at is None for step in recipe.steps), "the film's truth must not stand in the recipe"
    assert all(step.title and len(step.title) <= 40 for step in recipe.steps)
    unlisted = [str(p.whole) for s in recipe.steps for p in s.pieces if isinstance(p, Use) and p.component is None]
    assert not unlisted


@every
def test_recipe_measures_agree(film: Film) -> None:
    """By the shipped table, whose own figures are held to USDA SR28 (2016) elsewhere."""
    for component in read(film.recipe).components:
        for line in component.ingredients:
            match = table().find(f"{line.name}, {line.note}") or table().find(str(line.name))
            for other in line.amounts[1:]:
                verdict = compare(line.amounts[0], other, match.row if match else None, line.size)
                assert verdict.status in ("agrees", "unknown"), f"{line.text}: {verdict.why} {verdict.fixes}"


@every
def test_said_stands_in_the_script(film: Film) -> None:
    tokens = spoken(film.paragraphs)
    places = [tokens_of(said, film, tokens) for said in film.said]
    assert all(a.stop <= b.start for a, b in pairwise(places)), "in order, without overlap"
    assert all(said.kind in KINDS for said in film.said)
    assert not film.said[0].pair


def _names(recipe: Recipe) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for component in recipe.components:
        for line in component.ingredients:
            found.setdefault(str(line.name), []).append(component.key)
    return found


@every
def test_said_names_the_recipes_lines(film: Film) -> None:
    names = _names(read(film.recipe))
    for said in film.said:
        if said.ingredient is None:
            assert said.component is None
            continue
        assert said.ingredient in names, f"{said.words!r}: no line {said.ingredient!r}"
        if len(names[said.ingredient]) > 1:
            assert said.component in names[said.ingredient], f"{said.words!r}: which {said.ingredient}?"


def _reading(text: str) -> object:
    """An Amount, Heat, Duration or size (as its text); None where it is none of them."""
    if re.fullmatch(r"\d+ by \d+ (inch|cm)", text):
        return text
    try:
        if (heats := read_heat(text)) is not None:
            return heats[0] if len(heats) == 1 else None
    except HeatError:
        return None
    if (times := read_duration(text)) is not None:
        return times[0] if len(times) == 1 else None
    got = read_amount(text, bare=True)
    return got.amount if got and got.end == len(text) else None


@every
def test_readings_are_typed_amounts(film: Film) -> None:
    for said in film.said:
        assert _reading(said.reading) is not None, f"{said.words!r}: cannot read {said.reading!r}"


@every
def test_pairs_said_agree_unless_they_are_slips(film: Film) -> None:
    """A can holds what it holds; everything else is compared by the shipped table."""
    slips = {slip.time for slip in film.slips}
    for before, said in pairwise(film.said):
        if not said.pair or {before.time, said.time} & slips:
            continue
        a, b = _reading(before.reading), _reading(said.reading)
        if isinstance(a, Heat) and isinstance(b, Heat):
            assert compare_heat(a, b).status != "disagrees", f"{before.words} / {said.words}"
        elif isinstance(a, Amount) and isinstance(b, Amount) and said.ingredient and a.unit.name != "can":
            match = table().find(said.ingredient)
            verdict = compare(a, b, match.row if match else None)
            assert verdict.status != "disagrees", f"{before.words} / {said.words} {said.ingredient}: {verdict.why}"


@every
def test_slips_are_said(film: Film) -> None:
    said = {(one.time, one.words) for one in film.said}
    assert all((slip.time, slip.words) in said and slip.recipe for slip in film.slips)


_NUMBER = (
    r"(?:\d+|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|(?:thir|four|fif|six|seven|eigh|nine)teen"
    r"|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred|half|quarters?|thirds)"
)
_UNIT = (
    r"(?:grams|kilos|cups?|tablespoons?|teaspoons?|ounces|pounds?(?! for it)|mils?|millilitres|litres?|quarts?|sticks?"
    r"|cloves?|cans|minutes?|hours?|seconds|days|degrees|celsius|fahrenheit|inch(?:es)?|centimetres)\b"
)
_SURELY = re.compile(rf"\b{_NUMBER}(?: of)?(?: an?)? {_UNIT}", re.IGNORECASE)


@every
def test_no_plain_amount_is_left_unmarked(film: Film) -> None:
    """A number right before a unit is an amount, and on the list ("four pounds for it" is money)."""
    tokens = spoken(film.paragraphs)
    listed = {n for said in film.said for n in tokens_of(said, film, tokens)}
    missed = []
    for at, paragraph in enumerate(film.paragraphs):
        for m in _SURELY.finditer(paragraph.text):
            inside = {
                n for n, t in enumerate(tokens) if t.paragraph == at and m.start() - len(t.text) < t.place < m.end()
            }
            if not inside & listed:
                missed.append(f"line {paragraph.line}: {m[0]}")
    assert not missed


@every
def test_pace_is_a_persons(film: Film) -> None:
    """130 to 170 words a minute (common practice, no source); a stamp is a whole second, so one is allowed."""
    words = sum(len(p.text.split()) for p in film.paragraphs[:-1])
    for here, after in pairwise(film.paragraphs):
        seconds = (after.start - here.start) / 1000
        least = (len(here.text.split())) / 170 * 60
        assert seconds >= least - 1, f"line {here.line}: too fast"
    speaking = sum(b.start - a.start for a, b in pairwise(film.paragraphs)) / 60_000
    assert words / speaking <= 170


@pytest.mark.parametrize("form", FORMS)
@every
def test_captions_read_back_as_what_was_said(film: Film, form: Form, tmp_path: Path) -> None:
    transcript = read_captions(write(film, form, tmp_path, noise=NO_NOISE))
    expected = hear(film, form, noise=NO_NOISE)
    assert [w.text for w in transcript.words] == [part for w in expected for part in w.text.split()]
    # Word times inside a cue are interpolated anew; a cue is short, so they stay near what they were.
    near = 22_000 if form == "timed" else 4_000
    flat = [w.start for w in expected for _ in w.text.split()]
    assert max(abs(a.start - b) for a, b in zip(transcript.words, flat, strict=True)) < near


@pytest.mark.parametrize("form", FORMS)
def test_the_same_seed_makes_the_same_captions(form: Form) -> None:
    film = ALL[0]
    assert captions(film, form, 3) == captions(load(film.folder), form, 3)
    assert captions(film, form, 3) != captions(film, form, 4) or form in ("vtt", "srt")


@pytest.mark.parametrize("form", MACHINE)
@every
def test_machines_mishear_and_drop(film: Film, form: Form) -> None:
    text = " ".join(w.text for w in read_captions_text(captions(film, form, 1), f"x{SUFFIX[form]}").words)
    assert text == text.lower()
    assert not re.search(r"[,;:!?]|\.(?!\d)", text)
    plain = hear(film, form, 1, NO_NOISE)
    dropped = hear(film, form, 1, Noise(dropped=0.2, misheard=0, figures=0, words=0))
    assert 0.1 < 1 - len(dropped) / len(plain) < 0.3
    wrong = [w for w in hear(film, form, 1, Noise(dropped=0, misheard=1)) if not w.whole]
    assert wrong and not {"flour", "dough", "bowl"} & {w.text for w in hear(film, form, 1, Noise(misheard=1))}


def test_what_is_spared_counts_only_unharmed_amounts() -> None:
    film = ALL[0]
    assert all(whole for _, whole in spared(film, "vtt"))
    assert all(whole for _, whole in spared(film, "machine", noise=Noise(dropped=0, misheard=0)))
    assert not any(whole for _, whole in spared(film, "machine", noise=Noise(dropped=1)))


def test_number_words_go_both_ways() -> None:
    for number in range(1, 10_000):
        assert in_figures(in_words(number).split()) == number, in_words(number)


@pytest.mark.parametrize(
    ("words", "figures"),
    [
        ("four fifty", 450),
        ("two twenty seven", 227),
        ("a hundred", None),
        ("one eighty", 180),
        ("six hundred and fifty", 650),
        ("twelve hundred", 1200),
        ("two three", None),
        ("twenty thirty", None),
        ("and two", None),
        ("fifteen ounces", None),
    ],
)
def test_numbers_as_they_are_said(words: str, figures: int | None) -> None:
    assert in_figures(words.split()) == figures


@pytest.mark.parametrize(
    ("script", "says"),
    [
        ("[0:05] one\n[0:05] two", "x:2: the stamp does not come after"),
        ("[0:05] one\nand two", "x:2: neither"),
        ("[0:05] one\n== STEP 1", "x: no paragraph after"),
    ],
)
def test_a_wrong_script_is_refused(script: str, says: str) -> None:
    with pytest.raises(ValueError, match=re.escape(says)):
        read_script(script, "x")
