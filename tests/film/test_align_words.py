"""Folding and figures, the cases in ``align_words.yaml``; and the pieces that the alignment is made of."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.film.align.figures import figures
from pipeline.film.align.folds import bare, fold, near_words
from pipeline.film.align.moments import mended, moments
from pipeline.film.captions import read_captions_text

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
