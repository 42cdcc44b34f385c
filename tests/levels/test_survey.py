"""Readings and elevation data adjusted together: weights, shifts, and what is refused."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import InputError
from planner.levels.ground import before, ground_of
from planner.levels.survey import survey
from planner.levels.value import Difference, Method, Readings, Row, Survey
from planner.terrain.frame import to_lonlat
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain
from tests.levels.levelling import CRS, PLACES, hillside, known, run_of, together

OFF = dict(zip(PLACES, (0.0, 0.35, -0.2, 0.4, 0.1), strict=True))


def data_at(terrain: Terrain) -> dict[str, float]:
    return {name: float(ground_at(terrain, x, y)) for name, (x, y) in PLACES.items()}


def truth(terrain: Terrain) -> dict[str, float]:
    """Levels that stand off the elevation data by some decimetres."""
    return {name: level + OFF[name] for name, level in data_at(terrain).items()}


def rise(found: Survey, upper: str, lower: str) -> tuple[float, float]:
    high, low = found.station(upper), found.station(lower)
    assert high is not None
    assert low is not None
    return found.difference(high, low)


def refused(readings: Readings, terrain: Terrain | None = None) -> str:
    with pytest.raises(InputError) as caught:
        survey(readings, hillside() if terrain is None else terrain, PLACES)
    message = caught.value.message
    assert message.isprintable()
    assert len(message) < 400
    return message


def test_a_level_beats_lidar() -> None:
    true = truth(hillside())
    found = survey(run_of(true), hillside(), PLACES)
    told, error = rise(found, "Spring", "Tank")
    assert told == pytest.approx(true["Spring"] - true["Tank"], abs=0.001)
    assert error == pytest.approx(0.004 * 2.0, rel=0.02)  # four set-ups
    assert [one.name for one in found.stations] == list(PLACES)
    assert found.spread_before == pytest.approx(np.std(list(OFF.values())), rel=0.2)


def test_a_barometer_alone_hardly_moves_lidar() -> None:
    data = data_at(hillside())
    read = run_of({"Spring": data["Spring"], "Tank": data["Tank"] + 3.0}, "barometer", 1.5)
    found = survey(read, hillside(), PLACES)
    moved = rise(found, "Tank", "Spring")[0] - (data["Tank"] - data["Spring"])
    assert 0.0 < moved < 0.25  # of 3 m: variances of about 2 x 0.3² to 1.5²
    assert np.isnan(found.spread_before)


def test_a_barometer_beats_a_global_model() -> None:
    coarse = hillside(kind="satellite", error=5.7, cell=30.0)
    data = data_at(coarse)
    places = {"Spring": PLACES["Spring"], "Tank": PLACES["Tank"]}
    read = run_of({"Spring": data["Spring"], "Tank": data["Tank"] + 6.0}, "barometer", 1.5)
    moved = rise(survey(read, coarse, places), "Tank", "Spring")[0]
    assert 1.0 < moved - (data["Tank"] - data["Spring"]) < 5.9


def test_two_kinds_count_by_their_errors() -> None:
    """What the level and the barometer say apart is the level's, to a millimetre in a metre."""
    true = truth(hillside())
    wrong = {name: level + (1.0 if name == "Tank" else 0.0) for name, level in true.items()}
    far = {name: wrong[name] for name in ("Spring", "Tank")}
    found = survey(together(run_of(true), run_of(far, "barometer", 1.5)), hillside(), PLACES)
    told = rise(found, "Tank", "Spring")[0]
    assert told == pytest.approx(true["Tank"] - true["Spring"], abs=0.002)
    tank = found.station("TANK")
    assert tank is not None
    assert tank.methods == ("level", "barometer")


def test_one_fall_is_the_weighted_mean_of_level_and_data() -> None:
    """Closed form of two stations: weights are the inverse variances of the two differences."""
    terrain, names = hillside(error=0.3), ("Spring", "Tank")
    data = data_at(terrain)
    xy = [PLACES[name] for name in names]
    prior = before(terrain, ground_of(terrain, xy, 500.0))
    own = prior[0, 0] + prior[1, 1] - 2.0 * prior[0, 1]
    read = {"Spring": data["Spring"], "Tank": data["Tank"] + 0.5}
    found = survey(run_of(read, "traverse", 0.2), terrain, PLACES)
    told, error = rise(found, "Tank", "Spring")
    share = own / (own + 0.2**2)
    assert told == pytest.approx(data["Tank"] - data["Spring"] + share * 0.5, abs=1e-9)
    assert error == pytest.approx(np.sqrt(own * 0.2**2 / (own + 0.2**2)), rel=1e-9)


