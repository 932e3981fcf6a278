"""What is heard: the marked corpus and its figures, sentences that others wrote, properties over invented speech."""

from __future__ import annotations

import os
import re
from fractions import Fraction

import pytest
import spoken_outside
from hypothesis import given, settings
from hypothesis import strategies as st
from spoken_films import recall
from spoken_scorer import CORPUS, KEPT_APART, ONCE_APART, VOICES, Sentence, read_corpus, score, transcript

from pipeline.film.captions import read_captions_text
from pipeline.film.spoken import heard
from pipeline.film.transcript import Transcript
from pipeline.measure.fractions import say_number
from pipeline.measure.lookup import load
from pipeline.measure.record import replace

TABLE = load()
MARKED = read_corpus(CORPUS)
#: Sentences that the grammar is known to miss, by their first words; a test fails when one of them is heard after all.
KNOWN_MISSES = (
    "Four hundred grams. Four",
    "Two cups a rice",
    "There's no such thing as a ten",
    "A hundred and forty of plain flour",
    "so you put in three seasoning",
    "One 796 millilitre can",
    "You got your water",
    "Around thirty pieces of wrapper",
    "one can evaporated milk",
    "boil pierogi three minutes",
)


def test_the_corpus_is_large_and_tempting_enough() -> None:
    empty = [sentence for sentence in MARKED if not sentence.marks]
    assert len(MARKED) >= 220
    assert len(empty) >= len(MARKED) / 4
    assert len({sentence.text for sentence in MARKED}) == len(MARKED)


@pytest.mark.parametrize("sentence", MARKED, ids=lambda s: f"{s.line}: {s.text[:50]}")
def test_sentence(sentence: Sentence) -> None:
    got = score([sentence])
    known = sentence.text.startswith(KNOWN_MISSES)
    assert bool(got.misses) == known, "\n".join(got.misses) or "a known miss is heard now: take it off the list"


def test_recall_and_precision(capsys: pytest.CaptureFixture[str]) -> None:
    got = score(MARKED)
    apart = score(read_corpus(KEPT_APART))
    with capsys.disabled():
        print(f"\n  marked: recall {got.recall:.1%}, precision {got.precision:.1%}, ingredient {got.names:.1%}")
        print(f"  kept apart: recall {apart.recall:.1%}, precision {apart.precision:.1%}, ingredient {apart.names:.1%}")
    assert got.recall >= 0.98 and got.precision >= 0.98 and got.names >= 0.98
    # First 96.5 % and 93.2 %, then learned from; it may not get worse while the grammar grows.
    assert apart.recall >= 0.98 and apart.precision >= 0.98
    for path in ONCE_APART:
        then = score(read_corpus(path))
        assert then.recall >= 0.98 and then.precision >= 0.98, path.name
    for path, least, surely in zip(VOICES, (0.94, 0.98, 0.90, 0.94), (0.90, 0.98, 0.97, 0.94), strict=True):
        then = score(read_corpus(path))
        assert then.recall >= least and then.precision >= surely, path.name


def test_most_of_what_the_films_say_is_heard(capsys: pytest.CaptureFixture[str]) -> None:
    """All kinds, and without those that are no amount of the recipe (weather, lengths, stories)."""
    (got, of), (told, all_told) = recall(), recall(others=False)
    with capsys.disabled():
        print(f"\n  films: {got} of {of}, of this recipe's {told} of {all_told}")
    # Harder films came to these: the floors were 0.955 and 0.97 without them; 0.924 and 0.942 were heard at first.
    assert got / of >= 0.927 and told / all_told >= 0.95


def test_words_of_measure_that_machines_break() -> None:
    film = read_captions_text("[0:00] a table spoon of salt 12 grahams and a hundred and 50 grams of rice\n", "c.txt")
    said = heard(film, TABLE)
    assert [s.words for s in said] == ["a table spoon of salt 12 grahams", "a hundred and 50 grams of rice"]
    assert [[str(a.value) + " " + a.unit.name for a in s.amounts] for s in said] == [
        ["1 tablespoon", "12 gram"],
        ["150 gram"],
    ]
    assert (said[0].start, said[1].last) == (film.words[0].start, len(film.words))


