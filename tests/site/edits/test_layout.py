import json

from hypothesis import given
from hypothesis import strategies as st

from planner.site.edits.layout import laid_out
from tests.site.edits.drafts import feature

MEMBERS = st.lists(
    st.builds(
        lambda name, lon: feature("Point", [lon, 47.3], name=name),
        st.text(st.characters(), max_size=8),
        st.floats(allow_nan=False, allow_infinity=False),
    ),
    max_size=4,
)


@given(MEMBERS)
def test_one_feature_a_line_and_nothing_lost(members):
    text = laid_out(members, {"type": "FeatureCollection", "name": "hollow"})
    assert json.loads(text) == {
        "type": "FeatureCollection",
        "name": "hollow",
        "features": members,
    }
    assert text.count("\n") == len(members) + 2
    assert json.loads(text.encode("utf-8")) == json.loads(text)