@pytest.mark.parametrize("error", [0.0005, 0.004, 1.5])
@pytest.mark.parametrize("sigma", [0.3, 7.5])
def test_the_network_equals_generalized_least_squares(error: float, sigma: float) -> None:
    """The slow twin: all levels as one vector, its shift by GLS, its errors by their covariance."""
    terrain = hillside(error=sigma)
    true, data = truth(terrain), data_at(terrain)
    found = survey(run_of(true, error=error), terrain, PLACES)
    model = np.array(list(data.values()))
    chain = np.minimum.outer(np.arange(5), np.arange(5)) * error**2  # Brownian, from the first
    prior = before(terrain, ground_of(terrain, list(PLACES.values()), 500.0))
    inverse = np.linalg.inv(prior + chain)
    ones = np.ones(5)
    off = np.array(list(true.values())) + 71.3 - model
    shift = (ones @ inverse @ off) / (ones @ inverse @ ones)
    levels = model + prior @ inverse @ (off - shift)
    assert [one.level for one in found.stations] == pytest.approx(levels.tolist(), abs=1e-7)


def test_heights_thirty_metres_off_are_a_shift_taken_out() -> None:
    true = truth(hillside())
    high = {name: level + 30.12 for name, level in true.items()}
    found = survey(known(high), hillside(), PLACES)
    assert found.shift == pytest.approx(30.12, abs=0.35)
    told = rise(found, "Spring", "Tank")[0]
    assert told == pytest.approx(true["Spring"] - true["Tank"], abs=0.005)
    assert all(abs(one.level - one.model) < 0.6 for one in found.stations)


def test_differences_alone_have_no_shift() -> None:
    assert survey(run_of(truth(hillside())), hillside(), PLACES).shift == 0.0


def test_two_files_of_known_points_have_each_a_shift() -> None:
    true = truth(hillside())
    some = known({name: true[name] + 5.0 for name in ("Spring", "De 01", "De 02")})
    others = known({name: true[name] - 7.0 for name in ("De 03", "Tank")}, file="other.csv")
    found = survey(together(others, some), hillside(), PLACES)
    assert found.shift == pytest.approx(5.0, abs=0.4)
    assert any(
        note.startswith("other.csv") and "below the elevation data" in note for note in found.notes
    )


def test_a_known_point_alone_tells_nothing_and_says_so() -> None:
    found = survey(known({"Tank": 812.0}), hillside(), PLACES)
    (tank,) = found.stations
    assert tank.level == pytest.approx(tank.model)
    assert tank.error > 0.29
    assert any("Tank: no other place was levelled with it" in note for note in found.notes)


def test_no_readings_leave_the_ground_alone() -> None:
    found = survey(Readings(), hillside(), PLACES)
    assert found.stations == ()
    assert any("no levels were read" in note for note in found.notes)


@pytest.mark.parametrize(
    ("times", "words"), [(3.2808, "feet read as metres"), (0.3048, "metres read as feet")]
)
def test_feet_read_as_metres_are_known_by_the_ratio(times: float, words: str) -> None:
    read = {name: times * level for name, level in truth(hillside()).items()}
    message = refused(run_of(read))
    assert words in message
    assert message.startswith("level.csv")
    assert f'unit = "{"ft" if times > 1 else "m"}"' in message


def test_flat_ground_does_not_tell_feet_from_metres() -> None:
    flat = hillside(relief=0.05)
    read = {name: 3.2808 * level for name, level in data_at(flat).items()}
    assert len(survey(run_of(read), flat, PLACES).stations) == 5


def test_only_the_file_in_feet_is_named() -> None:
    true = truth(hillside())
    names = list(true)
    metres = run_of({name: true[name] for name in names[:3]})
    feet = run_of({name: 3.2808 * true[name] for name in names[2:]}, "hose", file="by-hose.csv")
    assert refused(together(metres, feet)).startswith("by-hose.csv")


def test_two_readings_that_contradict_each_other_are_both_named() -> None:
    true = truth(hillside())
    again = Difference(
        "De 01", "De 02", true["De 02"] - true["De 01"] + 0.4, 0.004, "hose", Row("hose.csv", 7)
    )
    message = refused(together(run_of(true), Readings((again,))))
    assert "hose.csv line 7" in message
    assert "level.csv line 3" in message
    assert "0.40 m" in message


