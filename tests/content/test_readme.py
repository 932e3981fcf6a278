"""README's examples are run: what it quotes, what it says a line may look like, the whole recipe that it shows."""

from __future__ import annotations

import importlib.util
import re
from fractions import Fraction
from pathlib import Path
from types import ModuleType

import pytest

from pipeline.measure.ingredients import Weight
from pipeline.proof.run import run
from pipeline.recipe.folder import own_rows
from pipeline.recipe.model import ComponentUse, HeatMark, Prose, TimeMark, Use
from pipeline.recipe.read import read, read_channel, read_text

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")
YAML = re.findall(r"```yaml\n(.*?)```", README, re.DOTALL)


def section(title: str) -> str:
    start = README.index(f"### {title}\n")
    return README[start : README.index("\n#", start + 4)]


LINES = [
    line
    for line in re.findall(r"`([^`]+)`", section("An ingredient line").split("```")[2].split("| Unit |")[0])
    if re.search(r"\d.* [a-z]{4}|^(?:juice|zest|butter,)", line) and not line.startswith(("{", "-"))
]
MARKS = re.findall(r"`(\{[^`{}]+\})`", section("A step's text").split("An ingredient is found")[0])


def filler() -> ModuleType:
    spec = importlib.util.spec_from_file_location("fill_readme", ROOT / "tests" / "tools" / "fill_readme.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_quoted_outputs_are_what_the_commands_print() -> None:
    assert filler().filled(README) == README, "run `python tests/tools/fill_readme.py` and look at what changed"


def test_the_whole_recipe_reads() -> None:
    recipe = read_text(YAML[0], Path("content/recipes/overnight-dimpled-bread/recipe.yaml"))
    assert [c.key for c in recipe.components] == ["dough", "dip"]
    assert recipe.steps[0].at == 112_000
    assert [step.component for step in recipe.steps] == [0, 1]
    assert recipe.accepted[0].finding == "oven-not-preheated"


@pytest.mark.parametrize("line", LINES)
def test_an_ingredient_line_is_understood(line: str) -> None:
    source = f'title: x\nyield: 1 x\ningredients:\n  - "{line}"\nsteps: [x]\n'
    lines = read_text(source, Path("recipe.yaml")).components[0].ingredients
    assert len(lines) == (2 if " each " in line or "eggs + 1 yolk" in line else 1)
    for read_line in lines:
        assert read_line.amounts, f"no amount read in {line!r}"
        assert not re.search(r"\d", read_line.name), f"a number stayed in the name: {read_line.name!r}"


def test_ingredient_lines_were_found() -> None:
    assert len(LINES) >= 12 and len(MARKS) >= 16


@pytest.mark.parametrize("mark", MARKS)
def test_a_mark_is_understood(mark: str) -> None:
    source = (
        "title: x\nyield: 1 x\ncomponents:\n  dough:\n    - 4 cups or 950 g water, divided\n    - 2 large eggs\n"
        f"  dip:\n    - 1 cup water\nsteps:\n  - dip: Stir.\n  - dough: |\n      Use {mark} here.\n"
    )
    pieces = read_text(source, Path("recipe.yaml")).steps[1].pieces
    (piece,) = (p for p in pieces if not isinstance(p, Prose))
    if isinstance(piece, Use):
        assert piece.component is not None, f"{mark} found no ingredient"
    else:
        assert isinstance(piece, ComponentUse | HeatMark | TimeMark)


def test_own_weights_are_read(tmp_path: Path) -> None:
    own = tmp_path / "ingredients.yaml"
    own.write_text(next(y for y in YAML if "aliases" in y), "utf-8")
    rows = own_rows(own)
    assert [row.name for row in rows] == ["bread flour", "sourdough starter"]
    assert rows[0].cup == Weight(Fraction(120), Fraction(128), Fraction(136))


def test_the_draft_has_as_many_findings_as_readme_says() -> None:
    from pipeline.measure.lookup import load

    channel = read_channel(ROOT / "content" / "channel.yaml")
    recipe = read(ROOT / "content" / "recipes" / "cocoa-oat-squares" / "recipe.yaml")
    assert "It finds fourteen." in README
    assert len(run(recipe, None, channel, load())) == 14


def test_the_draft_can_be_mended_as_readme_says() -> None:
    """The slips mended, each by one of the two ways that its finding offers: nothing is left but the captions."""
    from pipeline.measure.lookup import load

    path = ROOT / "content" / "recipes" / "cocoa-oat-squares" / "recipe.yaml"
    source = path.read_text("utf-8")
    for wrong, right in (
        ("480 g or 2 cups", "250 g or 2 cups"),
        ("1 tbsp (5 g)", "1 tsp (5 g)"),
        ("3/4 cup (6 g)", "3/4 cup (170 g)"),
        ("2 large eggs (10 g)", "2 large eggs (100 g)"),
        ("total: 40 min", "total: 50 min"),
        ("  - 1/2 cup (58 g) walnuts, chopped\n", "  - 1 tsp vanilla extract\n"),
        ("at: 1:05", "at: 0:40"),
        ("{90 seconds or 2 1/2 minutes}", "{90 seconds or 1 1/2 minutes}"),
        ("{granulated sugar: 1/2 cup}", "{granulated sugar: rest}"),
        ("{180 F or 350 C}", "{350 F or 180 C}"),
        ("      Whisk {all-purpose flour}", "      Heat the oven to {350 F or 180 C}. Whisk {all-purpose flour}"),
        ("  - file: squares.jpg", "  - {file: squares.jpg, alt: Dark oat squares on parchment paper.}"),
    ):
        assert wrong in source, wrong
        source = source.replace(wrong, right)
    channel = read_channel(ROOT / "content" / "channel.yaml")
    left = run(read_text(source, path), None, channel, load())
    assert [f.check for f in left] == ["captions-missing"], [f.message for f in left]
