"""Wording: an assessment in the user's language. What every skin and page says: names, figures, findings, facts."""
