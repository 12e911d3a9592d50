"""People lent from one plant of the firm to another, for some days."""
