"""Claims see a wrong number, and find a number that nobody claims (laws)."""

import pytest

from pcbchem.page import claims
from pcbchem.page.claims import claim, unclaimed


@pytest.fixture(autouse=True)
def none_kept(monkeypatch):
    monkeypatch.setattr(claims, "CLAIMED", [])


@pytest.mark.parametrize(
    ("phrase", "values", "rel"),
    [
        ("2.6 times", (2.649,), 0),
        ("7½ to 12 min", (7.6, 11.6), 0),
        ("about 300 s", (284,), 0.06),
        ("\u22123 °C", (-3.2,), 0),
        ("10 % acid and 12 % peroxide", (10, 12), 0),
        ("½ oz", (0.5,), 0),
        ("H2O2 at 3 %", (3,), 0),
    ],
)
def test_law_a_number_is_right_to_half_its_last_figure(phrase, values, rel):
    claim(phrase, *values, rel=rel)
    assert [phrase] == claims.CLAIMED


@pytest.mark.parametrize(
    ("phrase", "values"),
    [
        ("2.6 times", (2.66,)),
        ("7½ to 12 min", (7.7, 12)),
        ("about 300 s", (302,)),
        ("2.6 times", (float("nan"),)),
        ("2.6 times", (float("inf"),)),
        ("10 % and 12 %", (12, 10)),
        ("10 % and 12 %", (10,)),
        ("no number", (1,)),
    ],
)
def test_law_a_wrong_number_is_an_error(phrase, values):
    with pytest.raises(AssertionError, match=phrase[:5]):
        claim(phrase, *values)


def test_law_a_claim_without_a_value_names_its_source():
    claim("about 2 s", source="input")
    for source in ("", "somebody", "kell1976"):
        with pytest.raises(ValueError, match="source = "):
            claim("about 2 s", source=source)
    claim("4 °C", source="kell1975")


def test_law_what_nobody_claims_is_found():
    text = "It takes 2.6 times as long; ½ oz of foil. Within 3 °C."
    assert unclaimed(text, ["2.6 times as long", "½ oz", "Within 3 °C"]) == []
    assert len(unclaimed(text, ["2.6 times as long", "½ oz"])) == 1
    assert len(unclaimed("A 2.\nB ¼", [])) == 2
