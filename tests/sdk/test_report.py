"""The page: complete, in order, readable at 80 columns by someone who knows nothing of the trade."""

import re
from typing import Any

import msgspec
import pytest
from tests.sdk.invented_answers import (
    candidate,
    caution,
    hookup,
    inertia,
    quantity,
    series,
    session_plan,
    sizing,
    stretch,
)

import upstroke
from upstroke._report import render


def page(*notes: str, **changes: Any) -> str:
    answer = msgspec.convert(sizing(**changes), upstroke.Sizing)
    return render(answer, notes)


def lines_of(text: str, heading: str) -> list[str]:
    """The lines below a heading, up to the next heading, without empty ones."""
    lines = text.splitlines()
    start = next(at for at, line in enumerate(lines) if line == heading) + 2
    underlined = [at for at in range(start, len(lines)) if lines[at] and set(lines[at]) == {"-"}]
    end = underlined[0] - 1 if underlined else len(lines)
    return [line for line in lines[start:end] if line]


def test_no_line_is_wider_than_80_columns() -> None:
    wide = candidate("x" * 200) | {"reasons": [{"code": "long", "text": "A long reason. " * 40}]}
    text = page("A long note. " * 20, candidates=[candidate(), wide | {"outcome": "fits_with_limits"}])

    assert max(len(line) for line in text.splitlines() if "x" * 200 not in line) <= 80


def test_the_parts_come_in_the_order_in_which_a_reader_needs_them() -> None:
    expected = [
        "Note first.",
        "Every product here is invented.",
        "Yes: this works.",
        "How high the water must go",
        "Cylinders considered",
        "Filling the tank",
        "What one fill gives",
        "What would make pumping lighter",
        "What stretch takes of the stroke",
        "Sessions at the pump",
        "Water for every day",
        "What to quote",
        "Cautions",
        "How to connect it",
        "Assumed",
        "What to ask next",
        "What this is",
        "An estimate for planning.",
    ]
    text = page("Note first.")
    positions = [text.index(part) for part in expected]

    assert positions == sorted(positions)


def test_a_real_catalogue_needs_no_notice() -> None:
    text = page(catalogue={"name": "mine", "invented": False, "notice": "Prices as of today."})

    assert "Prices as of today." not in text


def test_the_lift_budget_adds_up_line_by_line_to_the_total_head_and_is_held_against_the_rating() -> None:
    lines = lines_of(page(), "How high the water must go")
    heads = [float(found[1]) for line in lines if (found := re.match(r"  \S.{39} +(-?[0-9.]+) ft", line))]

    *parts, total, rated = heads
    assert len(parts) == 9
    assert sum(parts) == pytest.approx(total)
    assert (total, rated) == (162.0, 200.0)
    assert "  38 ft to spare. The rated lift would be used up at 56.4 psi in the tank." in lines


def test_a_head_beyond_the_rating_says_by_how_much_and_what_pressure_is_left() -> None:
    deep = page(candidates=[candidate(outcome="does_not_fit", margin=-22.0)], recommended="none")
    deeper = page(candidates=[candidate(outcome="does_not_fit", margin=-95.0)], recommended="none")

    assert "  22 ft too much. The rated lift would be used up at 56.4 psi in the tank." in deep
    assert (
        "  95 ft too much. The rated lift is used up before there is any pressure in the\n  tank." in deeper
    )


def test_bars_are_drawn_to_one_scale_and_a_fall_has_none() -> None:
    lines = {line[2:30].strip(): line.count("#") for line in lines_of(page(), "How high the water must go")}

    assert lines["Rated lift: what the cylinde"] == 25
    assert lines["Total head"] == round(25 * 162 / 200)
    assert lines["Tank's gauge above the pump"] == 0


def test_cylinders_come_with_outcome_and_reasons_and_the_recommended_one_is_marked() -> None:
    assert lines_of(page(), "Cylinders considered, best first")[-5:] == [
        "  1. Invented slim: FITS, recommended",
        "     bore 1.5 in, stroke 9 in, ceiling 56.4 psi (set by: rated lift)",
        "     - The reason for slim.",
        "  2. Invented wide: DOES NOT FIT",
        "     - The reason for wide.",
    ]


def test_an_outcome_that_is_new_is_shown_as_it_is() -> None:
    assert "Invented slim: FITS_ON_SUNDAYS" in page(candidates=[candidate(outcome="fits_on_sundays")])


def test_the_curve_shows_about_ten_points_from_start_to_end_with_strokes_and_minutes() -> None:
    lines = lines_of(page(), "Filling the tank, from start to end")
    first, *_, last = rows = [line.split() for line in lines[4:]]

    assert lines[2].split() == ["pressure", "water", "strokes", "time", "hand", "force", "strokes"]
    assert lines[3].split() == ["[psi]", "[gal]", "[min]", "[lbf]", "[per", "min]"]
    assert len(rows) == 8
    assert first == ["28.0", "0.0", "0", "0.0", "24.0", "40.0"]
    assert last == ["40.0", "49.0", "1,225", "24.5", "24.0", "40.0"]


