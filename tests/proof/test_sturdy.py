"""No check breaks down on any recipe that can be read, however odd."""

from __future__ import annotations

from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pipeline.measure.lookup import load
from pipeline.proof.paint import print_text
from pipeline.proof.report import print_json, print_lines, sheet
from pipeline.proof.run import CRASHED, run
from pipeline.recipe.channel import Channel
from pipeline.recipe.read import SourceError, read_text

AMOUNTS = st.sampled_from(
    ["", "650 g", "0 g", "1/2 cup", "2 3/4 cups", "2–3 tbsp", "1 (14 oz / 400 g) can", "2 x 400 g tins", "8 oz / 225 g",
     "a pinch", "about 1 cup", "12", "1 stick (113 g)", "juice of", "0 cups or 0 g", "999999 kg", "1 inch"]
)  # fmt: skip
NAMES = st.sampled_from(
    ["water", "flour", "bread flour", "eggs", "moon dust", "butter, melted", "salt to taste", "chicken thighs", "of",
     "lemon", "🥖", "sugar, divided", "oil for frying", "", "ice, optional", "小麦粉"]
)  # fmt: skip
PIECES = st.sampled_from(
    ["Mix {flour}. ", "Add {water: 1 cup}, ", "then {water: rest}. ", "{water}", "{sugar: 2 tbsp or 1 kg}",
     "{unicorn} ",
     "Bake at {350 F or 220 C} ", "Preheat the oven to 400F/200C. ", "for {30 min or 1 hour} ", "into the oven. ",
     "Add 200 g (1 cup) flour and 2 tbsp honey. ", "50 g sugar (1/4 cup), 2 l (8 cups) water to boil. ",
     "until the thickest part reaches {150 F}. ", "everything ",
     "90 minutes (2 hours) ", "\n\n- list\n", "(((", "1. ", "gas mark 4 ", "½ cup", "{eggs: 2}", "{{plain}} ", "\u202e"]
)  # fmt: skip
TIMES = st.sampled_from(["{}", "{prep: 10 min, total: 5 min}", "{cook: 2 h, rest: overnight, total: 1 h}"])
TAILS = st.sampled_from(
    ["", "video: {address: 'https://video.example/x', length: '0:05'}\n", "photos: [{file: a.jpg, alt: a.jpg}]\n",
     "substitutions: {dragon: a knight}\n", "yield: 4\n", "accept: [{finding: pair-disagrees, reason: so}]\n",
     "video: {file: x.mp4, captions: y.vtt}\n", "draft: true\nnotes: [Add 1 cup (5 kg) flour., '']\n"]
)  # fmt: skip


@st.composite
def sources(draw: st.DrawFn) -> str:
    lines = draw(st.lists(st.tuples(AMOUNTS, NAMES), min_size=1, max_size=6))
    steps = draw(st.lists(st.lists(PIECES, min_size=1, max_size=5), min_size=1, max_size=4))
    moments = draw(st.lists(st.one_of(st.none(), st.integers(0, 600)), min_size=4, max_size=4))
    parts = ["title: Odd\n", f"times: {draw(TIMES)}\n", "ingredients:\n"]
    parts += [f"  - {quoted(f'{amount} {name}'.strip() or 'water')}\n" for amount, name in lines]
    parts.append("steps:\n")
    for pieces, at in zip(steps, moments, strict=False):
        moment = "" if at is None else f", at: '{at // 60}:{at % 60:02d}'"
        parts.append(f"  - {{text: {quoted(''.join(pieces).strip() or 'Stir.')}{moment}}}\n")
    return "".join(parts) + draw(TAILS)


def quoted(text: str) -> str:
    return "'" + text.replace("'", "''").replace("\n", " ") + "'"


@settings(max_examples=200, suppress_health_check=[HealthCheck.too_slow])
@given(sources())
def test_no_check_breaks_down(source: str) -> None:
    try:
        recipe = read_text(source, Path("odd/recipe.yaml"))
    except SourceError:
        return
    found = run(recipe, None, Channel(), load())
    assert [(f.message, f.why) for f in found if f.check == CRASHED] == []
    one = sheet(recipe, found)
    assert print_text([one]) and print_lines([one]) is not None and print_json([one])
    for f in found:
        assert 0 <= f.span.start <= f.span.end <= len(source) or f.span.file != one.file
        assert f.message and "\n" not in f.message
        for fix in f.fixes:
            assert fix.title
            for edit in fix.edits:
                assert edit.span.file == one.file and edit.span.end <= len(source)


@settings(max_examples=100)
@given(st.text(max_size=200))
def test_no_check_breaks_down_on_any_words(text: str) -> None:
    source = f"title: Odd\ningredients: ['1 cup or 240 g water']\nsteps:\n  - '{text.replace(chr(39), '')}'\n"
    try:
        recipe = read_text(source, Path("odd/recipe.yaml"))
    except SourceError:
        return
    assert not [f for f in run(recipe, None, Channel(), load()) if f.check == CRASHED]
