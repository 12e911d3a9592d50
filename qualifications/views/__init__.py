"""Pages of people, certificates, events, weld log and dues."""
