"""The list of a plan taken off by hand, and sums of every list recomputed from its rows."""

import math
import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace

import pytest

from planner.hydraulics.catalogue import catalogue
from planner.hydraulics.vents import Vent
from planner.output.materials.gather import GROUPS
from planner.output.materials.make import materials_of
from planner.output.materials.shown import reasons_text
from planner.output.materials.value import Item, Materials
from planner.profile.value import HighPoint, LowPoint
from planner.record.value import Plan
from planner.record.works import AsBuilt, Crossed, LineAir, PlacedVent
from planner.site.value import Tank
from tests.example import example_plan
from tests.output.materials.hand import COIL, PN10, PN16, hand_plan, run_of
from tests.output.worked import worked_plan

WIDTH = 0.3  # m, the trench's


@pytest.fixture(scope="module")
def listed() -> Materials:
    return materials_of(hand_plan())


def item(materials: Materials, start: str) -> Item:
    """The one item whose code begins so."""
    (found,) = [one for one in materials.items if one.article.code.startswith(start)]
    return found


def by_place(one: Item) -> dict[str, float]:
    found: Counter[str] = Counter()
    for use in one.uses:
        found[use.place] += use.amount  # type: ignore[assignment]
    return dict(found)


def test_pn10_by_hand(listed: Materials) -> None:
    # Delivery 180 m and 5 %: 189.0 m, one whole coil and 89.0 m of a second. Distribution 60 m and
    # 5 %: 63.0 m, which the 11.0 m left of the second coil don't hold: a third, 37.0 m over.
    pipe = item(listed, "pipe-32-mm-iso-4427-sdr-17-pn-10")
    assert pipe.quantity == 3.0
    assert by_place(pipe) == pytest.approx({"delivery": 189.0, "distribution-trough": 63.0})
    (order,) = [one for one in listed.pipes if one.article == pipe.article]
    assert [piece.left for piece in order.pieces] == pytest.approx([0.0, 11.0, 37.0])
    assert order.left_m == pytest.approx(3 * 100.0 - 189.0 - 63.0)
    assert "48.0 m over" in pipe.note
    assert pipe.mass == pytest.approx(3 * 100.0 * PN10.mass)


def test_pn16_has_more_over_in_rock(listed: Materials) -> None:
    # 180 to 300 m; 50 m of it in rock: 70 x 0.05 + 50 x 0.10 = 8.5 m beyond 120 m.
    pipe = item(listed, "pipe-32-mm-iso-4427-sdr-11-pn-16")
    assert by_place(pipe) == pytest.approx({"delivery": 128.5})
    assert pipe.quantity == 2.0
    assert pipe.mass == pytest.approx(2 * 100.0 * PN16.mass)
    assert "71.5 m over" in pipe.note


def test_trench_by_hand(listed: Materials) -> None:
    # 200 m x 0.5 m; the step up from 200 to 201 m is 0.65 m deep on the mean; 49 m x 0.8 m; in
    # rock 50 m, 0.8 m and 0.1 m of bedding deep; the distribution 60 m x 0.5 m.
    trench = {(row.line, row.ground, row.depth): row.volume for row in listed.trench}
    assert trench == pytest.approx(
        {
            ("delivery", "ordinary", 0): 200 * 0.5 * WIDTH,
            ("delivery", "ordinary", 1): (0.65 + 49 * 0.8) * WIDTH,
            ("delivery", "rock", 1): 50 * 0.9 * WIDTH,
            ("distribution-trough", "ordinary", 0): 60 * 0.5 * WIDTH,
        }
    )
    assert item(listed, "trench-in-ordinary-ground-up-to").quantity == pytest.approx(39.0)
    assert item(listed, "trench-in-rock").quantity == pytest.approx(13.5)


def test_bedding_and_backfill_by_hand(listed: Materials) -> None:
    # 0.1 m under the pipe, beside and over it, less the pipe itself.
    outside = PN16.outside
    section = math.pi / 4 * outside**2
    bedding = 50 * ((0.2 + outside) * WIDTH - section)
    assert item(listed, "bedding").quantity == pytest.approx(bedding)
    trench = 30.0 + 11.955 + 13.5 + 9.0
    pipe = 180 * math.pi / 4 * PN10.outside**2 + 120 * section + 60 * math.pi / 4 * PN10.outside**2
    assert item(listed, "backfill").quantity == pytest.approx(trench - bedding - pipe)


