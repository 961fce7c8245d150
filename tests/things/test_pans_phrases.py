"""Pan phrases in prose: all sentences here were made up for these tests."""

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bakelab.errors import PanError
from bakelab.pans import pan, pan_in_text

IN = 2.54


def first(text):
    mentions = pan_in_text(text)
    assert mentions, text
    return mentions[0].pan


@pytest.mark.parametrize(
    ("text", "shape", "rim", "unit"),
    [
        ("Use a greased 9x5-inch loaf pan.", "loaf", (9, 5), IN),
        ("a 9- by 5- by 3-inch loaf pan", "loaf", (9, 5, 3), IN),
        ("a 9-inch by 5-inch loaf pan", "loaf", (9, 5), IN),
        ("a 9 in. x 5 in. loaf pan", "loaf", (9, 5), IN),
        ("a 9″ × 5″ × 3″ loaf pan", "loaf", (9, 5, 3), IN),
        ('a 9"x5" bread tin', "loaf", (9, 5), IN),
        ("a nine by five inch loaf pan", "loaf", (9, 5), IN),
        ("8½ x 4½ inch loaf pan (21 x 11 cm)", "loaf", (8.5, 4.5), IN),
        ("8-1/2 x 4-1/2 x 2-3/4-inch loaf pan", "loaf", (8.5, 4.5, 2.75), IN),
        ("a 4x8 loaf pan", "loaf", (8, 4), IN),
        ("a loaf pan measuring about 23 x 13 cm", "loaf", (23, 13), 1),
        ("Loaf pan: 9 x 5 in", "loaf", (9, 5), IN),
        ("1 loaf pan, 230 x 130 x 70 mm", "loaf", (23, 13, 7), 1),
        ("13 x 4 x 4 in lidded pan", "loaf", (13, 4, 4), IN),
        ("one 9 x 13 pan", "rectangle", (13, 9), IN),
        ("a 9x9x2-inch baking pan", "square", (9, 9, 2), IN),
        ("a half sheet pan (18x13 inches)", "sheet", (18, 13), IN),
        ("Kastenform 30 cm", "loaf", (30,), 1),
        ("eine Kastenform (30 x 11 cm)", "loaf", (30, 11), 1),
        ("eine gefettete 30-cm-Kastenform", "loaf", (30,), 1),
        ("eine Form (20 x 20 cm)", "square", (20, 20), 1),
        ("Kastenform, 30 cm lang, 11 cm breit", "loaf", (30, 11), 1),
        ("un moule à cake de 26 cm", "loaf", (26,), 1),
        ("un moule rectangulaire de 30 x 20 cm", "rectangle", (30, 20), 1),
        ("un plat à gratin de 30 x 20 cm", "dish", (30, 20), 1),
        ("a baking dish, 13 x 9 inches", "dish", (13, 9), IN),
    ],
)
def test_long_pans(text, shape, rim, unit):
    made = first(text).to_dict()
    sides = (made["length_cm"], made["width_cm"], made["depth_cm"])
    wanted = [side * unit for side in rim] + [None] * (3 - len(rim))
    assert made["shape"] == shape
    for got, want in zip(sides, wanted, strict=True):
        assert got == (pytest.approx(want) if want else None)