@pytest.mark.parametrize(
    ("text", "times"),
    [
        ("Bake at 375 for 20.", [(1200, 1200)]),
        ("It bakes ten minutes. Give it fifteen more.", [(600, 600), (900, 900)]),
    ],
)
def test_minutes_that_were_not_named_are_a_guess(text: str, times: list[tuple[int, int]]) -> None:
    said = [s for s in heard(transcript(text), TABLE) if s.kind == "time"]
    assert [(s.times[0].low, s.times[0].high) for s in said] == times
    assert said[-1].guessed


def test_sentences_that_others_wrote(capsys: pytest.CaptureFixture[str]) -> None:
    """PyPI quantulum3 0.10.0's own test sentences; as first measured."""
    path = spoken_outside.corpus()
    if path is None:
        if os.environ.get("CI") == "true":
            pytest.fail("quantulum3 is not installed (pip install quantulum3==0.10.0)")
        pytest.skip("quantulum3 is not installed")
    figures = spoken_outside.score(path)
    with capsys.disabled():
        print(f"\n  {figures}")
    assert figures.sentences == 101
    assert figures.recall >= 0.87 and figures.precision >= 0.96


def test_a_corpus_mark_that_says_nothing_is_refused(tmp_path: pytest.TempPathFactory) -> None:
    path = tmp_path / "bad.txt"  # type: ignore[operator]
    path.write_text("> Two cups.\nlots\n", encoding="utf-8")
    with pytest.raises(ValueError, match="line 2"):
        read_corpus(path)


def test_words_times_and_place() -> None:
    film = read_captions_text(
        "1\n00:00:10,000 --> 00:00:14,000\nSo you want two and a half\n\n"
        "2\n00:00:14,000 --> 00:00:18,000\ncups of flour, about 300 grams.\n",
        "a.srt",
    )
    (said,) = heard(film, TABLE)
    assert said.words == "two and a half cups of flour, about 300 grams."
    assert film.words[said.first].text == "two" and film.words[said.last - 1].text == "grams."
    assert 11_000 < said.start < 14_000 and said.start == film.words[said.first].start
    assert said.end == 18_000
    assert [a.text for a in said.amounts] == ["two and a half cups", "about 300 grams"]
    assert said.match is not None and said.match.row.name.endswith("flour")


def one(text: str) -> object:
    said = heard(transcript(text), TABLE)
    assert len(said) == 1, [s.words for s in said]
    return said[0]


def test_a_scale_that_was_not_said_is_a_guess() -> None:
    assert not one("Bake at 350 degrees Fahrenheit.").guessed  # type: ignore[attr-defined]
    assert one("Bake at 350 degrees.").guessed  # type: ignore[attr-defined]
    told = heard(transcript("180 degrees Celsius for the cake. Then the pie, at 200 degrees."), TABLE)
    assert [s.heats[0].scale for s in told] == ["C", "C"]
    told = heard(transcript("140 degrees Fahrenheit for the fish. Then the pie, at 225 degrees."), TABLE)
    assert [s.heats[0].scale for s in told] == ["F", "F"]


def test_a_part_keeps_its_whole_and_a_count_its_size() -> None:
    said = one("Pour in 300 of the 450 grams of water.")
    assert said.whole.value == 450 and said.amounts[0].value == 300  # type: ignore[attr-defined]
    assert one("Two large eggs.").size == "large"  # type: ignore[attr-defined]


def test_no_word_of_an_unknown_food_is_taken_for_a_known_one() -> None:
    said = one("Two tablespoons of coconut snow, please.")
    assert said.match is None and said.ingredient == "coconut snow"  # type: ignore[attr-defined]