def test_days_by_hand(listed: Materials) -> None:
    # Rates.dig: 2.0 m3 a day in ordinary ground, 0.4 in rock; Rates.lay: 60 m a day.
    assert item(listed, "digging-in-ordinary").quantity == pytest.approx((30 + 11.955 + 9) / 2)
    assert item(listed, "digging-in-rock").quantity == pytest.approx(13.5 / 0.4)
    assert item(listed, "laying").quantity == pytest.approx(360 / 60)
    assert listed.days == pytest.approx(25.4775 + 33.75 + 6.0)


def test_loads_by_hand(listed: Materials) -> None:
    # PN 10 of 32 mm weighs some 19 kg a coil, PN 16 some 27 kg: one and two carriers at 25 kg.
    loads = {load.words: load for load in listed.carried}
    first, second = (
        loads[item(listed, f"pipe-32-mm-iso-4427-sdr-{n}").article.words] for n in (17, 11)
    )
    assert (first.count, first.carriers, first.trips) == (3, 1, 3)
    assert (second.count, second.carriers, second.trips) == (2, 2, 4)
    # The pad, 0.6 x 0.6 x 0.2 m at 2100 kg/m3 dry: 151.2 kg, seven loads.
    assert loads["Concrete for the pad, dry mix"].trips == 7
    assert listed.trips == 3 + 4 + 7


def test_couplings_by_hand(listed: Materials) -> None:
    # One in 180 m of 100 m coils, one in 120 m, one where the class changes; none in 60 m; a spare.
    coupling = item(listed, "coupling-32-mm")
    assert by_place(coupling) == {"delivery": 3.0, "spare": 1.0}
    assert "compression" in coupling.article.words.lower()
    codes = [one.article.code for one in listed.items]
    assert not any(code.startswith(("elbow", "reducing", "clamps")) for code in codes)


def test_valves_by_hand(listed: Materials) -> None:
    assert by_place(item(listed, "delivery-valve")) == {"delivery": 1.0}
    assert by_place(item(listed, "isolating-valve")) == {"distribution-trough": 1.0}
    assert by_place(item(listed, "outlet-valve")) == {"distribution-trough": 1.0}
    assert by_place(item(listed, "float-valve")) == {"distribution-trough": 1.0}  # "trough"
    # Unions where a line meets the ram and where it is shut at the tank.
    assert by_place(item(listed, "union")) == {"delivery": 1.0, "distribution-trough": 1.0}


def test_owners_by_hand(listed: Materials) -> None:
    assert item(listed, "pipe-on-the-land-of-upper").quantity == pytest.approx(180.0)
    assert item(listed, "pipe-on-land-of-nobody").quantity == pytest.approx(180.0)


@pytest.mark.parametrize("make", [hand_plan, example_plan, worked_plan])
def test_every_sum_is_that_of_its_rows(make: Callable[[], Plan]) -> None:
    plan = make()
    listed = materials_of(plan)
    for one in listed.items:
        if one.article.pack is None:
            assert one.quantity == pytest.approx(sum(use.amount for use in one.uses))
        else:
            bought = one.quantity * one.article.pack
            assert bought + 1e-6 >= sum(use.amount for use in one.uses)
        assert one.quantity > 0
        if one.article.unit in ("piece", "pair", "set", "coil", "stick", "roll", "can"):
            assert one.quantity == int(one.quantity)
    volume = sum(one.quantity for one in listed.items if one.article.code.startswith("trench-"))
    assert volume == pytest.approx(sum(row.volume for row in listed.trench))
    back = sum(row.volume - row.bedding - row.pipe for row in listed.trench)
    assert item(listed, "backfill").quantity == pytest.approx(back)
    days = sum(one.quantity for one in listed.items if one.article.group == "labour")
    assert days == pytest.approx(listed.days)
    land = sum(one.quantity for one in listed.items if one.article.group == "land")
    assert land == pytest.approx(sum(share.metres for share in plan.owners))
    for order in listed.pipes:
        cut = sum(cut.length for piece in order.pieces for cut in piece.cuts)
        assert cut == pytest.approx(sum(run.wanted_m for run in order.runs))
        assert cut + order.left_m == pytest.approx(len(order.pieces) * order.length)


