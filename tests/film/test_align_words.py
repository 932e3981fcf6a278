"""Folding and figures, the cases in ``align_words.yaml``; and the pieces that the alignment is made of."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.film.align.evidence import weigh
from pipeline.film.align.figures import figures
from pipeline.film.align.folds import bare, fold, near_words
from pipeline.film.align.moments import mended, moments
from pipeline.film.align.profile import Profile, profiles
from pipeline.film.captions import read_captions_text
from pipeline.recipe.read import read_text

CASES = yaml.safe_load((Path(__file__).parent / "align_words.yaml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("words", CASES["together"], ids=" ".join)
def test_words_that_fold_together(words: list[str]) -> None:
    assert len({fold(word) for word in words}) == 1, {word: fold(word) for word in words}


@pytest.mark.parametrize("words", CASES["apart"], ids=" ".join)
def test_words_that_stay_apart(words: list[str]) -> None:
    assert len({fold(word) for word in words}) == len(words), {word: fold(word) for word in words}


@pytest.mark.parametrize("said", CASES["figures"])
def test_figures(said: str) -> None:
    assert figures([bare(word) for word in said.split()]) == CASES["figures"][said]


def test_a_misheard_word_finds_the_word_of_the_recipe() -> None:
    near = near_words(frozenset({"turmeric", "garlick", "semolina", "oven"}))
    assert mended("tumeric", near) == "turmeric"
    assert mended("semolena", near) == "semolina"
    assert mended("over", near) == "over"  # short words are too like one another


@settings(max_examples=60)
@given(st.lists(st.text(alphabet="abc12½/-.,'?! ", min_size=1, max_size=12), max_size=30))
def test_any_words_have_figures(words: list[str]) -> None:
    figures([bare(word) for word in words])


def test_every_word_is_in_one_moment_and_a_phrase_may_cross_captions() -> None:
    text = "[0:00] so here's what\n[0:02] you need six\n[0:04] hundred grams of flower\n[0:20] okay first the bowl\n"
    film = read_captions_text(text, "a.txt")
    found = moments(film, {})
    assert [m.first for m in found][1:] == [m.last for m in found][:-1]
    assert (found[0].first, found[-1].last) == (0, len(film.words))
    assert any(m.talk.get("list") for m in found)
    assert any("#600g" in m.tokens for m in found)


def begun(said: str) -> list[float]:
    return [moment.turn for moment in moments(read_captions_text(said, "a.txt"), {})]


def test_how_a_sentence_begins_tells_whether_something_new_does() -> None:
    so, bowl, fragment, on, amount = begun(
        "[0:00] So we fry. The big bowl next. Wide pan, low. It spits. A cup of rice."
    )
    assert min(so, bowl, fragment) > 0.5
    assert max(on, amount) < -0.5
    assert begun("[0:00] Put it in the pan.") == [0.0]


def test_a_long_paragraph_with_one_stamp_does_not_end_with_a_silence() -> None:
    """Fifty words take twenty seconds when they are said easily; nobody knows where in 22 s the speaker breathed."""
    words = " ".join(["stirring"] * 45)
    slow = begun(f"[0:00] {words}.\n[0:28] flour next\n[0:40] end")
    short = begun("[0:00] stir it.\n[0:28] flour next\n[0:40] end")
    assert slow[1] < 0.5 < short[1]


def test_a_list_speaks_for_the_talk_before_the_cooking() -> None:
    """One thing of each step, one after another: worth more as a list than the least that any step makes of it."""
    made = [Profile({name: 2.0}, {}) for name in ("flour", "milk", "honey")]
    film = moments(read_captions_text("[0:00] Flour, milk, honey.\n[0:09] Nothing of it.", "a.txt"), {})
    evidence = weigh(film, made)
    assert set(evidence.gain[0]) == {0, 1, 2} and evidence.whole[0] > 0
    assert evidence.gain[1] == {} and evidence.whole[1] == 0
    alone = weigh(film, [Profile({name: 2.0}, {}) for name in ("flour", "salt", "oil")])
    assert alone.whole[0] < alone.gain[0][0]


def test_what_stands_late_in_a_text_is_known() -> None:
    recipe = read_text(
        "title: T\nyield: serves 4\ningredients: [500 g flour, 300 g water]\nsteps:\n"
        "- title: Knead\n  text: Stir {flour} into {water} and knead it for {10 min}, until smooth.\n"
        "- title: Rest\n  text: Rest it {1 h}.\n",
        Path("recipe.yaml"),
    )
    long, short = profiles(recipe)
    assert long.late.get("stir", 0.0) == 0 and long.late["smooth"] == 1
    assert 0 < long.late["flour"] < long.late["#600s"] < 1
    assert short.late == {}


def test_late_words_speak_for_a_step_and_not_for_its_beginning() -> None:
    made = [Profile({"stir": 2.0, "smooth": 2.0}, {"smooth": 1.0})]
    film = moments(read_captions_text("[0:00] Stir, stirring.\n[0:20] Smooth, smooth.\n[0:40] End.", "a.txt"), {})
    evidence = weigh(film, made)
    assert evidence.gain[0][0] == evidence.early[0][0] > 0
    assert evidence.gain[1][0] > 0 == evidence.early[1][0]
