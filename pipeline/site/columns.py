"""Which of a recipe's last sections stand under its list and which under its method, so that both columns end together.

Only wide windows have two columns; on a narrow one, and for whoever listens, the sections come in their own order.
"""

from __future__ import annotations

from pipeline.site.prose import plain
from pipeline.site.view import RecipeView, StepView

# Heights in px at a window of 1280, measured on real pages: heads, rows and lines of the two columns.
_LIST_HEAD, _PART_HEAD, _ROW, _METHOD_HEAD = 430, 90, 75, 130
_STEP, _STEP_HEAD, _STEP_PHOTO = 40, 40, 400
_SECTION_HEAD, _ITEM, _LINE = 105, 14, 27
_CARE = 90  # its border and what stands under it
_METHOD_LETTERS, _LIST_LETTERS = 56, 46  # in one line

UNDER_LIST, UNDER_METHOD = "by-list", "by-method"


def _lines(text: str, letters: int) -> int:
    return -(-len(text) // letters) * _LINE


def _step(step: StepView) -> int:
    head = _STEP_HEAD if step.title or step.label or step.moment else 0
    return _STEP + head + _lines(step.plain, _METHOD_LETTERS) + (_STEP_PHOTO if step.photo else 0)


def _sections(view: RecipeView) -> dict[str, list[str]]:
    """The texts of each section that the recipe has, in the order of the page."""
    told = {
        "equipment": list(view.equipment),
        "notes": [plain(note) for note in view.notes],
        "instead": [text for name, said in view.substitutions for text in (name, plain(said))],
        "nutrition": [f"{name}: {said}" for name, said in view.nutrition],
        "care": [caution.text for caution in view.cautions],
    }
    return {name: texts for name, texts in told.items() if texts}


def places(view: RecipeView) -> dict[str, str]:
    """The class of each section: where it stands in a wide window. Each goes where the column is shorter so far."""
    titled = sum(1 for part in view.components if part.title)
    beside = _LIST_HEAD + titled * _PART_HEAD + sum(len(part.rows) for part in view.components) * _ROW
    under = _METHOD_HEAD + sum(map(_step, view.steps)) + len(view.photos[1:]) * _STEP_PHOTO
    out: dict[str, str] = {}
    for name, texts in _sections(view).items():
        height = _SECTION_HEAD + sum(_ITEM + _lines(text, _LIST_LETTERS) for text in texts)
        height += _CARE if name == "care" else 0
        if beside <= under:
            out[name] = UNDER_LIST
            beside += height
        else:
            out[name] = UNDER_METHOD
            under += height
    return out