@pytest.mark.parametrize(
    ("text", "shape", "diameter", "count"),
    [
        ('Divide the batter between two 8" rounds.', "round", 8 * IN, 2),
        ("3 8-inch cake pans", "round", 8 * IN, 3),
        ("2 x 8-inch round tins", "round", 8 * IN, 2),
        ("a nine-inch round pan", "round", 9 * IN, 1),
        ("a 23cm/9in round tin", "round", 23, 1),
        ("a 20 cm (8 inch) round cake tin", "round", 20, 1),
        ("an 8in round, loose-bottomed cake tin", "round", 8 * IN, 1),
        ("two 20cm sandwich tins", "round", 20, 2),
        ("greased 9-inch spring-form pan", "springform", 9 * IN, 1),
        ("a 10-inch tube pan", "tube", 10 * IN, 1),
        ("a 10-inch fluted tube pan", "fluted tube", 10 * IN, 1),
        ("your pie dish (around 9 inch diameter)", "pie", 9 * IN, 1),
        ("a 9½-inch deep-dish pie pan", "pie", 9.5 * IN, 1),
        ("an 11 inch iron skillet", "skillet", 11 * IN, 1),
        ("26er Springform", "springform", 26, 1),
        ("Springform (26 cm Durchmesser)", "springform", 26, 1),
        ("Springform mit Ø 26 cm", "springform", 26, 1),
        ("Springform von 24 cm Ø", "springform", 24, 1),
        ("runde Form, Durchmesser 24 cm", "round", 24, 1),
        ("Gugelhupfform (22 cm)", "fluted tube", 22, 1),
        ("un moule de 20 cm de diamètre", "round", 20, 1),
        ("deux moules ronds de 18 cm", "round", 18, 2),
        ("un moule à charnière (diamètre 22 cm)", "springform", 22, 1),
    ],
)
def test_round_pans(text, shape, diameter, count):
    made = first(text)
    assert (made.shape, made.count) == (shape, count)
    assert made.to_dict()["diameter_cm"] == pytest.approx(diameter)


@pytest.mark.parametrize(
    ("text", "shape", "count"),
    [
        ("two greased 9x5 loaf pans", "loaf", 2),
        ("each of 3 loaf tins (20 x 10 cm)", "loaf", 3),
        ("2 (9x5-inch) loaf pans", "loaf", 2),
        ("Makes 2 loaves. Use one 9x5-inch loaf pan.", "loaf", 1),
        ('2x 2 quart (8") baking dishes', "dish", 2),
        ("a 12-cup muffin tin", "muffin", 12),
        ("two 6-hole muffin trays", "muffin", 12),
        ("12er Muffinblech", "muffin", 12),
        ("zwei Kastenformen (25 cm)", "loaf", 2),
        ("deux moules à cake de 24 cm", "loaf", 2),
    ],
)
def test_counts(text, shape, count):
    made = first(text)
    assert (made.shape, made.count) == (shape, count)


@pytest.mark.parametrize(
    ("text", "lidded"),
    [
        ("a 9x4x4-inch lidded loaf pan", True),
        ("a 33 x 10 x 10 cm loaf pan with a sliding lid", True),
        ("Grease a 13x4x4 inch loaf pan and its lid.", True),
        ("Kastenform mit Deckel (30 x 10 x 10 cm)", True),
        ("moule à pain de mie 28 x 10 x 10 cm avec couvercle", True),
        ("Lower it into a hot dutch oven, cover and bake.", True),
        ("a 9x5-inch loaf pan without a lid", False),
        ("Put it in a 9x5-inch loaf pan, cover with a cloth.", False),
        ("a 9x5-inch loaf pan", False),
    ],
)
def test_lids(text, lidded):
    assert first(text).lidded is lidded


@pytest.mark.parametrize(
    "text",
    [
        "Pour 2 inches of water in the pan.",
        "The size is NOT 9x13.",
        "This is not a 9x13 pan.",
        "Use a bowl instead of a 9x5 loaf pan.",
        "Cut into 2-inch pieces.",
        "Roll into a 9x12 inch rectangle.",
        "Roll into a rectangle 8 by 12 inches.",
        "Roll it out to a 9-inch round.",
        "Cut the dough into 3-inch rounds.",
        "Divide into two 8-inch rounds and rest on a cloth.",
        "Flatten to about 1 inch thick.",
        "Put a pan of water on the lower rack.",
        "Set a baking tray with ice cubes below.",
        "Tear off a sheet of foil 30 cm long.",
        "Bake in batches of 12.",
        "Top the 9 inch pizza base.",
        "Melt the butter in a pan over medium heat.",
        "Warm the milk in a saucepan.",
        "Melt the butter in a frying pan.",
        "Makes 2 loaves.",
        "Add a 14-oz tin of tomatoes.",
        "Pour hot water into the shallow pan on the rack beneath.",
        "Let it cool, then remove from the pan.",
        "Keep the dough in good form for 30 minutes.",
        "Den Teig 30 cm lang ausrollen.",
        "Découper des cercles de 10 cm.",
        "Keine 26er Springform nehmen.",
        "Pan de masa madre",
        "",
        "Cover with tin foil 12 inches long.",
    ],
)
def test_traps_are_not_pans(text):
    assert pan_in_text(text) == ()