@pytest.mark.parametrize(
    ("count", "rows"), [(2, 2), (5, 5), (10, 10), (11, 11), (48, 10), (50, 8), (200, 10)]
)
def test_a_curve_of_any_length_is_thinned_to_few_rows(count: int, rows: int) -> None:
    column = [float(step) for step in range(count)]
    curve = {
        name: series("x", *column)
        for name in ("pressure", "water", "strokes", "time", "hand_force", "cadence")
    }
    lines = lines_of(page(curve=curve), "Filling the tank, from start to end")[4:]

    assert len(lines) == rows
    assert [float(lines[0].split()[0]), float(lines[-1].split()[0])] == [0.0, count - 1.0]


def test_one_fill_says_how_much_water_between_which_pressures_for_how_much_work() -> None:
    text = " ".join(lines_of(page(), "What one fill gives"))

    assert "5.25 gal that can be used while the pressure falls from 40 psi to 28 psi." in text
    assert "takes 1,234 strokes and 31 min, rests included; at the end the handle needs 31 lbf." in text
    assert "- 3 toilet flushes" in text


def test_one_fill_says_what_falls_short() -> None:
    reserve = sizing()["reserve"] | {"findings": [{"code": "tank_too_small", "text": "Carry a bucket."}]}

    assert lines_of(page(reserve=reserve), "What one fill gives")[-1] == "Carry a bucket."


def test_inertia_and_its_remedies_are_shown_only_where_it_governs() -> None:
    assert lines_of(page(), "What would make pumping lighter") == [
        "Every stroke has to set the water in the pipes moving. At the end of a fill that",
        "takes up to 4 lbf of the force at the handle.",
        "  - An air chamber takes the force to 27 lbf.",
    ]
    assert "pumping lighter" not in page(inertia=inertia(governs=False, remedies=[]))


def test_stretch_is_shown_with_other_materials_only_where_it_matters() -> None:
    lines = lines_of(page(), "What stretch takes of the stroke")

    assert " ".join(lines[:2]) == (
        "As the load comes and goes, the rod stretches by 0.3 in and the drop pipe by 0.6 in: 8.1 in of the "
        "stroke is left. With materials of the same dimensions:"
    )
    assert [line.split() for line in lines[2:]] == [
        ["rod", "drop", "pipe", "stroke", "left", "share"],
        ["fibreglass", "PVC", "8.1", "in", "90%"],
        ["fibreglass", "stainless", "steel", "8.7", "in", "96.7%"],
    ]
    assert "stretch" not in page(stretch=stretch(choices=[]))


def test_sessions_are_listed_where_one_is_not_enough() -> None:
    first, *rows = lines_of(page(), "Sessions at the pump")

    assert first == "It takes 2 sessions."
    assert [row.split() for row in rows] == [
        ["session", "pressure", "water", "strokes", "time", "body", "burns"],
        ["[psi]", "[gal]", "[min]", "[kcal]"],
        ["1", "34.0", "2.90", "601", "16.0", "18.0"],
        ["2", "40.0", "2.80", "602", "17.0", "18.0"],
    ]
    assert "Sessions" not in page(sessions=session_plan(count=1, findings=[]))


def test_many_sessions_are_thinned_with_the_first_and_the_last_of_those_listed() -> None:
    rows = lines_of(page(sessions=session_plan(count=40)), "Sessions at the pump")[3:]

    assert len(rows) == 10
    assert [rows[0].split()[0], rows[-1].split()[0]] == ["1", "40"]


def test_a_day_s_water_comes_line_by_line_with_what_it_asks_for() -> None:
    assert lines_of(page(), "Water for every day") == [
        "About 13 gal a day is needed.",
        "  - 3 people: 12 gal a day. More where it is hot.",
        "  - 8 hens: 1 gal a day.",
        "That is a session every day.",
    ]


def test_the_hookup_comes_with_conditions_checks_parts_and_steps_by_who_may_do_them() -> None:
    assert lines_of(page(), "How to connect it") == [
        "Best here, if its conditions are met: the outdoor spigot. A hose runs to it.",
        "For it: It is near.",
        "Against it: It freezes. It is low.",
        "Conditions, every one of which has to be met. A plumber:",
        "  - Only if code allows it.",
        "Checks before any work. The owner:",
        "  - Look at the tank.",
        "  - Tap the gauge.",
        "Checks before any work. A plumber:",
        "  - Follow the pipe.",
        "To have at hand:",
        "  - 2 x Drinking-water hose.",
        "Prepare. The owner:",
        "  1. Lock the breaker.",
        "  2. Close all taps.",
        "Prepare. Whoever pumps:",
        "  3. Pump to waste.",
        "Pump. Whoever pumps:",
        "  4. Stop at 40 psi.",
    ]


