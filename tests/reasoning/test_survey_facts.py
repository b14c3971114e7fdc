from __future__ import annotations

from datetime import date

from advisor.model.lighting import LampBody
from advisor.model.tank import ANYTHING, Event, EventKind, Fact, Immersion, Lamp, Said, Statement, Tank
from advisor.reasoning.survey_facts import (
    Facts,
    collect,
    last_changed,
    newest_first,
    settled_days,
    sharpness,
    together,
    under_cover,
    under_water,
)
from tests.reasoning.survey_samples import TODAY, animal, fact, library, read, said, spot, tank, waiting


def gather(of: Tank, on: date = TODAY) -> Facts:
    return collect(of, library().vocabulary, on)


def event(name: str, on: date, kind: EventKind, subject: str, *facts: Fact, at: str = "") -> Event:
    return Event(id=name, on=on, kind=kind, subject=subject, spot=at, facts=facts)


def test_the_newest_statement_comes_first_and_undated_ones_are_the_oldest() -> None:
    old, new, undated = read(1.0, date(2026, 1, 1)), read(2.0, date(2026, 6, 1)), read(3.0)
    assert newest_first([undated, old, new]) == (new, old, undated)


def test_saying_that_it_is_not_known_is_no_statement() -> None:
    assert newest_first([said(), read(1.0)]) == (read(1.0),)


def test_of_one_day_a_number_goes_before_a_range_and_a_range_before_a_word() -> None:
    word, wide, number = said(words=("medium",)), said(low=1.0, high=2.0), said(3.0)
    assert newest_first([word, number, wide]) == (number, wide, word)
    assert [sharpness(each) for each in (number, wide, word)] == [0, 1, 2]


def test_only_statements_as_new_and_as_sharp_as_the_first_count_with_it() -> None:
    day = date(2026, 6, 1)
    one, other, word = read(1.0, day), read(2.0, day), said(words=("medium",), on=day)
    assert together(newest_first([word, other, read(9.0), one])) == newest_first([one, other])


def test_statements_after_the_day_are_left_out_and_listed() -> None:
    found = gather(tank([spot("ledge")], (), [fact("light", "ledge", best=9.0, on=date(2026, 12, 1))]))
    assert found.of("light", "ledge") == ()
    assert found.notes == ("light of ledge is left out: it is dated 2026-12-01, after this day",)


def test_a_statement_on_the_day_itself_counts() -> None:
    found = gather(tank([spot("ledge")], (), [fact("light", "ledge", best=9.0, on=TODAY)]))
    assert [each.best for each in found.of("light", "ledge")] == [9.0]
    assert found.notes == ()


def test_a_measure_the_rules_do_not_know_is_listed() -> None:
    found = gather(tank((), (), [fact("colour", "torch-1", words=("gold",))]))
    assert found.notes == ("colour of torch-1 is left out: the rules know no such measure",)


def test_the_width_of_an_animal_is_a_statement_of_its_size() -> None:
    assert [each.best for each in gather(tank((), [animal("a-1", size_cm=7.0)])).of("size", "a-1")] == [7.0]


def test_what_is_read_at_an_animal_belongs_to_where_it_stands() -> None:
    facts = [
        fact("light", "a-1", best=1.0),
        fact("light", "free-1", best=2.0),
        fact("light", "new-1", best=3.0),
    ]
    found = gather(
        tank([spot("ledge")], [animal("a-1", at="ledge"), animal("free-1"), waiting("new-1")], facts)
    )
    assert {key: each[0].best for key, each in found.single["light"].items()} == {
        "ledge": 1.0,
        "at free-1": 2.0,
    }
    assert found.notes == ("light of new-1 is left out: new-1 does not stand in the tank yet",)


