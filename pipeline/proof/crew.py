"""Much work shared out among processes that keep what they made, so that a second round finds it where it is.

Sending a whole recipe from one process to another takes longer than reading it; what is told of it is small.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from types import TracebackType
from typing import Any, Generic, TypeVar, cast

K = TypeVar("K")  # what is kept where it was made
T = TypeVar("T")  # what is told of it
Q = TypeVar("Q")  # what is asked later
R = TypeVar("R")  # what is answered


_AT_ONCE = 16  # questions, or answers, that travel together
_AT_LEAST_EVERY = 0.1  # seconds: so often at least a process sends what it has, for whoever looks on


def _send_all(pipe: Any, line: Any) -> None:
    """Sends what comes along the line, until nothing does or nobody listens any more."""
    while several := line.get():
        try:
            pipe.send(several)
        except OSError:
            return


class _Parcels:
    """Sends what is added, several at once: each message wakes the other end."""

    def __init__(self, pipe: Any) -> None:
        self._pipe = pipe
        self._several: list[tuple[int, tuple[bool, Any]]] = []
        self._sent = time.monotonic()

    def __enter__(self) -> _Parcels:
        return self

    def __exit__(self, *_: object) -> None:
        self._send()

    def add(self, turn: int, result: tuple[bool, Any]) -> None:
        """``result`` is whether it went well, and what came of it."""
        self._several.append((turn, result))
        if len(self._several) == _AT_ONCE or time.monotonic() - self._sent > _AT_LEAST_EVERY:
            self._send()

    def _send(self) -> None:
        if self._several:
            self._pipe.send(self._several)
        self._several = []
        self._sent = time.monotonic()


class Crew(Generic[K, T, Q, R]):
    """``first(i)`` for each i below ``count`` gives (kept, told); later ``answer(kept, question)`` is called where
    the first was. Several processes do it from ``worth`` pieces on, where the system can fork; else this one does.
    Each of those is made ``ready`` for answering while it waits for the first question.

    Both functions may be any closures; what is told, asked and answered must pickle. What they raise is raised here.
    A context manager: the processes end with it.
    """

    def __init__(
        self,
        first: Callable[[int], tuple[K, T]],
        answer: Callable[[K, Q], R],
        count: int,
        worth: int,
        ready: Callable[[], object] | None = None,
    ) -> None:
        self._ready = ready
        self._first, self._answer, self._count = first, answer, count
        workers = min(os.cpu_count() or 1, count // max(worth // 2, 1)) if count >= worth else 1
        self._several = workers if hasattr(os, "fork") else 1
        self._own: list[K] = []
        self._pipes: list[Any] = []
        self._processes: list[Any] = []
        self._keepers: list[int] = []  # for each piece the worker that keeps it

    def __enter__(self) -> Crew[K, T, Q, R]:
        if self._several > 1:
            import gc
            import multiprocessing

            fork = multiprocessing.get_context("fork")
            # Collecting garbage in the workers would only copy memory that they share with this process.
            gc.collect()
            gc.freeze()
            # Each takes the next piece when it is done with one: none waits for a large piece or a slow processor.
            following = fork.Value("L", 0)
            for _ in range(self._several):
                ours, theirs = fork.Pipe()
                process = fork.Process(target=self._work, args=(theirs, following, [*self._pipes, ours]), daemon=True)
                process.start()
                theirs.close()
                self._pipes.append(ours)
                self._processes.append(process)
            gc.unfreeze()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        for pipe in self._pipes:
            pipe.close()  # an idle worker reads the end of it, and leaves
        for process in self._processes:
            if kind is not None:
                process.terminate()
            process.join()
        self._pipes.clear()
        self._processes.clear()
        self._keepers.clear()
        self._own.clear()

    def told(self) -> Iterator[T]:
        """What is told of each piece, in order. To be asked once, and to its end, before anything else is asked."""
        if not self._pipes:
            for i in range(self._count):
                kept, told = self._first(i)
                self._own.append(kept)
                yield told
            return
        for told, worker in self._gathered(self._count):
            self._keepers.append(worker)
            yield told

    def ask(self, questions: Iterable[tuple[int, Q]]) -> Iterator[R]:
        """The answers to (piece, question), in order. The other processes begin while the questions still come; all
        questions are taken before this returns."""
        if not self._pipes:
            asked = list(questions)
            return (self._answer(self._own[i], question) for i, question in asked)
        import queue
        import threading

        lists: list[list[tuple[int, int, Q]]] = [[] for _ in self._pipes]
        # A thread for each: one whose pipe is full waits without holding up the others.
        lines: list[queue.SimpleQueue[list[tuple[int, int, Q]]]] = [queue.SimpleQueue() for _ in self._pipes]
        for pipe, line in zip(self._pipes, lines, strict=True):
            threading.Thread(target=_send_all, args=(pipe, line), daemon=True).start()
        turns = 0
        for i, question in questions:
            n = self._keepers[i]
            lists[n].append((turns, i, question))
            turns += 1
            if len(lists[n]) == _AT_ONCE:
                lines[n].put(lists[n])
                lists[n] = []
        for mine, line in zip(lists, lines, strict=True):
            if mine:
                line.put(mine)
            line.put([])
        return (answer for answer, _ in self._gathered(turns))

    def _gathered(self, count: int) -> Iterator[tuple[Any, int]]:
        """What comes of the next ``count`` turns, in order, each with the worker that it came from."""
        from multiprocessing.connection import wait

        came: dict[int, tuple[Any, int]] = {}
        for turn in range(count):
            while turn not in came:
                for pipe in wait(self._pipes):  # whichever has something: none stands still because another is slow
                    try:
                        parcel = cast(Any, pipe).recv()
                    except EOFError:
                        raise RuntimeError("a process that did a part of the work was ended from outside") from None
                    for its, (good, result) in parcel:
                        if not good:
                            raise result
                        came[its] = result, self._pipes.index(pipe)
            yield came.pop(turn)

    def _work(self, pipe: Any, following: Any, others: Sequence[Any]) -> None:
        """One process: pieces first, as long as there are any, then what is asked of them, until the other end is
        closed."""
        import gc
        import signal

        gc.disable()  # what is kept here is kept to the end, and pages leave no rings behind (measured)

        signal.signal(signal.SIGINT, signal.SIG_IGN)  # the first process tells all when it is stopped
        for other in others:  # else this process would hold them open
            other.close()
        kept: dict[int, K] = {}
        try:
            with _Parcels(pipe) as parcels:
                while (i := self._next(following)) < self._count:
                    parcels.add(i, self._tried(lambda i=i: self._begin(kept, i)))  # type: ignore[misc]
            if self._ready:
                self._ready()
            while True:
                with _Parcels(pipe) as parcels:
                    for turn, i, question in pipe.recv():
                        parcels.add(turn, self._tried(lambda i=i, q=question: self._answer(kept[i], q)))  # type: ignore[misc]
        except (EOFError, BrokenPipeError):
            return

    @staticmethod
    def _next(following: Any) -> int:
        with following.get_lock():
            following.value += 1
            return int(following.value) - 1

    def _begin(self, kept: dict[int, K], i: int) -> T:
        kept[i], told = self._first(i)
        return told

    @staticmethod
    def _tried(work: Callable[[], Any]) -> tuple[bool, Any]:
        try:
            return True, work()
        except Exception as error:
            return False, error