def test_a_hookup_without_conditions_is_advised_as_it_is() -> None:
    bare: dict[str, list[object]] = {
        name: [] for name in ("conditions", "advantages", "drawbacks", "checks", "parts")
    }
    answer = sizing(hookup=hookup(verdict="advised", **bare))
    del answer["procedure"]
    text = render(msgspec.convert(answer, upstroke.Sizing))

    assert lines_of(text, "How to connect it") == ["Best here: the outdoor spigot. A hose runs to it."]


def test_parts_show_what_is_known_of_price_and_delivery() -> None:
    assert lines_of(page(), "What to quote") == [
        "  - 1 x Cylinder (X-1, 1,234.50 USD)",
        "  - 7 x Rod (X-2, 5 days)",
    ]


def test_cautions_are_ordered_by_signal_word_and_an_unknown_word_counts_as_the_worst() -> None:
    words = ["caution", "notice", "danger", "whisper", "warning"]
    lines = lines_of(
        page(cautions=[caution(word, f"Mind the {word}.") for word in words]), "Cautions, worst first"
    )

    signals = [line.split()[0] for line in lines[2:] if not line.startswith(" ")]
    assert signals == ["WHISPER", "DANGER", "WARNING", "CAUTION", "NOTICE"]
    assert lines[2:5] == [
        "WHISPER  Mind the whisper.",
        "         Why: why of Mind the whisper.",
        "         Who: who of Mind the whisper.",
    ]


def test_assumptions_are_gathered_by_what_they_rest_on() -> None:
    said = [("One.", "a book"), ("Two.", "habit"), ("Three.", "a book")]
    assumed = [{"pointer": "/x", "text": text, "basis": basis} for text, basis in said]

    assert lines_of(page(assumptions=assumed), "Assumed, because nobody said") == [
        "  - One.",
        "  - Three.",
        "    Basis: a book",
        "  - Two.",
        "    Basis: habit",
    ]


def test_questions_are_numbered_with_their_reason() -> None:
    decisive = {"pointer": "/x", "text": "How deep?", "why": "It decides.", "effect": "verdict"}
    questions = [*sizing()["questions"], decisive | {"consequence": "At 50 ft it fits."}]

    assert lines_of(page(questions=questions), "What to ask next, most useful first") == [
        "  1. Does it freeze? Pipes burst.",
        "  2. How deep? It decides. At 50 ft it fits.",
    ]


def test_an_open_tank_is_filled_without_a_word_about_its_pressure() -> None:
    lifting = candidate()
    lifting["lift_budget"]["target"] = quantity(0.0, "psi")
    none = series("psi", *(0.0 for _ in range(50)))
    plan = session_plan()
    plan["sessions"]["pressure"] = series("psi", 0.0, 0.0)
    answer = sizing(candidates=[lifting], curve=sizing()["curve"] | {"pressure": none}, sessions=plan)
    del answer["hookup"], answer["procedure"]
    text = render(msgspec.convert(answer, upstroke.Sizing))

    assert text.startswith("Hand pump for filling an open tank\n==================================\n")
    assert "  Open end above the pump outlet              -1.0 ft\n" in text
    assert "  38 ft to spare.\n" in text
    assert "     bore 1.5 in, stroke 9 in\n" in text
    assert "5.25 gal that can be used. Pumping it in takes" in text
    assert lines_of(text, "Filling the tank, from start to end")[2].split()[:2] == ["water", "strokes"]
    assert lines_of(text, "Sessions at the pump")[1].split()[:2] == ["session", "water"]
    assert "gauge" not in text
    assert "ceiling" not in text
    assert "How to connect it" not in text


def test_without_a_known_depth_a_table_by_depth_takes_the_place_of_a_recommendation() -> None:
    depths = {
        "static_water_level": series("ft", 25.0, 300.0),
        "fitting": series("1", 7.0, 0.0),
        "best": ["slim", ""],
        "hand_force": series("lbf", 16.1, 0.0),
        "time": series("min", 21.7, 0.0),
    }
    answer = sizing(candidates=[], depth_table=depths, cautions=[], assumptions=[], questions=[])
    for name in (
        "recommended",
        "curve",
        "reserve",
        "parts",
        "inertia",
        "stretch",
        "sessions",
        "needs",
        "hookup",
    ):
        del answer[name]
    text = render(msgspec.convert(answer, upstroke.Sizing))

    assert text.startswith("Hand pump for filling a tank\n")
    assert [line.split() for line in lines_of(text, "What would fit, by depth to the water")] == [
        ["depth", "that", "fit", "best", "hand", "force", "time"],
        ["[ft]", "[lbf]", "[min]"],
        ["25", "7", "slim", "16.1", "21.7"],
        ["300", "0", "-", "-", "-"],
    ]
    assert "How high" not in text
    assert "Cautions" not in text
    assert "Assumed" not in text
    assert "What to ask" not in text
