"""What the doubt in the levels does to the yield of a gravity line."""

from dataclasses import replace

from planner.plan import make_plan
from planner.site.value import Source
from tests.chain.scene import LOW_TANK, SPRING, site, valley

PLENTY = Source(flow=2e-2, season="dry", share_left=0.0)


def test_a_doubt_larger_than_the_cover_tilts_the_pipe_and_does_not_bare_its_mouth():
    ground = valley()
    rough = replace(ground, provenance=replace(ground.provenance, standard_error=0.6))
    plan = make_plan(site(SPRING, LOW_TANK, source=PLENTY), rough)
    water = plan.water
    assert water.fall is not None
    assert water.delivered is not None
    half = water.fall.expected - water.fall.low
    cover = plan.point("spring").level - plan.line("main").profile.pipe[0]
    assert cover < half < water.fall.expected
    # Turbulent flow falls off slower than the slope, up to where the shallow pipe tilted so comes
    # near the hydraulic grade line; a bare mouth would give nothing.
    least = 0.85 * water.fall.low / water.fall.expected
    assert water.delivered.low >= least * water.delivered.expected
