"""What a check says, what it sees, and what it is."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, Literal, NamedTuple, Protocol, TypeVar

from pipeline.film.transcript import Transcript
from pipeline.measure.ingredients import Match, Row
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import IngredientLine, Recipe
from pipeline.recipe.row import match_of
from pipeline.recipe.span import Span

T = TypeVar("T")
Severity = Literal["error", "warning", "note"]
SEVERITIES: tuple[Severity, ...] = ("error", "warning", "note")


class Edit(NamedTuple):
    """An exact edit of the source: put ``text`` in place of what stands at ``span``."""

    span: Span
    text: str


class Fix(NamedTuple):
    """One way to put it right: what to do in words, and the edits that do it (none where a person must decide)."""

    title: str
    edits: tuple[Edit, ...] = ()


class Finding(NamedTuple):
    """One thing found. ``message`` is the headline and stands alone; ``why`` the ground; ``fixes`` what to do.

    ``second`` is the other half of a pair, marked too; ``at`` the film's moment in ms where it speaks of the film.
    """

    check: str
    severity: Severity
    span: Span
    message: str
    why: str = ""
    fixes: tuple[Fix, ...] = ()
    second: Span | None = None
    at: int | None = None


class Rows(Protocol):
    """What the checks ask of an ingredient table (see ``pipeline.measure.lookup.Table``)."""

    def find(self, words: str, *, mend: bool = True) -> Match | None: ...

    def near(self, words: str, n: int = 3) -> tuple[str, ...]: ...


class Bench:
    """All that a check may look at: one recipe, its film's words (None without captions), the settings, the table.

    Look-ups are remembered, because several checks ask for the same ingredient.
    """

    __slots__ = ("_found", "_made", "channel", "recipe", "table", "transcript")

    def __init__(self, recipe: Recipe, transcript: Transcript | None, channel: Channel, table: Rows) -> None:
        self.recipe = recipe
        self.transcript = transcript
        self.channel = channel
        self.table = table
        self._found: dict[str, Match | None] = {}
        self._made: dict[Any, Any] = {}

    def once(self, make: Callable[[Bench], T]) -> T:
        """``make(self)``, made once for all checks that ask for it. What is made must not be changed."""
        if make not in self._made:
            self._made[make] = make(self)
        made: T = self._made[make]
        return made

    def match(self, words: str) -> Match | None:
        """The table's match for a cook's words, or None."""
        if words not in self._found:
            self._found[words] = self.table.find(words)
        return self._found[words]

    def row(self, line: IngredientLine) -> Row | None:
        """The table's row for an ingredient line: in the state its note names, where the table has it so."""
        found = match_of(line, self.match)
        return found.row if found else None

    def called(self, line: IngredientLine) -> str:
        """What to call an ingredient: its name, or the note after it where the table knows only that ("1 rack
        (1.4 kg) pork ribs", "1 cup packed (220 g) brown sugar")."""
        name, after = str(line.name), line.note.partition(",")[0].strip()
        return after if after and self.match(name) is None and self.match(after) is not None else name

    def line(self, component: int | None, line: int | None) -> IngredientLine | None:
        """The ingredient line that a step's mark points at, or None where it points at none."""
        if component is None or line is None:
            return None
        return self.recipe.components[component].ingredients[line]


class Check(NamedTuple):
    """A check: one small file in ``proof/checks/`` holds one of these, named CHECK.

    ``id`` names the fault. ``question`` is one line that ends in "?"; ``reason`` says why anybody should care.
    ``good`` and ``bad`` are whole recipe sources; the suite runs them and the docs page shows them. A check that
    listens to the film has the captions beside each, as timed text, in ``good_captions`` and ``bad_captions``.
    """

    id: str
    question: str
    reason: str
    good: str
    bad: str
    run: Callable[[Bench], Iterable[Finding]]
    good_captions: str = ""
    bad_captions: str = ""
