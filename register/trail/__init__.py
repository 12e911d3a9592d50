"""The audit trail: written once, chained by hash, read and verified by whoever answers for it."""
