"""Wording: an assessment in the user's language: names, figures, findings, facts, remarks. What skins and pages say."""