def test_a_reading_of_the_journal_counts_like_any_other_and_is_dated_by_its_event() -> None:
    read_then = event("e1", date(2026, 10, 1), EventKind.MEASURED, "ledge", fact("light", "ledge", best=80.0))
    of = tank(
        [spot("ledge")], (), [fact("light", "ledge", best=50.0, on=date(2026, 5, 1))], events=(read_then,)
    )
    newest, older = gather(of).of("light", "ledge")
    assert (newest.best, newest.on, newest.event, older.best) == (80.0, date(2026, 10, 1), "e1", 50.0)


def test_what_was_read_at_an_animal_before_it_moved_belongs_to_its_old_spot() -> None:
    spots, moved = [spot("ledge"), spot("foot")], event("e2", date(2026, 8, 1), EventKind.MOVED, "a-1")
    told = [
        event("e1", date(2026, 7, 1), EventKind.MEASURED, "a-1", fact("light", "a-1", best=1.0), at="foot"),
        event("e3", date(2026, 7, 2), EventKind.MEASURED, "a-1", fact("flow", "a-1", best=2.0)),
        event("e4", date(2026, 9, 1), EventKind.MEASURED, "a-1", fact("light", "a-1", best=3.0)),
    ]
    found = gather(tank(spots, [animal("a-1", at="ledge")], events=(moved, *told)))
    assert {key: each[0].best for key, each in found.single["light"].items()} == {"foot": 1.0, "ledge": 3.0}
    assert "flow" not in found.single
    assert found.notes == ("flow of a-1 is left out: a-1 has been moved since",)


def test_a_gap_measured_before_one_of_the_two_was_moved_is_left_out() -> None:
    animals = [animal("a-1", at="ledge", placed_on=date(2026, 8, 1)), animal("b-1", at="foot")]
    facts = [
        fact("gap", "a-1", "b-1", best=5.0, on=date(2026, 7, 1)),
        fact("gap", "a-1", "b-1", best=9.0, on=date(2026, 9, 1)),
    ]
    found = gather(tank([spot("ledge"), spot("foot")], animals, facts))
    assert [each.best for each in found.pairs["gap"][("a-1", "b-1")]] == [9.0]
    assert found.notes == ("gap of a-1 and b-1 is left out: a-1 has been moved since",)


def test_a_gap_of_an_animal_still_in_its_bag_means_nothing() -> None:
    found = gather(tank((), [animal("a-1"), waiting("new-1")], [fact("gap", "new-1", "a-1", best=5.0)]))
    assert found.pairs == {}
    assert found.notes == ("gap of new-1 and a-1 is left out: new-1 does not stand in the tank yet",)


def test_a_stated_none_is_kept_with_its_open_place() -> None:
    found = gather(tank([spot("ledge")], (), [fact("up-flow", ANYTHING, "ledge", none=True)]))
    assert found.pairs["up-flow"][(ANYTHING, "ledge")][0].none


def test_an_animal_has_stood_there_since_the_last_time_it_was_put_there() -> None:
    events = (
        event("e1", date(2026, 3, 1), EventKind.MOVED, "a-1"),
        event("e2", date(2026, 12, 24), EventKind.MOVED, "a-1"),
        event("e3", date(2026, 4, 1), EventKind.SEEN, "a-1"),
    )
    of = tank((), [animal("a-1", placed_on=date(2026, 1, 1)), animal("b-1")], events=events)
    assert settled_days(of, TODAY) == {"a-1": date(2026, 3, 1)}


def test_the_order_in_which_things_were_written_changes_nothing() -> None:
    day = date(2026, 6, 1)
    facts = [fact("light", "ledge", best=value, on=day, by=Said.INSTRUMENT) for value in (3.0, 1.0, 2.0)]
    one, other = (gather(tank([spot("ledge")], (), each)) for each in (facts, facts[::-1]))
    assert one.single == other.single


def test_since_when_something_is_so_dates_a_statement() -> None:
    old, new = (
        Statement(words=("well",), since=date(2026, 3, 1)),
        Statement(words=("badly",), on=date(2026, 4, 1)),
    )
    assert newest_first([old, new]) == (new, old)