def test_first_of_a_range_is_taken_and_said():
    (mention,) = pan_in_text("In a 6-8 inch baking dish, press it flat.")
    assert mention.pan.to_dict()["length_cm"] == pytest.approx(6 * IN)
    assert not mention.certain
    assert "range" in mention.note


def test_named_pan_without_size():
    (mention,) = pan_in_text("Turn it into a large loaf pan.")
    assert mention.pan.shape == "loaf"
    assert not mention.certain
    assert mention.pan.to_dict()["length_cm"] is None
    assert mention.pan.assumed


def test_capacity_class_of_a_british_tin():
    (mention,) = pan_in_text("Grease a 900g (2lb) loaf tin.")
    assert mention.pan.to_dict()["length_cm"] is None
    assert "2 lb loaf tin" in mention.pan.assumed[0]


def test_two_unit_systems_are_one_pan():
    mentions = pan_in_text("an 8½ x 4½ inch loaf pan (21 x 11 cm)")
    assert len(mentions) == 1
    assert mentions[0].certain


@pytest.mark.parametrize(
    "text",
    [
        "Press it into a greased 9x13 and let rise.",
        "Bake in a buttered 9 x 13 inch for 30 minutes.",
    ],
)
def test_size_that_stands_for_the_pan(text):
    (mention,) = pan_in_text(text)
    assert mention.pan.shape == "rectangle"
    assert mention.pan.to_dict()["length_cm"] == pytest.approx(13 * IN)
    assert not mention.certain


def test_sizes_of_two_pans_stay_apart():
    text = 'an 8" x 4" loaf pan or a 9" x 5" loaf pan'
    lengths = [m.pan.to_dict()["length_cm"] for m in pan_in_text(text)]
    assert lengths == [pytest.approx(8 * IN), pytest.approx(9 * IN)]


def test_size_after_or_is_said():
    (mention,) = pan_in_text("an 8 x 4 or 9 x 5 inch loaf pan")
    assert mention.pan.to_dict()["length_cm"] == pytest.approx(8 * IN)
    assert mention.note == "two sizes were written; the first is taken"


def test_two_pans_in_one_sentence():
    text = "I use an 8 inch springform pan, but a dutch oven is better."
    assert [m.pan.shape for m in pan_in_text(text)] == ["springform", "pot"]


def test_unit_nobody_wrote_is_assumed_and_said():
    assert "unit inches: none was written" in first("one 9 x 13 pan").assumed
    assert "unit cm: none was written" in first("a 23 x 33 tin").assumed


def test_span_is_the_words():
    text = "Then grease two 9x5-inch loaf pans (23 x 13 cm) well."
    (mention,) = pan_in_text(text)
    assert text[mention.start : mention.end] == mention.text
    assert mention.text == "two 9x5-inch loaf pans (23 x 13 cm)"


def test_wrapped_line_and_new_paragraph():
    assert first("a greased 9x5-inch\nloaf pan").length_cm == pytest.approx(9 * IN)
    assert pan_in_text("Add 9\n\nPan of water") == ()


@pytest.mark.parametrize(
    "text",
    [
        "two greased 9x5-inch loaf pans",
        "26er Springform",
        "a large loaf pan",
        "Kastenform mit Deckel (30 x 10 x 10 cm)",
        "2lb loaf tin",
        "12-cup muffin tin",
    ],
)
def test_mentions_round_trip_as_specs(text):
    made = first(text)
    assert pan(made.text_spec) == made


