"""The whole way from typed words to a verdict, over a case file."""

from pathlib import Path

import pytest

from pipeline.measure.lookup import load
from pipeline.recipe.weigh import weigh

CASES = [
    [part.strip() for part in line.split("|")]
    for line in (Path(__file__).parent / "pair_cases.txt").read_text(encoding="utf-8").splitlines()
    if line and not line.startswith("#")
]


@pytest.mark.parametrize("question,status,slip", CASES, ids=[c[0] for c in CASES])
def test_pair(question: str, status: str, slip: str) -> None:
    verdict = weigh(question, load()).pairs[0][2]
    assert verdict.status == status, verdict.why
    if slip != "?":
        assert (verdict.slip.id if verdict.slip else "-") == slip


@pytest.mark.parametrize("question,status,slip", [c for c in CASES if c[1] == "disagrees"])
def test_each_proposed_pair_agrees(question: str, status: str, slip: str) -> None:
    before = weigh(question, load())
    name = f"{before.line.name}, {before.line.note}"
    for fix in before.pairs[0][2].fixes:
        size = f" {before.line.size} " if before.line.size and before.line.size not in fix else " "
        assert fix != " or ".join(a.text for a in before.line.amounts[:2]), "what was typed is no correction"
        again = weigh(f"{fix}{size}{name}", load())
        if " or " not in fix:  # both could only be said in the same words: one of them is enough
            continue
        assert again.pairs, fix
        assert again.pairs[0][2].status in ("agrees", "loose"), fix


def test_a_verdict_names_the_row_it_rests_on() -> None:
    weighed = weigh("3 cups or 710 g all-purpose flour", load())
    verdict = weighed.pairs[0][2]
    assert verdict.row is not None and "20081" in verdict.row.source  # USDA SR28 (2016), NDB 20081
    assert verdict.fixes == ("3 cups or 375 g", "5 2/3 cups or 710 g")


def test_an_unknown_ingredient_is_reported_with_near_names() -> None:
    weighed = weigh("1 cup or 100 g moon dust", load())
    assert weighed.match is None
    assert weighed.pairs[0][2].status == "unknown"


def test_a_fruit_of_which_both_are_taken_is_weighed_whole() -> None:
    for line in ("2 lemons, zested and juiced", "zest and juice of 2 lemons", "2 lemons (juice and zest)"):
        weighed = weigh(line, load())
        assert weighed.match is not None and weighed.match.row.name == "lemon", line
        assert weighed.dual.weight is not None and weighed.dual.weight.text == "220 g", line
    juiced = weigh("1 orange, juiced", load()).match
    assert juiced is not None and juiced.row.name == "orange juice"


def test_two_weights_need_no_table() -> None:
    assert weigh("1 lb (454 g) moon dust", load()).pairs[0][2].status == "agrees"


@pytest.mark.parametrize(
    "question,words,fixes",
    [
        ("25 g or 2 cups bread flour", "`25 g`", ("25 g or 3 tbsp", "275 g or 2 cups")),
        ("1/4 cup or 3 tbsp butter", "Australian", ("1/4 cup or 4 tbsp", "3 tbsp")),
        ("1 lb or 8 oz beef", "`8 oz` is 1/2 of what fits", ("1 lb or 16 oz", "1/2 lb or 8 oz")),
        ("100 g or 0.2 kg flour", "`0.2 kg` is 2 times what fits", ("100 g", "200 g or 0.2 kg")),
        ("2 large eggs (110 g)", "", ("2 large or 100 g",)),
        ("1 oz (30 g) cheese", "", ("1 oz or 28 g",)),
    ],
)
def test_the_cause_and_both_corrected_pairs(question: str, words: str, fixes: tuple[str, ...]) -> None:
    verdict = weigh(question, load()).pairs[0][2]
    assert verdict.fixes == fixes
    assert words in (verdict.slip.words if verdict.slip else "")


@pytest.mark.parametrize(
    "question,status",
    [
        ("1/3 cup (75 ml) raisins", "agrees"),
        ("1 3/4 cups (425 ml) stock", "agrees"),
        ("1/3 cup (100 ml) milk", "disagrees"),
        ("1 1/3 cups (75 ml) milk", "disagrees"),
    ],
)
def test_what_cards_print_beside_a_metric_cup(question: str, status: str) -> None:
    assert weigh(question, load(), "metric").pairs[0][2].status == status