def lit(*outputs: float, then: float | None, **form: object) -> Facts:
    lamps = tuple(
        Lamp(id=f"lamp-{at}", body=LampBody(output_percent=share)) for at, share in enumerate(outputs)
    )
    told = fact("light", "ledge", output_percent=then, on=TODAY, **form)
    return gather(tank([spot("ledge")], facts=[told], lamps=lamps))


def test_light_read_with_lamps_set_otherwise_is_reckoned_to_what_they_are_set_to_now() -> None:
    (now,) = lit(80.0, 80.0, then=40.0, best=100.0, error=10.0).of("light", "ledge")
    assert (now.best, now.error, now.reckoned) == (200.0, 20.0, ("read at 40 %, reckoned at 80 %",))
    (span,) = lit(80.0, then=40.0, low=100.0, high=150.0).of("light", "ledge")
    assert (span.low, span.high) == (200.0, 300.0)


def test_where_no_lamp_is_told_they_are_taken_to_shine_in_full() -> None:
    assert [each.best for each in lit(then=50.0, best=100.0).of("light", "ledge")] == [200.0]


def test_an_output_that_is_that_of_now_or_is_not_told_changes_nothing() -> None:
    for then in (80.0, None):
        (said_,) = lit(80.0, then=then, best=100.0).of("light", "ledge")
        assert (said_.best, said_.how) == (100.0, "")


def test_lamps_that_are_each_set_otherwise_make_such_a_reading_useless() -> None:
    found = lit(80.0, 60.0, then=40.0, best=100.0)
    assert found.of("light", "ledge") == ()
    assert (
        "it was read with the lamps at 40 %, and now each is set otherwise; read it again" in found.notes[0]
    )


def test_what_a_meter_showed_is_multiplied_by_its_factor_under_water() -> None:
    factor = Immersion(factor=1.25)
    (now,) = lit(80.0, then=None, best=94.0, error=4.0, immersion=factor).of("light", "ledge")
    assert (now.best, now.error) == (117.5, 5.0)
    assert now.reckoned == ("94 shown × 1.25 under water = 118 PAR",)
    (span,) = lit(80.0, then=None, low=100.0, high=120.0, immersion=factor).of("light", "ledge")
    assert (span.low, span.high) == (125.0, 150.0)
    assert span.reckoned == ("100-120 shown × 1.25 under water = 125-150 PAR",)
    (both,) = lit(80.0, then=40.0, best=100.0, immersion=factor).of("light", "ledge")
    assert (both.best, len(both.reckoned)) == (250.0, 2)


def test_a_factor_applied_already_or_not_known_leaves_the_number_and_so_do_words() -> None:
    for factor in (1.0, None):
        (now,) = lit(80.0, then=None, best=94.0, immersion=Immersion(factor=factor)).of("light", "ledge")
        assert (now.best, now.reckoned) == (94.0, ())
    word = Statement(words=("medium",), immersion=Immersion(factor=1.25))
    assert under_water(word) == word


def test_the_last_change_of_a_thing_up_to_a_day_is_told_of_it_or_stands_in_the_journal() -> None:
    changed = event("e1", date(2026, 3, 1), EventKind.CHANGED, "lamp-1")
    of = tank((), (), events=(changed, event("e2", date(2026, 12, 1), EventKind.CHANGED, "lamp-1")))
    assert last_changed("lamp-1", date(2024, 1, 1), of, TODAY) == date(2026, 3, 1)
    assert last_changed("lamp-1", date(2026, 5, 1), of, TODAY) == date(2026, 5, 1)
    assert last_changed("lamp-2", date(2027, 1, 1), of, TODAY) is None


def test_a_place_is_under_cover_where_it_is_told_to_be_anything_but_open() -> None:
    for word, covered in (("cave", True), ("overhang", True), ("open", False)):
        told = gather(tank([spot("ledge")], facts=[fact("shelter", "ledge", words=(word,))]))
        assert under_cover(told, "ledge") is covered
    assert under_cover(gather(tank([spot("ledge")])), "ledge") is False
