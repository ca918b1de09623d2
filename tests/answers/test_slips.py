from gudgeon.answers.slips import heavier_slip, parts_slip

SPREADS = (1e-4, 1e-4, 1e-4)


def test_parts_that_make_the_total_are_no_slip() -> None:
    assert parts_slip(0.0600, (0.040, 0.012, 0.0081), SPREADS) == ""


def test_a_changed_digit_is_pointed_at() -> None:
    words = parts_slip(0.06649, (0.03782, 0.00498, 0.00369), SPREADS)
    assert words.startswith("told 66.49 g, but the parts add to 46.49 g, 20 g less; one digit differs (6 for 4)")


def test_a_total_below_its_parts_says_more() -> None:
    words = parts_slip(0.050, (0.040, 0.012, 0.008), SPREADS)
    assert "the parts add to 60.00 g, 10 g more; one digit differs (5 for 6)" in words


def test_totals_that_differ_in_many_digits_point_at_none() -> None:
    assert "digit" not in parts_slip(0.0537, (0.040, 0.012, 0.008), SPREADS)


def test_a_total_alone_is_held_against_its_water_only() -> None:
    assert parts_slip(0.066, (), ()) == ""
    assert heavier_slip(0.066, 0.070) == ""
    assert heavier_slip(0.0701, 0.070) == (
        "at 70.10 g it is already 0.1 g heavier than the water it displaces; ballast makes it sink faster"
    )
