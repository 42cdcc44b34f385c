"""What threads into what: adapters, nipples, unions, wall fittings, and what seals them."""

import math
from collections.abc import Iterable, Iterator

from planner.output.materials.gather import Need
from planner.output.materials.joints import clamps
from planner.output.materials.sizes import Fit, slug
from planner.output.materials.value import Article, Group

# Joints that one roll of thread tape, and one can of solvent cement with its primer, seals
# [trade guess]: a roll of 12 m takes some ten joints of 1 in; a can of a quarter litre some 25.
JOINTS_A_ROLL = 10
JOINTS_A_CAN = 25


def piece(group: Group, words: str, fit: Fit) -> Article:
    """A fitting or valve for a size of pipe."""
    return Article(slug(f"{words} {fit.words}"), group, "buy", f"{words}, {fit.words}", "piece")


def adapter(fit: Fit, place: str, why: str) -> Iterator[Need]:
    """From the pipe's end to a thread; steel is threaded already and takes a nipple."""
    if fit.threaded:
        yield nipple(fit, place, why)
        return
    article = piece("joints and bends", "Adapter, pipe to outside thread", fit)
    yield Need(article, place, 1, why, threads=1, glued=int(fit.glued))
    yield from clamps(fit, place, 1)


def nipple(fit: Fit, place: str, why: str) -> Need:
    """A short piece with a thread at both ends."""
    return Need(piece("joints and bends", "Nipple, threaded", fit), place, 1, why, threads=2)


def union(fit: Fit, place: str, at: str) -> Iterator[Need]:
    """A union at a structure, so that the pipe comes off without turning, with its adapter."""
    article = piece("joints and bends", "Union, threaded", fit)
    yield Need(article, place, 1, f"at {at}", threads=2)
    yield from adapter(fit, place, f"at the union, {at}")


def through_wall(fit: Fit, place: str, why: str) -> Need:
    """A fitting through the wall of a tank or chamber."""
    article = piece("joints and bends", "Wall fitting with nut and washers", fit)
    return Need(article, place, 1, why, threads=1)


def tee(fit: Fit, place: str, why: str) -> Iterator[Need]:
    """A tee in the line with a threaded branch."""
    article = piece("vents and washouts", "Tee, branch threaded", fit)
    ends = 2 * int(fit.threaded)
    yield Need(article, place, 1, why, threads=1 + ends, glued=2 * int(fit.glued))
    yield from clamps(fit, place, 2)


def sealing(needs: Iterable[Need]) -> Iterator[Need]:
    """Thread tape for all threaded joints, cement where pipe is glued."""
    found = tuple(needs)
    threads = math.ceil(sum(need.amount * need.threads for need in found))
    if threads:
        tape = Article("thread-tape", "joints and bends", "buy", "Thread sealing tape", "roll")
        rolls = math.ceil(threads / JOINTS_A_ROLL)
        yield Need(tape, "all lines", rolls, f"{threads} threaded joints")
    glued = math.ceil(sum(need.amount * need.glued for need in found))
    if glued:
        words = "Solvent cement with primer for PVC, ¼ L"
        can = Article("solvent-cement", "joints and bends", "buy", words, "can")
        yield Need(can, "all lines", math.ceil(glued / JOINTS_A_CAN), f"{glued} glued joints")
