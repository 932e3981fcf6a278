"""Work shared out among processes that keep what they made."""

from __future__ import annotations

import os
import signal

import pytest

from pipeline.proof.crew import Crew

MANY = 23


def crew(count: int, worth: int) -> Crew[list[int], tuple[int, int], int, tuple[int, int, int]]:
    """Each piece keeps a list of its own, tells its square and its process, and answers with what it keeps."""

    def first(i: int) -> tuple[list[int], tuple[int, int]]:
        if i == 99:
            raise ValueError("piece 99")
        return [i], (i * i, os.getpid())

    def answer(kept: list[int], more: int) -> tuple[int, int, int]:
        if more < 0:
            raise ValueError(f"nothing below zero for {kept}")
        kept.append(more)
        return len(kept), sum(kept), os.getpid()

    return Crew(first, answer, count, worth)


@pytest.mark.parametrize("worth", [2, 1000], ids=["several processes", "one process"])
def test_what_was_made_is_found_again_in_order(worth: int) -> None:
    with crew(MANY, worth) as hands:
        told = list(hands.told())
        assert [square for square, _ in told] == [i * i for i in range(MANY)]
        here = {pid for _, pid in told}
        assert (here == {os.getpid()}) == (worth > MANY)
        asked = [(5, 100), (22, 1), (0, 7), (5, 1000)]
        answers = list(hands.ask(asked))
        assert [a[:2] for a in answers] == [(2, 105), (2, 23), (2, 7), (3, 1105)]
        for (i, _), (_, _, pid) in zip(asked, answers, strict=True):
            assert pid == told[i][1]  # where it was made
        assert list(hands.ask([])) == []


@pytest.mark.parametrize("worth", [2, 1000], ids=["several processes", "one process"])
def test_what_is_raised_there_is_raised_here(worth: int) -> None:
    with pytest.raises(ValueError, match="piece 99"), crew(120, worth) as hands:
        list(hands.told())
    with pytest.raises(ValueError, match="nothing below zero for"), crew(MANY, worth) as hands:
        list(hands.told())
        list(hands.ask([(3, 1), (4, -1), (5, 1)]))


def test_large_answers_do_not_hold_each_other_up() -> None:
    """Far more than a pipe holds, asked of one process while the other has little to say."""
    with Crew(lambda i: (i, i), lambda kept, size: "x" * size, 10, 2) as hands:
        list(hands.told())
        sizes = [(2 * n % 10, 300_000) for n in range(20)] + [(1, 5)]
        assert [len(text) for text in hands.ask(sizes)] == [300_000] * 20 + [5]


def test_a_process_that_is_killed_is_no_silent_loss() -> None:
    def first(i: int) -> tuple[int, int]:
        if i == 9:
            os.kill(os.getpid(), signal.SIGKILL)
        return i, i

    def answer(kept: int, _: int) -> int:
        return kept

    with pytest.raises(RuntimeError, match="ended from outside"), Crew(first, answer, 40, 2) as hands:
        list(hands.told())
