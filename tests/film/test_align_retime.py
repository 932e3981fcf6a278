"""Marks moved to a new cut: an opening added, a scene cut or moved, captions made anew."""

from __future__ import annotations

from itertools import pairwise

import score_align
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.film.align import retime, shift
from pipeline.film.transcript import Transcript, Word

CASES = list(score_align.cases(("vtt", "machine")))
HAND = [case for case in CASES if case.form == "vtt"]


def told(words: list[Word]) -> Transcript:
    return Transcript("", (), tuple(words))


def moved(words: tuple[Word, ...] | list[Word], by: int) -> list[Word]:
    return [Word(w.start + by, w.end + by, w.text, w.cue) for w in words]


def whole_scenes(case: score_align.Case) -> list[Word]:
    """The words a little later: where a caption holds the end of one scene and the beginning of the next, a scene's
    first words begin some ms before its mark, and a cut at the mark would part them from their scene."""
    words = moved(case.transcript.words, 60)
    for mark in case.truth.values():
        begin = next(
            (n for n, w in enumerate(words) if mark - 500 < w.start < mark and words[n - 1].text[-1] in ".?!"), 0
        )
        if begin:
            words[begin:] = [w._replace(start=max(w.start, mark), end=max(w.end, mark)) for w in words[begin:]]
    return words


def test_the_same_film_moves_nothing() -> None:
    for case in HAND:
        times = list(case.truth.values())
        assert [r.at for r in retime(case.transcript, case.transcript, times)] == times, case.film


def test_an_opening_is_added() -> None:
    said = ["before", "we", "begin", "a", "word", "on", "knives"]
    opening = [Word(n * 400, n * 400 + 300, text, 0) for n, text in enumerate(said)]
    for case in HAND:
        times = list(case.truth.values())
        new = told([*opening, *moved(case.transcript.words, 17_300)])
        assert [r.at for r in retime(case.transcript, new, times)] == [t + 17_300 for t in times], case.film


def test_a_scene_is_cut() -> None:
    """The talk of one step is gone: its mark says so and names where the film goes on; later ones move up."""
    for case in HAND:
        at = sorted(case.truth.values())
        start, end = at[3], at[4]
        words = whole_scenes(case)
        new = told([*(w for w in words if w.start < start), *moved([w for w in words if w.start >= end], start - end)])
        found = {r.old: r for r in retime(told(words), new, at)}
        assert found[start].at is None and found[start].words, case.film
        nearest = found[start].nearest
        assert nearest is not None and abs(nearest - start) <= 3_000, (case.film, found[start])
        for time in at:
            if time != start:
                assert found[time].at == (time if time < start else time - end + start), (case.film, found[time])


def test_a_scene_is_moved() -> None:
    for case in HAND:
        at = sorted(case.truth.values())
        a, b, c = at[2], at[3], at[4]
        words = whole_scenes(case)
        new = told(
            [
                *(w for w in words if w.start < a),
                *moved([w for w in words if b <= w.start < c], a - b),
                *moved([w for w in words if a <= w.start < b], c - b),
                *(w for w in words if w.start >= c),
            ]
        )
        wanted = [t - b + a if b <= t < c else t + c - b if a <= t < b else t for t in at]
        assert [r.at for r in retime(told(words), new, at)] == wanted, case.film


def test_captions_made_anew_by_a_machine() -> None:
    """The same film heard by a machine: no word need be the same, the marks move less than two seconds."""
    for hand in HAND:
        machine = next(case for case in CASES if case.film == hand.film and case.form == "machine")
        times = list(hand.truth.values())
        for one in retime(hand.transcript, machine.transcript, times):
            assert one.at is not None and abs(one.at - one.old) <= 2_000, (hand.film, one)


def test_another_film_keeps_nothing() -> None:
    for case, other in pairwise(HAND):
        found = retime(case.transcript, other.transcript, list(case.truth.values()))
        assert sum(r.at is None for r in found) >= len(found) - 1, (case.film, found)


def test_nothing_is_left() -> None:
    case = HAND[0]
    for one in retime(case.transcript, told([]), [10_000]):
        assert one.at is None and one.nearest is None
    assert retime(told([]), case.transcript, [10_000])[0].at is None


def test_shift() -> None:
    assert shift([0, 5_000, 60_000], -6_000) == (0, 0, 54_000)
    assert shift([], 100) == ()


@settings(max_examples=60)
@given(st.lists(st.sampled_from(["stir", "the", "dough", "and", "let", "it", "rest", "now"]), max_size=80), st.data())
def test_any_two_texts(old: list[str], data: st.DataObject) -> None:
    new = data.draw(st.permutations(old)) if old else []
    first = told([Word(n * 500, n * 500 + 400, text, 0) for n, text in enumerate(old)])
    second = told([Word(n * 500, n * 500 + 400, text, 0) for n, text in enumerate(new)])
    times = data.draw(st.lists(st.integers(0, 50_000), max_size=5))
    found = retime(first, second, times)
    assert [r.old for r in found] == times
    assert all(r.at is None or r.at >= 0 for r in found)