UNITS = {"grams": "gram", "cups": "cup", "tablespoons": "tablespoon", "milliliters": "milliliter", "ounces": "ounce"}
ONES = [
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen",
    "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
]  # fmt: skip
TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]


def in_words(n: int) -> str:
    """A whole number below 10,000 as it is said, made without the grammar that is tested."""
    if n < 20:
        return ONES[n - 1]
    if n < 100:
        return TENS[n // 10 - 2] + (f" {ONES[n % 10 - 1]}" if n % 10 else "")
    if n < 1000:
        return f"{ONES[n // 100 - 1]} hundred" + (f" and {in_words(n % 100)}" if n % 100 else "")
    return f"{in_words(n // 1000)} thousand" + (f" {in_words(n % 1000)}" if n % 1000 else "")


FRACTIONS = {
    Fraction(1, 2): "a half", Fraction(1, 4): "a quarter", Fraction(3, 4): "three quarters", Fraction(1, 3): "a third",
    Fraction(2, 3): "two thirds", Fraction(3, 8): "three eighths", Fraction(1, 8): "an eighth",
}  # fmt: skip


@settings(deadline=None)
@given(st.integers(2, 9_999), st.sampled_from(sorted(UNITS)))
def test_a_whole_number_in_words(n: int, unit: str) -> None:
    (said,) = heard(transcript(f"add {in_words(n)} {unit} of water"), TABLE)
    assert (said.amounts[0].low, said.amounts[0].unit.name, said.ingredient) == (n, UNITS[unit], "water")


@settings(deadline=None)
@given(st.integers(1, 40), st.sampled_from(sorted(FRACTIONS)), st.sampled_from(sorted(UNITS)))
def test_a_mixed_number_in_words(n: int, part: Fraction, unit: str) -> None:
    (said,) = heard(transcript(f"you want {in_words(n)} and {FRACTIONS[part]} {unit} of flour"), TABLE)
    assert said.amounts[0].low == said.amounts[0].high == n + part
    (typed,) = heard(transcript(f"you want {say_number(n + part)} {unit} of flour"), TABLE)
    assert typed.amounts[0].low == n + part


@settings(deadline=None)
@given(st.integers(1, 300), st.integers(1, 90))
def test_a_range_in_words(n: int, more: int) -> None:
    (said,) = heard(transcript(f"bake for {in_words(n)} to {in_words(n + more)} minutes"), TABLE)
    assert (said.times[0].low, said.times[0].high) == (60 * n, 60 * (n + more))


WORDS = sorted({word for sentence in MARKED for word in sentence.text.split()} | {"½", "°", "-", "1/0", "9" * 40, "x"})


@settings(deadline=None)
@given(st.lists(st.sampled_from(WORDS), max_size=40))
def test_any_words_are_heard_without_a_crash_and_in_order(words: list[str]) -> None:
    film = transcript(" ".join(words))
    last = 0
    for said in heard(film, TABLE):
        assert 0 <= said.first < said.last <= len(film.words)
        assert said.first >= last - 1  # a name may be said in the same breath ("flour, 450g")
        last = said.last
        assert said.words == " ".join(word.text for word in film.words[said.first : said.last])
        assert said.amounts or said.heats or said.times
        assert all(0 <= a.low <= a.high for a in said.amounts)


@settings(deadline=None)
@given(st.text(max_size=120))
def test_any_text_is_heard_without_a_crash(text: str) -> None:
    heard(transcript(text), TABLE)


def test_nothing_said_nothing_heard() -> None:
    assert heard(Transcript("", (), ()), TABLE) == ()


def test_without_stops_and_capitals_nearly_all_is_heard_too() -> None:
    """The marked sentences as a machine would caption them. "Two. Three" and the like are told apart by stops only."""
    flat = [replace(s, text=re.sub(r"(?<=\w)[.,;:!?]+(?=\s|$)", "", s.text).lower()) for s in MARKED]
    got = score(flat)
    assert got.recall >= 0.9 and got.precision >= 0.9, (got.recall, got.precision)