def test_codes_are_unique_and_groups_in_order() -> None:
    listed = materials_of(worked_plan())
    codes = [one.article.code for one in listed.items]
    assert len(set(codes)) == len(codes)
    places = [GROUPS.index(one.article.group) for one in listed.items]
    assert places == sorted(places)
    assert {"ram", "tank", "intake and chamber", "pipe", "valves"} <= {
        one.article.group for one in listed.items
    }


def test_a_line_whose_pipe_is_not_chosen_is_listed_by_its_bore() -> None:
    listed = materials_of(example_plan())
    pipe = item(listed, "pipe-26-6")
    assert "class not chosen" in pipe.article.words
    assert pipe.article.unit == "m"
    assert pipe.mass is None
    length = sum(line.profile.length for line in example_plan().lines)
    assert pipe.quantity == pytest.approx(1.05 * length)


def test_coils_are_shared_between_lines() -> None:
    # 33 m and 66 m, 5 % over: 34.65 + 69.3 = 103.95 m need two coils; of 110 m, one does for both.
    plan = hand_plan()
    delivery, tap = plan.lines
    one, other = (
        replace(line, runs=(replace(line.runs[0], end_m=end, piece=110.0),))
        for line, end in ((delivery, 33.0), (tap, 66.0))
    )
    listed = materials_of(replace(plan, lines=(one, other)))
    pipe = item(listed, "pipe-32-mm-iso-4427")
    assert pipe.quantity == 1.0
    assert "1 coil cut for several lines" in pipe.note


def test_a_line_that_is_laid_already_takes_nothing() -> None:
    plan = hand_plan()
    delivery, tap = plan.lines
    laid = replace(delivery, built=AsBuilt(None, (), (), ""))
    listed = materials_of(replace(plan, lines=(laid, tap)))
    places = {
        use.place for one in listed.items if one.article.kind != "measure" for use in one.uses
    }
    assert "delivery" not in places
    assert "distribution-trough" in places
    assert any("delivery is laid already" in note for note in listed.notes)


def test_vents_and_washouts_with_their_tees() -> None:
    plan = hand_plan()
    delivery, tap = plan.lines
    high = HighPoint(60, 60.0, 60.0, 100.0, 0.5, 0.3)
    low = LowPoint(90, 90.0, 90.0, 99.5, 0.5)
    air = LineAir(
        (), None, (PlacedVent(60, 60.0, Vent("standpipe", 6.5, by_hand=False)),), enough=True
    )
    vented = replace(delivery, high_points=(high,), low_points=(low,), air=air)
    listed = materials_of(replace(plan, lines=(vented, tap)))
    assert "6.5 m over the pipe" in item(listed, "standpipe").article.words
    assert item(listed, "washout-valve").quantity == 1.0
    assert item(listed, "tee-branch").quantity == 3.0  # vent, washout, drain at the ram
    assert item(listed, "valve-box").quantity == 1.0  # the washout's; a standpipe needs none
    forbidden = replace(vented, air=replace(air, vents=(PlacedVent(60, 60.0, None),)))
    bare = materials_of(replace(plan, lines=(forbidden, tap)))
    assert not any(one.article.code.startswith("standpipe") for one in bare.items)


def test_crossings_take_sleeves_and_posts_on_both_sides() -> None:
    plan = hand_plan()
    delivery, tap = plan.lines
    crossed = (Crossed("Farm track", 40, 40.0, 40.0), Crossed("", 70, 70.0, 70.0))
    listed = materials_of(replace(plan, lines=(replace(delivery, crossed=crossed), tap)))
    sleeve = item(listed, "crossing-sleeve")
    assert sleeve.quantity == 2.0
    assert [use.why for use in sleeve.uses] == ["Farm track", "stream"]
    assert item(listed, "marker-post").quantity == 4.0


