import pytest

from planner.errors import InputError
from planner.levels.stakes_file import read_stakes
from planner.output.stakes.csvfile import write_stakes_csv
from planner.output.stakes.make import stakes_of
from planner.site.line_file import read_line
from tests.example import example_plan
from tests.levels.written import write

# The columns of a plan's stakes.csv, and one that someone added in the field.
HEAD = (
    "name,line,number,reasons,remark,chainage_m,run_m,lon,lat,x_m,y_m,ground_m,pipe_m,depth_m,"
    "back_m,bearing,rise_m,ground_rise_m,grade_after,findings,mine\n"
)


def stake(name, line, number, lon, lat):
    return f"{name},{line},{number},start,,0,0,{lon},{lat}" + "," * 12 + "\n"


def test_stakes_by_name(tmp_path):
    text = HEAD + stake("De 02", "delivery", 2, 11.2, 46.6) + stake("De 01", "delivery", 1, 11, 46)
    text += stake("De 10", "delivery", 10, 11.4, 46.7) + stake("Dr 01", "drive", 1, 11, 46)
    assert read_stakes(write(tmp_path, text, "stakes.csv")) == {
        "De 02": (11.2, 46.6),
        "De 01": (11.0, 46.0),
        "De 10": (11.4, 46.7),
        "Dr 01": (11.0, 46.0),
    }


def test_the_stakes_of_a_plan_come_back(tmp_path):
    plan = example_plan()
    staked = stakes_of(plan)
    write_stakes_csv(plan, staked, tmp_path / "stakes.csv")
    stakes = read_stakes(tmp_path / "stakes.csv")
    assert len(stakes) == sum(len(one.stakes) for one in staked)
    for one in staked:
        along = list(read_line(tmp_path / "stakes.csv", one.line.name).coords)
        assert along == [stakes[stake.name] for stake in one.stakes]
        for stake in one.stakes:
            assert stakes[stake.name] == pytest.approx(stake.lonlat, abs=1e-8)


def test_a_list_of_four_columns_from_a_spreadsheet(tmp_path):
    text = "Lat;Lon;Line;Name\n46,6;11,2;a;A 1\n46,7;11,3;a;A 2\n46,7;11,3;a;A 3\n"
    path = write(tmp_path, text, "stakes.csv")
    assert read_stakes(path)["A 2"] == (11.3, 46.7)
    assert list(read_line(path, "a").coords) == [(11.2, 46.6), (11.3, 46.7)]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("name,line,lon\na,b,1\n", ("needs name, lon, lat", "lat is missing")),
        ("name,line,lon,lat\n", ("holds no stakes",)),
        ("name,line,lon,lat\n,b,1,2\n", ("line 2, column name", "empty")),
        ("name,line,lon,lat\na,b,1,x\n", ("line 2, column lat", '"x"')),
        ("name,line,lon,lat\na,b,1,nan\n", ("line 2, column lat", '"nan"')),
        ("name,line,lon,lat\na,b,1,91\n", ("line 2", "no place on the Earth")),
        ("name,line,lon,lat\na,b,1,2\nA,b,1,3\n", ("line 3", '"A" is at stakes.csv line 2')),
    ],
)
def test_what_is_no_stake_list_is_refused(tmp_path, text, words):
    with pytest.raises(InputError) as caught:
        read_stakes(write(tmp_path, text, "stakes.csv"))
    for word in words:
        assert word in caught.value.message