def test_messages_are_in_the_units_of_the_site() -> None:
    read = {**truth(hillside())}
    read["De 02"] += 20.0
    with pytest.raises(InputError, match=r"De 02 stands 6\d\.\d ft above"):
        survey(run_of(read), hillside(), PLACES, units="us")


def test_a_small_contradiction_is_a_note_and_widens_the_errors() -> None:
    true = truth(hillside())
    again = Difference(
        "De 01", "De 02", true["De 02"] - true["De 01"] + 0.03, 0.004, "hose", Row("hose.csv", 7)
    )
    found = survey(together(run_of(true), Readings((again,))), hillside(), PLACES)
    assert any("hose.csv line 7" in note and "level.csv line 3" in note for note in found.notes)
    assert any("scatter 5.3 times" in note for note in found.notes)
    assert rise(found, "Spring", "De 01")[1] == pytest.approx(0.004 * 5.3, rel=0.05)


def test_a_station_far_off_the_data_is_named_with_its_rows() -> None:
    read = {**truth(hillside())}
    read["De 02"] += 20.0
    message = refused(run_of(read))
    assert "De 02 stands 19.5 m above" in message  # 20 m, less what it and the others are off
    assert "level.csv line 3, level.csv line 4" in message


def test_a_step_between_stations_is_the_reading_between() -> None:
    read = {
        name: level + (25.0 if name in ("De 03", "Tank") else 0.0)
        for name, level in truth(hillside()).items()
    }
    message = refused(run_of(read))
    assert message.startswith("level.csv line 4: the rise from De 02 to De 03")


def test_trees_in_the_data_are_no_error_of_the_levels() -> None:
    trees = hillside()
    trees = replace(trees, provenance=replace(trees.provenance, surface_model=True))
    read = {**truth(trees)}
    read["De 02"] -= 20.0
    assert rise(survey(run_of(read), trees, PLACES), "De 01", "De 02")[0] == pytest.approx(
        read["De 01"] - read["De 02"], abs=0.05
    )


def test_a_station_without_a_place_is_named() -> None:
    true = truth(hillside())
    read = run_of({**true, "Dee 07": 480.0})
    assert refused(read).startswith('level.csv line 6: it is not known where "Dee 07" stands')


def test_change_points_need_no_place_and_are_told() -> None:
    true = truth(hillside())
    through = {"BM": 505.0, "Spring": true["Spring"], "TP 1": 501.0, "Tank": true["Tank"]}
    found = survey(run_of(through), hillside(), PLACES)
    assert [one.name for one in found.stations] == ["Spring", "Tank"]
    assert rise(found, "Spring", "Tank")[1] == pytest.approx(0.004 * np.sqrt(2.0), rel=0.01)
    assert any(note.startswith("BM, TP 1: no place is known") for note in found.notes)


def test_marks_of_the_list_that_nobody_used_are_told() -> None:
    true = truth(hillside())
    read = together(run_of(true), known({"Tank": 612.0, "Church": 655.1}))
    found = survey(read, hillside(), PLACES)
    assert found.station("Church") is None
    assert any(note.startswith("Church: no place is known") for note in found.notes)


def test_a_stake_and_a_point_at_one_place_are_led_together() -> None:
    """Each has its staff; a centimetre between them is the ground's."""
    true = truth(hillside())
    places = {**PLACES, "De 00": PLACES["Spring"]}
    read = run_of({"De 00": true["Spring"] + 0.01, **true})
    found = survey(read, hillside(), places)
    assert rise(found, "De 00", "Spring")[0] == pytest.approx(0.01, abs=0.004)
    assert rise(found, "Spring", "Tank")[0] == pytest.approx(
        true["Spring"] - true["Tank"], abs=0.002
    )


def test_nothing_with_a_place_is_refused() -> None:
    there = run_of({"A": 1.0, "B": 2.0, "C": 2.5})
    back = Difference("C", "A", -1.5, 0.004, "level", Row("level.csv", 4))
    message = refused(together(there, Readings((back,))))
    assert message.startswith('level.csv line 2: it is not known where "A" stands')