@given(st.text(max_size=300))
def test_no_text_crashes(text):
    for mention in pan_in_text(text):
        assert text[mention.start : mention.end] == mention.text


pieces = st.sampled_from(
    [
        "9",
        "13",
        "½",
        "8½",
        "x",
        "×",
        "by",
        "-",
        "inch",
        '"',
        "cm",
        "er",
        "Ø",
        "(",
        ")",
        ",",
        ".",
        "\n",
        "two",
        "2",
        "greased",
        "loaf",
        "round",
        "muffin",
        "lidded",
        "with",
        "lid",
        "of",
        "water",
        "not",
        "pan",
        "pans",
        "tin",
        "Kastenform",
        "Springform",
        "moule",
        "à",
        "cake",
        "de",
        "dish",
        "quart",
        "lb",
        "g",
        "cup",
        "deep",
        "or",
        "to",
        "0",
        "999999",
        "1e9",
        "diameter",
        "rounds",
        "oven",
        "dutch",
    ]
)


@settings(max_examples=400)
@given(st.lists(pieces, max_size=40), st.sampled_from([" ", ""]))
def test_no_order_of_pan_words_crashes(words, between):
    text = between.join(words)
    mentions = pan_in_text(text)
    assert mentions == pan_in_text(text)
    for mention in mentions:
        assert text[mention.start : mention.end] == mention.text
        assert mention.pan.volume.magnitude > 0
    ends = [mention.end for mention in mentions]
    starts = [mention.start for mention in mentions]
    assert all(end <= start for end, start in zip(ends, starts[1:], strict=False))


@pytest.mark.parametrize(
    "unit",
    [
        "pan ",
        "9 inch pan, ",
        "pan ( ( 9 ",
        "1",
        "1-1 ",
        "9x",
        "½",
        "\n",
        "loaf ",
        "Stir the dough for 9 minutes and grease a pan of 9 x 5 inches. ",
    ],
)
def test_time_grows_with_the_text_and_no_faster(unit):
    def seconds(size):
        text = unit * (size // len(unit))
        start = time.process_time()
        pan_in_text(text)
        return time.process_time() - start

    seconds(1000)
    small = max(min(seconds(40_000) for _ in range(3)), 2e-3)
    assert min(seconds(400_000) for _ in range(2)) < 50 * small


@pytest.mark.parametrize(
    "text",
    [
        "Bake in a 0 cm (9 inch) pan.",
        "Use a 0 x 0 x 0 in loaf pan.",
        "Use a 0 qt dish.",
        "Use a 0 inch round pan.",
    ],
)
def test_a_pan_of_nothing_is_no_pan(text):
    assert pan_in_text(text) == ()


def test_no_capacity_gets_a_sentence():
    with pytest.raises(PanError, match="capacity of 0 cm³ is not possible"):
        pan("0 qt dish")


@pytest.mark.parametrize(
    ("line", "spec"),
    [
        ("Pan: loaf 8 x 4 x 2.5 in", "loaf 8 x 4 x 2.5 in"),
        ("- **Pan**: loaf 30 x 11 x 7 cm, base 28 x 9 cm.",
         "loaf 30 x 11 x 7 cm, base 28 x 9 cm"),
        ("Baking tin: 2 round 8 x 2 in", "2 round 8 x 2 in"),
    ],
)  # fmt: skip
def test_a_line_of_facts_names_the_pan_as_the_lab_writes_it(line: str, spec: str):
    text = f"Mix and let rise.\n{line}\nOven: 220 C"
    (mention,) = pan_in_text(text)
    assert mention.pan.text_spec == spec
    assert mention.certain
    assert text[mention.start : mention.end] == mention.text


@pytest.mark.parametrize(
    "line", ["Pan: as above", "Pan: 200 C", "Pan: loaf 8 x 4 x 2.5", "Oven: 220 C"]
)
def test_a_label_without_a_pan_names_none(line: str):
    assert pan_in_text(line) == ()
