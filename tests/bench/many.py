"""A seeded content folder of many recipes without photos, made from the demo's: other names, numbers and words."""

from __future__ import annotations

import random
import re
import shutil
from pathlib import Path

ROOT = Path(__file__).parents[2]
_WORDS = [
    "amber",
    "birch",
    "cinder",
    "dapple",
    "ember",
    "fennel",
    "gable",
    "hazel",
    "indigo",
    "juniper",
    "kindle",
    "larch",
    "maple",
    "nettle",
    "oaken",
    "pebble",
]


def make(folder: Path, count: int, seed: int = 1) -> None:
    """Fills ``folder`` with content/ of ``count`` recipes. Their grams differ a little, so that few lines come
    back as they were."""
    rng = random.Random(seed)
    recipes = folder / "content" / "recipes"
    recipes.mkdir(parents=True)
    shutil.copy(ROOT / "content" / "channel.yaml", folder / "content" / "channel.yaml")
    sources = [
        path.read_text(encoding="utf-8")
        for path in sorted((ROOT / "content" / "recipes").glob("*/recipe.yaml"))
        if "cocoa-oat-squares" not in str(path)
    ]
    for i in range(count):
        text = sources[i % len(sources)]
        words = " ".join(rng.sample(_WORDS, 2)).title()
        text = re.sub(r"(?m)^title: *\"?([^\"\n]*)\"?$", rf'title: "{words} \1 {i}"', text)
        text = re.sub(r"(?m)^slug:.*\n", "", text)
        text = re.sub(r"(?ms)^photos:\n(?:[ #-].*?\n|\n)*", "", text)
        text = re.sub(r"(?m)^( *)photo: *\n(?:\1 +.*\n)+", "", text)
        text = re.sub(r"(?m)^ *photo:.*\n", "", text)
        text = re.sub(r"(?m)^ *captions:.*\n", "", text)
        text = re.sub(r"(?m)^published: *\S+", f"published: {2016 + i % 10}-{1 + i % 12:02}-{1 + i % 28:02}", text)
        text = _weighed(text, rng.uniform(0.97, 1.03))
        place = recipes / f"recipe-{i:05}"
        place.mkdir()
        (place / "recipe.yaml").write_text(text, encoding="utf-8")


def _weighed(text: str, by: float) -> str:
    """The text with its grams and millilitres times ``by``."""
    return re.sub(r"\b(\d+)(?= ?(?:g|ml)\b)", lambda m: str(max(1, round(int(m[1]) * by))), text)
