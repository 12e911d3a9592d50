"""Results of long reckoning, kept with the day they were asked for and with marks of what they rest on."""
