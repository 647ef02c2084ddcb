"""Tables: many sessions as tidy tables, questions to them, and what earlier jobs teach."""
