"""What the two columns print. Expected values by hand from USDA SR28 (2016) household weights."""

import pytest

from pipeline.measure.lookup import load
from pipeline.recipe.weigh import weigh


@pytest.mark.parametrize(
    "line,weight,volume,count",
    [
        ("650 g or 2 3/4 cups water", "650 g", "2¾ cups", None),
        ("650 g water", "650 g", "2¾ cups", None),
        ("3 cups all-purpose flour", "375 g", "3 cups", None),  # NDB 20081: 125 g a cup
        ("1 cup whole milk", "244 g", "1 cup", None),  # NDB 01077
        ("2 large eggs", "100 g", None, "2 large"),  # NDB 01123: 50 g each
        ("1 stick butter", "113 g", None, "1 stick"),  # NDB 01001
        ("8 oz butter", "227 g / 8 oz", "1 cup", None),
        ("1 lb 2 oz (510 g) flour", "510 g / 1 lb 2 oz", "4 cups", None),
        ("3/8 cup milk", "92 g", "¼ cup + 2 tbsp", None),  # no cup is filled to three eighths
        ("1 tbsp + 1 tsp sugar", "17 g", "1 tbsp + 1 tsp", None),  # NDB 19335: 200 g a cup
        ("240 ml milk", "248 g", "1 cup / 240 ml", None),
        ("2 to 3 cups all-purpose flour", "250–375 g", "2–3 cups", None),
        ("1½ cups moon dust", None, "1½ cups", None),
        ("salt to taste", None, None, None),
    ],
)
def test_both(line: str, weight: str | None, volume: str | None, count: str | None) -> None:
    dual = weigh(line, load()).dual
    shown = tuple(s.text if s else None for s in (dual.weight, dual.volume, dual.count))
    assert shown == (weight, volume, count)


def test_what_was_worked_out_is_marked_and_tells_its_error() -> None:
    dual = weigh("3 cups all-purpose flour", load()).dual
    assert dual.weight is not None and dual.volume is not None
    assert dual.weight.derived and not dual.volume.derived
    assert abs(dual.weight.error) < 0.02