def test_places_of_the_readings_are_taken_and_checked() -> None:
    terrain = hillside()
    lon, lat = to_lonlat(terrain, [(60.0, -90.0)])[0]
    read = together(run_of({"Spring": 500.0, "Gate": 494.0}), Readings(places={"Gate": (lon, lat)}))
    gate = survey(read, terrain, PLACES).station("gate")
    assert gate is not None
    assert gate.xy == pytest.approx((60.0, -90.0), abs=1e-3)
    moved = together(
        run_of({"Spring": 500.0, "Tank": 487.0}), Readings(places={"Tank": (lon, lat)})
    )
    assert '"Tank" is read 65 m from where the sketch' in refused(moved)


def test_points_five_kilometres_away_are_refused() -> None:
    lon, lat = to_lonlat(hillside(), [(5120.0, -66.0)])[0]
    read = together(run_of({"Spring": 500.0, "Gate": 494.0}), Readings(places={"Gate": (lon, lat)}))
    assert 'level.csv line 2: "Gate" stands 4,970 m outside the elevation data' in refused(read)
    wide = Terrain.from_array(np.zeros((40, 400)), 20.0, crs=CRS)
    assert (
        'level.csv line 2: "Gate" stands 5,000 m from the nearest point of the sketch'
        in refused(read, wide)
    )


def test_a_station_in_a_hole_of_the_data_is_told() -> None:
    whole = hillside()
    z = np.array(whole.z)
    z[45:56, 65:75] = np.nan
    found = survey(run_of(truth(whole)), replace(whole, z=z), PLACES)
    assert found.station("De 02") is None
    assert any(note.startswith("De 02: the elevation data has a hole") for note in found.notes)
    assert len(found.stations) == 4


def test_a_name_may_hold_markup() -> None:
    message = refused(run_of({**truth(hillside()), "<b>\x07x</b>": 480.0}))
    assert '"<b> x</b>"' in message


def some_readings(rng: np.random.Generator) -> Readings:
    """A book, a hose and a barometer on the same stakes, each with its errors."""
    true, names = truth(hillside()), list(PLACES)
    read: list[Difference] = []
    kinds: dict[Method, float] = {"level": 0.004, "hose": 0.0035, "barometer": 1.5}
    for method, error in kinds.items():
        for number in range(4):
            start, end = names[number], names[number + 1]
            far = true[end] - true[start] + rng.normal(0.0, error)
            read.append(Difference(start, end, far, error, method, Row("r.csv", len(read) + 2)))
    return together(Readings(tuple(read)), known({"Tank": true["Tank"] + 12.0}))


@settings(max_examples=40)
@given(st.integers(0, 100))
def test_the_order_of_readings_does_not_matter(seed: int) -> None:
    rng = np.random.default_rng(seed)
    read = some_readings(rng)
    mixed = replace(
        read, differences=tuple(read.differences[i] for i in rng.permutation(len(read.differences)))
    )
    one, other = (survey(own, hillside(), PLACES) for own in (read, mixed))
    for station in one.stations:
        same = other.station(station.name)
        assert same is not None
        assert same.level == pytest.approx(station.level, abs=1e-7)
        assert same.error == pytest.approx(station.error, abs=1e-7)
    assert other.shift == pytest.approx(one.shift, abs=1e-7)


@settings(max_examples=40)
@given(st.integers(0, 100))
def test_the_covariance_can_be(seed: int) -> None:
    found = survey(some_readings(np.random.default_rng(seed)), hillside(), PLACES)
    assert np.allclose(found.covariance, found.covariance.T, atol=1e-15)
    assert np.linalg.eigvalsh(found.covariance).min() > -1e-12
    assert not found.covariance.flags.writeable


def test_left_out_stations_are_predicted_as_by_leaving_them_out() -> None:
    """Against the plain way: adjust without the elevation data at one station, and look there."""
    terrain = hillside()
    true, data = truth(terrain), data_at(terrain)
    found = survey(run_of(true), terrain, PLACES)
    prior = before(terrain, ground_of(terrain, list(PLACES.values()), 500.0))
    chain = np.minimum.outer(np.arange(5), np.arange(5)) * 0.004**2
    off = np.array([true[name] - data[name] for name in PLACES])
    missed = []
    for out in range(5):
        kept = [number for number in range(5) if number != out]
        both = (prior + chain)[np.ix_(kept, kept)]
        ones = np.ones(4)
        inverse = np.linalg.inv(both)
        shift = (ones @ inverse @ off[kept]) / (ones @ inverse @ ones)
        cross = (prior + chain)[out, kept]
        missed.append(off[out] - shift - cross @ inverse @ (off[kept] - shift))
    assert found.spread_after == pytest.approx(np.sqrt(np.mean(np.square(missed))), rel=1e-6)
