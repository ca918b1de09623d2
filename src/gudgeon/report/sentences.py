"""Findings and headlines as a maker would say them, in the shop's units."""

from gudgeon.answers.finding import Finding, Gravity
from gudgeon.report.rows import Shop, spoken

SIGNS = {Gravity.WRONG: ("x", "wrong"), Gravity.WATCH: ("!", "watch"), Gravity.NOTE: ("-", "note")}
"""A sign and a word for how much a finding matters: nothing is told by colour alone."""


def said(finding: Finding, shop: Shop) -> str:
    """A finding's sentence with its numbers filled in."""
    shown = {name: spoken(value, measure, shop) for name, (value, measure) in finding.numbers.items()}
    sentence = finding.words.format(**shown)
    return sentence[0].upper() + sentence[1:]
