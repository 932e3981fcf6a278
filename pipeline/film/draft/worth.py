"""Which amounts belong in a list of ingredients, and which are of nothing that does."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from pipeline.film.draft.alike import agree
from pipeline.film.draft.events import Event
from pipeline.film.draft.line import Line, same_thing
from pipeline.film.draft.mentions import VESSELS
from pipeline.film.draft.parts import made_here, part_names
from pipeline.film.spoken.atoms import word_set
from pipeline.measure.units import EACH, factor

#: Units of a piece, of which nobody writes a line where the thing is measured elsewhere.
LOOSE = word_set("""
    bag jar drop piece sheet handful knob box bottle packet cube ball strip square scoop rack tray tube wedge carton
    block tub
    """)
_CUT = word_set("piece ball square sheet")
# Water for boiling is no ingredient line: so much of it (ml) goes down the sink. Common practice, no source.
_BOILING = 1_800


def no_line(event: Event, lines: Sequence[Line], parts: Collection[str]) -> bool:
    """Whether an amount is of nothing that belongs in a list: "24 rolls", "a tube of paint", a pot of water, "the same
    two tablespoons" of what nothing was said before. ``lines``: those that there are; ``parts``: the dish's."""
    if not event.name or event.kinds & {"kept", "made"}:
        return True
    unknown = event.guessed_name or event.row is None
    if "again" in event.kinds and unknown and not any(same_thing(line, event) for line in lines):
        return True
    if "whole" in event.kinds and event.row is None:
        return True  # "so that's six ounces of fat all told"
    counted = all(a.unit.kind == "count" for a in event.said.amounts)
    if event.guessed_name and event.said.amounts[0].unit.name in LOOSE:
        return True  # "onto a rack"
    head = event.name.split()[-1]
    if (not event.own_name and event.said.amounts[0].unit.name in _CUT) or head in VESSELS:
        return True  # "I cut the dough, on a lot of flour. Ten pieces"
    loose = event.said.amounts[0].unit.name in LOOSE
    if counted and (event.row is None or (head in part_names() and (loose or head == event.name))):
        return True
    if made_here(event.name) and part_names()[event.name] in parts:
        return True  # half a cup of the sauce that is made here
    alike = [line for line in lines if line.row and event.row and line.row.name == event.row.name]
    measured = [
        line
        for line in alike
        if any(a.unit.kind != "count" for a in line.amounts) and not any(a.unit is EACH for a in line.amounts)
    ]
    here = [line for line in measured if line.part == event.part]
    if alike and "maybe" in event.kinds:
        return True  # "a pinch of salt if it needs it"
    loosely = all(a.unit is EACH or a.unit.name in LOOSE for a in event.said.amounts)
    # "so get two sticks out", with the butter named in the sentence before
    loosely = loosely or (counted and head not in event.said.words.lower())
    if (here and event.guessed_name) or (measured and loosely and not event.said.size):
        return True
    if event.row is not None and event.row.form == "liquid" and event.said.amounts[0].unit is EACH and counted:
        return "" not in event.row.counts
    if event.row is not None and event.row.name == "water":
        return any(a.unit.kind == "volume" and a.value * factor(a.unit) >= _BOILING for a in event.said.amounts)
    return False


def is_piece(line: Line, lines: Sequence[Line]) -> bool:
    """Whether a line is but a piece of what another line measures: "a bag of cucumbers", "a drop of jam"."""
    if any(a.unit.kind != "count" or a.unit.name not in LOOSE for a in line.amounts):
        return False
    others = [o for o in lines if o is not line and (o.row and line.row and o.row.name == line.row.name)]
    return any(a.unit.name not in LOOSE for o in others for a in o.amounts)


def is_sound(event: Event) -> bool:
    """Whether an amount that is heard in the recap only can stand alone."""
    said = event.said
    if said.guessed or event.guessed_name or not event.name:
        return False
    return len(said.amounts) == 1 or agree(said.amounts[:1], said.amounts[1:], event.row, said.size)