def test_a_surface_line_has_props_and_anchors_and_no_trench() -> None:
    listed = materials_of(surface(hand_plan()))
    assert {row.line for row in listed.trench} == {"distribution-trough"}
    assert by_place(item(listed, "prop")) == {"delivery": 300.0}  # 300 m of PE, one each metre
    assert by_place(item(listed, "ground-anchor")) == {"delivery": 31.0}  # each 10 m and both ends


def test_deep_trench_is_shored_and_warned_of() -> None:
    plan = hand_plan()
    delivery, tap = plan.lines
    deep = replace(delivery, profile=replace(delivery.profile, ground=delivery.profile.pipe + 1.6))
    listed = materials_of(replace(plan, lines=(deep, tap)))
    assert any("sides held" in one.article.words for one in listed.items)
    assert any("can bury" in note for note in listed.notes)


def test_an_unknown_ground_is_told_and_not_counted() -> None:
    plan = hand_plan()
    delivery, tap = plan.lines
    ground = delivery.profile.ground.copy()
    ground[50:61] = math.nan
    holed = replace(delivery, profile=replace(delivery.profile, ground=ground))
    listed = materials_of(replace(plan, lines=(holed, tap)))
    assert any("not known along 12.0 m" in note for note in listed.notes)
    full = materials_of(plan)
    lost = item(full, "backfill").quantity - item(listed, "backfill").quantity
    assert lost == pytest.approx(12 * (0.5 * WIDTH - math.pi / 4 * PN10.outside**2))


def test_the_tank_and_its_stand() -> None:
    plan = hand_plan()
    site = replace(plan.site, tank=Tank(volume=2.0, base=1.2, stand=3.0))
    listed = materials_of(replace(plan, site=site))
    assert "2,000 L" in item(listed, "tank-2-000").article.words
    assert "3.0 m high" in item(listed, "tank-stand").article.words
    assert "volume not chosen" in item(materials_of(plan), "tank-volume").article.words


def surface(plan: Plan) -> Plan:
    """The plan with its delivery propped 0.2 m over the ground."""
    delivery, tap = plan.lines
    profile = replace(delivery.profile, ground=delivery.profile.pipe - 0.2)
    laying = replace(delivery.settings.laying, manner="surface", least_cover=-0.5)
    settings = replace(delivery.settings, laying=laying)
    return replace(plan, lines=(replace(delivery, profile=profile, settings=settings), tap))


def test_us_units_name_feet_and_inches() -> None:
    listed = materials_of(hand_plan("us"))
    words = " ".join(one.article.words for one in listed.items)
    assert "coil of 328.1 ft" in words
    assert "2.0 ft to 3.0 ft deep" in words
    for plan in (hand_plan("us"), surface(hand_plan("us")), worked_plan("us")):
        for one in materials_of(plan).items:
            told = f"{one.article.words} {reasons_text(one)}".replace("32 mm ISO", "ISO")
            assert not re.search(r"\d (m|mm|kg|L|m³|km)\b", told), told


def test_sizes_of_one_bore_and_two_materials_are_told_apart() -> None:
    plan = hand_plan()
    steel = next(pipe for pipe in catalogue() if pipe.material == "steel")
    runs = [
        replace(run_of(0.0, 60.0, pipe, piece=50.0), named=False, bore=0.0525)
        for pipe in (PN10, steel)
    ]
    lines = tuple(replace(line, runs=(run,)) for line, run in zip(plan.lines, runs, strict=True))
    listed = materials_of(replace(plan, lines=lines))
    assert by_place(item(listed, "coupling-52-5-mm-bore-pe")) == {"delivery": 1.0, "spare": 1.0}
    assert by_place(item(listed, "coupling-52-5-mm-bore-steel"))["spare"] == 1.0
    assert item(listed, "test-plug-threaded-52-5-mm-bore-pe").quantity == 2.0


def test_coil_is_the_hand_plan_s() -> None:
    listed = materials_of(hand_plan())
    assert all(order.length == COIL for order in listed.pipes)
